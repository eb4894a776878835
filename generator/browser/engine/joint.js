// Gives back which candidates go together: sets of candidates, narrowed by what the tables allow, and
// searched in order.
//
// A set of candidates of all decisions is a list of words with a bit per candidate (bits.js). What one table
// says over all states, or all tables of the same decisions, is a voice; what the voices leave of a wanted
// verdict is a network. Narrowing takes away every candidate that a table leaves without a partner, again and
// again, until nothing more falls away; null stands for nothing left.
//
// A layout is {words, bits, masks}: `bits[decision][place]` is a candidate's bit, `masks[decision]` all bits of
// a decision, `words` how many words a set has. A voice is {table, decisions, heads, best, worst}, of one table
// or (`table` is EVERY) of all tables of its decisions: `heads` are the combinations of all its decisions but
// the last; `best[rank][i]` the candidates of the last that reach at least the rank with heads[i], by the upper
// bound, and `worst[rank][i]` by the lower one. A network is {start, groups}: candidates to start from, and per
// set of decisions that share tables {scope, rows}, its bits and what is allowed. A row is [head, tails]:
// candidates that must all be chosen, and those that one of may go with them. Twin of
// generator/evaluate/joint.py.

import { both, holds, isEmpty, isSame, meets, none, single, union, without } from "./bits.js";
import { SUITABLE, everyCombination } from "./tables.js";

export const EVERY = -1; // stands for a table: a voice is that of all tables of its decisions

// A bit for every candidate.
export function layOut(sizes) {
  const words = Math.ceil(sizes.reduce((all, size) => all + size, 0) / 32);
  let at = 0;
  const bits = sizes.map((size) => Array.from({ length: size }, () => single(at++, words)));
  return { words, bits, masks: bits.map((row) => union(row, words)) };
}

// One voice per table that takes anything away in some state, in pack order.
export function hear(layout, readings) {
  const told = new Map();
  let before = null;
  for (const { decisions, found } of readings.values()) {
    for (const { table, outcomes } of found) {
      if (outcomes === before) continue; // many say the same in every state
      before = outcomes;
      for (const [combination, { bounds }] of outcomes) {
        if (bounds.worst === SUITABLE) continue;
        if (!told.has(table)) told.set(table, { decisions, less: [] });
        told.get(table).less.push([combination, bounds]);
      }
    }
  }
  return [...told].sort(([a], [b]) => a - b)
    .map(([table, { decisions, less }]) => voiceOf(layout, table, decisions, less));
}

// One voice per set of decisions that tables name: `own` are the bounds of each candidate by the tables of its
// decision, `groups` those of combinations by shared ones.
export function hearAll(layout, own, groups) {
  const alone = own.map((row, decision) =>
    voiceOf(layout, EVERY, [decision], row.map((bounds, place) => [String(place), bounds])));
  return [...alone, ...groups.map(({ decisions, combinations }) => voiceOf(layout, EVERY, decisions, combinations))];
}

// The voices of the same decisions as one, that of the worst of them.
export function join(voices) {
  const joined = new Map();
  for (const voice of voices) {
    const key = voice.decisions.join(" ");
    const known = joined.get(key);
    joined.set(key, known === undefined ? voice : {
      table: EVERY, decisions: voice.decisions, heads: voice.heads,
      best: met(known.best, voice.best), worst: met(known.worst, voice.worst),
    });
  }
  return [...joined.values()];
}

// What reaches both bounds of `floor` by every voice. Of a decision with a bit in `pinned` only that is left.
export function network(layout, voices, floor, pinned) {
  let start = union(layout.masks.map((mask) => (meets(mask, pinned) ? both(mask, pinned) : mask)), layout.words);
  const shared = new Map();
  for (const { decisions, heads, best, worst } of voices) {
    const tails = best[floor.best].map((tail, i) => both(tail, worst[floor.worst][i]));
    const last = layout.masks[decisions[decisions.length - 1]];
    if (decisions.length === 1) {
      start = without(start, without(last, tails[0]));
    } else if (tails.some((tail) => !isSame(tail, last))) {
      const key = decisions.join(" ");
      const before = shared.get(key);
      const merged = before === undefined ? tails : tails.map((tail, i) => both(before.tails[i], tail));
      shared.set(key, { decisions, heads, tails: merged });
    }
  }
  return {
    start, groups: [...shared.values()].map(({ decisions, heads, tails }) => ({
      scope: union(decisions.map((place) => layout.masks[place]), layout.words),
      rows: heads.map((head, i) => [head, tails[i]]).filter(([, tail]) => !isEmpty(tail)),
    })),
  };
}

// The network with one candidate pinned.
export function keeping(layout, net, bit) {
  const mask = layout.masks.find((one) => meets(one, bit));
  return { start: without(net.start, without(mask, bit)), groups: net.groups };
}

// The network with what reaches the rank by this voice, whatever the answers come to.
export function sparing(layout, net, { decisions, heads, best, worst }, rank) {
  const tails = best[rank].map((tail, i) => both(tail, worst[rank][i]));
  if (decisions.length === 1) {
    return { start: without(net.start, without(layout.masks[decisions[0]], tails[0])), groups: net.groups };
  }
  const scope = union(decisions.map((place) => layout.masks[place]), layout.words);
  const rows = heads.map((head, i) => [head, tails[i]]).filter(([, tail]) => !isEmpty(tail));
  return { start: net.start, groups: [...net.groups, { scope, rows }] };
}

