// Gives back which candidates go together: sets of candidates, narrowed by what the tables allow, and
// searched in order.
//
// A set of candidates of all decisions is one whole number (BigInt) with a bit per candidate. What one table
// says over all states is a voice; what the voices leave of a wanted verdict is a network. Narrowing takes
// away every candidate that a table leaves without a partner, again and again, until nothing more falls away.
//
// A layout is {bits, masks}: `bits[decision][place]` is a candidate's bit, `masks[decision]` all bits of a
// decision. A voice is {table, decisions, heads, best, worst}: `heads` are the combinations of all its
// decisions but the last; `best[rank][i]` the candidates of the last that reach at least the rank with
// heads[i], by the upper bound, and `worst[rank][i]` by the lower one. A network is {start, groups}:
// candidates to start from, and per set of decisions that share tables {scope, rows}, its bits and what is
// allowed. A row is [head, tails]: candidates that must all be chosen, and those that one of may go with
// them. Twin of generator/evaluate/joint.py.

import { SUITABLE, everyCombination } from "./tables.js";

// A bit for every candidate.
export function layOut(sizes) {
  const bits = [];
  let at = 0n;
  for (const size of sizes) {
    bits.push(Array.from({ length: size }, (_, place) => 1n << (at + BigInt(place))));
    at += BigInt(size);
  }
  return { bits, masks: bits.map((row) => sum(row)) };
}

// One voice per table that applies in any state, in pack order.
export function hear(layout, readings) {
  const told = new Map();
  for (const { decisions, found } of readings.values()) {
    for (const { table, outcomes } of found) {
      if (!told.has(table)) told.set(table, { decisions, known: [] });
      const { known } = told.get(table);
      if (known.length === 0 || known[known.length - 1] !== outcomes) { // many say the same in every state
        known.push(outcomes);
      }
    }
  }
  return [...told].sort(([a], [b]) => a - b)
    .map(([table, { decisions, known }]) => voiceOf(layout, table, decisions, known));
}

// What reaches both bounds of `floor` by every voice. Of a decision with a bit in `pinned` only that is left.
export function network(layout, voices, floor, pinned) {
  let start = 0n;
  for (const mask of layout.masks) start |= (mask & pinned) || mask;
  const shared = new Map();
  for (const voice of voices) {
    const tails = voice.best[floor.best].map((best, i) => best & voice.worst[floor.worst][i]);
    const last = layout.masks[voice.decisions[voice.decisions.length - 1]];
    if (voice.decisions.length === 1) {
      start &= tails[0] | ~last;
    } else if (tails.some((tail) => tail !== last)) {
      const key = voice.decisions.join(" ");
      const before = shared.get(key);
      const merged = before === undefined ? tails : tails.map((tail, i) => before.tails[i] & tail);
      shared.set(key, { decisions: voice.decisions, heads: voice.heads, tails: merged });
    }
  }
  return {
    start, groups: [...shared.values()].map(({ decisions, heads, tails }) => ({
      scope: sum(decisions.map((place) => layout.masks[place])),
      rows: heads.map((head, i) => [head, tails[i]]).filter(([, tail]) => tail !== 0n),
    })),
  };
}

// What keeps the upper (or the lower) bound of a selection from rising above the floor: it has to hold one of
// these.
export function standingAt(voices, floor, upper) {
  const found = [];
  for (const voice of voices) {
    const above = upper ? voice.best[floor.best + 1] : voice.worst[floor.worst + 1];
    voice.heads.forEach((head, i) => {
      const tails = voice.best[floor.best][i] & voice.worst[floor.worst][i] & ~above[i];
      if (tails !== 0n) found.push([head, tails]);
    });
  }
  return found;
}

// What is left when every candidate without a partner is gone; 0n when a decision is left with none. Only
// groups that share a decision with `changed` are looked at first.
export function narrow(groups, left, changed) {
  while (changed !== 0n) {
    const now = changed;
    changed = 0n;
    for (const { scope, rows } of groups) {
      if ((scope & (now | changed)) === 0n) continue;
      let seen = 0n;
      for (const [head, tails] of rows) {
        if ((left & head) === head && (left & tails) !== 0n) seen |= head | (left & tails);
      }
      if (seen === 0n) return 0n;
      const kept = left & (seen | ~scope);
      changed |= left ^ kept;
      left = kept;
    }
  }
  return left;
}

// What is left of the start; 0n when a decision is left with no candidate.
export function narrowed(layout, net) {
  if (layout.masks.some((mask) => (net.start & mask) === 0n)) return 0n;
  return narrow(net.groups, net.start, net.start);
}

// The first `most` selections, decision by decision in the order of `orders`, that hold one of each rows of
// `exact`.
export function search(layout, net, orders, exact, most) {
  const found = [];
  const left = narrowed(layout, net);
  if (left !== 0n && most > 0 && holds(exact, left)) {
    searchFrom(layout, net, orders, exact, most, found, left, 0);
  }
  return found;
}

// Every candidate that belongs to some selection.
export function members(layout, net) {
  const left = narrowed(layout, net);
  let found = 0n;
  for (const row of layout.bits) {
    const mask = sum(row);
    for (const bit of row) {
      if ((left & bit & ~found) === 0n) continue;
      const orders = layout.bits.map((bits) => [
        ...bits.filter((one) => (found & one) === 0n), ...bits.filter((one) => (found & one) !== 0n)]);
      const start = narrow(net.groups, (left & ~mask) | bit, left & mask & ~bit);
      const fixed = { start, groups: net.groups };
      found |= search(layout, fixed, orders, [], 1)[0] ?? 0n;
    }
  }
  return found;
}

// The places of the candidates chosen for these decisions.
export function placesOf(layout, decisions, chosen) {
  return decisions.map((decision) => layout.bits[decision].findIndex((bit) => (chosen & bit) !== 0n));
}

// private

function sum(bits) {
  return bits.reduce((all, bit) => all | bit, 0n);
}

function voiceOf(layout, table, decisions, told) {
  const first = decisions.slice(0, -1);
  const last = decisions[decisions.length - 1];
  const heads = everyCombination(first.map((place) => layout.bits[place])).map(sum);
  const ranks = Array.from({ length: SUITABLE + 1 }, (_, rank) => rank);
  const best = ranks.map(() => heads.map(() => layout.masks[last]));
  const worst = ranks.map(() => heads.map(() => layout.masks[last]));
  for (const outcomes of told) {
    for (const [combination, { bounds }] of outcomes) {
      if (bounds.worst === SUITABLE) continue;
      const places = combination.split(" ").map(Number);
      const at = first.reduce((index, decision, i) => index * layout.bits[decision].length + places[i], 0);
      const rest = ~layout.bits[last][places[places.length - 1]];
      for (let rank = bounds.worst + 1; rank <= SUITABLE; rank += 1) worst[rank][at] &= rest;
      for (let rank = bounds.best + 1; rank <= SUITABLE; rank += 1) best[rank][at] &= rest;
    }
  }
  return { table, decisions, heads, best, worst };
}

function holds(exact, left) {
  return exact.every((rows) => rows.some(([head, tails]) => (left & head) === head && (left & tails) !== 0n));
}

function searchFrom(layout, net, orders, exact, most, found, left, decision) {
  if (decision === orders.length) {
    found.push(left);
    return;
  }
  for (const bit of orders[decision]) {
    if ((left & bit) === 0n) continue;
    const gone = left & layout.masks[decision] & ~bit;
    const kept = narrow(net.groups, left & ~gone, gone);
    if (kept !== 0n && holds(exact, kept)) {
      searchFrom(layout, net, orders, exact, most, found, kept, decision + 1);
      if (found.length === most) return;
    }
  }
}