// What keeps the upper (or the lower) bound of a selection from rising above the floor: it has to hold one of
// these.
export function standingAt(voices, floor, upper) {
  const found = [];
  for (const voice of voices) {
    const above = upper ? voice.best[floor.best + 1] : voice.worst[floor.worst + 1];
    voice.heads.forEach((head, i) => {
      const tails = without(both(voice.best[floor.best][i], voice.worst[floor.worst][i]), above[i]);
      if (!isEmpty(tails)) found.push([head, tails]);
    });
  }
  return found;
}

// What is left when every candidate without a partner is gone; null when a decision is left with none. Only
// groups that share a decision with `changed` are looked at first.
export function narrow(groups, left, changed) {
  const words = left.length;
  const kept = [...left];
  while (!isEmpty(changed)) {
    const now = changed;
    changed = none(words);
    for (const { scope, rows } of groups) {
      if (!meets(scope, now) && !meets(scope, changed)) continue;
      const seen = none(words);
      for (const [head, tails] of rows) {
        if (holds(kept, head) && meets(kept, tails)) {
          for (let i = 0; i < words; i += 1) seen[i] |= head[i] | (kept[i] & tails[i]);
        }
      }
      if (isEmpty(seen)) return null;
      for (let i = 0; i < words; i += 1) {
        const gone = kept[i] & scope[i] & ~seen[i];
        changed[i] |= gone;
        kept[i] &= ~gone;
      }
    }
  }
  return kept;
}

// What is left of the start; null when a decision is left with no candidate.
export function narrowed(layout, net) {
  if (layout.masks.some((mask) => !meets(net.start, mask))) return null;
  return narrow(net.groups, net.start, net.start);
}

// The first `most` selections, decision by decision in the order of `orders`, that hold one of each rows of
// `exact`.
export function search(layout, net, orders, exact, most) {
  const found = [];
  const left = narrowed(layout, net);
  if (left !== null && most > 0 && holdsEach(exact, left)) {
    searchFrom(layout, net, orders, exact, most, found, left, 0);
  }
  return found;
}

// Every candidate that belongs to some selection; `known` are some of those.
export function members(layout, net, known) {
  const left = narrowed(layout, net);
  let found = known;
  if (left === null) return found;
  layout.bits.forEach((row, decision) => {
    const mask = layout.masks[decision];
    for (const bit of row) {
      if (!meets(left, bit) || meets(found, bit)) continue;
      const gone = without(both(left, mask), bit);
      const start = narrow(net.groups, without(left, gone), gone);
      if (start === null) continue;
      const orders = layout.bits.map((bits) => [
        ...bits.filter((one) => !meets(found, one)), ...bits.filter((one) => meets(found, one))]);
      const [first] = search(layout, { start, groups: net.groups }, orders, [], 1);
      if (first !== undefined) found = union([found, first], layout.words);
    }
  });
  return found;
}

// The places of the candidates chosen for these decisions.
export function placesOf(layout, decisions, chosen) {
  return decisions.map((decision) => layout.bits[decision].findIndex((bit) => meets(chosen, bit)));
}

// private

function voiceOf(layout, table, decisions, told) {
  const first = decisions.slice(0, -1);
  const last = decisions[decisions.length - 1];
  const heads = everyCombination(first.map((place) => layout.bits[place])).map((bits) => union(bits, layout.words));
  const ranks = Array.from({ length: SUITABLE + 1 }, (_, rank) => rank);
  const best = ranks.map(() => heads.map(() => [...layout.masks[last]]));
  const worst = ranks.map(() => heads.map(() => [...layout.masks[last]]));
  for (const [combination, bounds] of told) {
    if (bounds.worst === SUITABLE) continue;
    const places = combination.split(" ").map(Number);
    const at = first.reduce((index, decision, i) => index * layout.bits[decision].length + places[i], 0);
    const bit = layout.bits[last][places[places.length - 1]];
    for (let rank = bounds.worst + 1; rank <= SUITABLE; rank += 1) takeAway(worst[rank][at], bit);
    for (let rank = bounds.best + 1; rank <= SUITABLE; rank += 1) takeAway(best[rank][at], bit);
  }
  return { table, decisions, heads, best, worst };
}

function takeAway(set, bit) {
  for (let i = 0; i < set.length; i += 1) set[i] &= ~bit[i];
}

function met(one, other) {
  return one.map((row, rank) => row.map((tails, i) => both(tails, other[rank][i])));
}

function holdsEach(exact, left) {
  return exact.every((rows) => rows.some(([head, tails]) => holds(left, head) && meets(left, tails)));
}

function searchFrom(layout, net, orders, exact, most, found, left, decision) {
  if (decision === orders.length) {
    found.push(left);
    return;
  }
  for (const bit of orders[decision]) {
    if (!meets(left, bit)) continue;
    const gone = without(both(left, layout.masks[decision]), bit);
    const kept = narrow(net.groups, without(left, gone), gone);
    if (kept !== null && holdsEach(exact, kept)) {
      searchFrom(layout, net, orders, exact, most, found, kept, decision + 1);
      if (found.length === most) return;
    }
  }
}
