// Gives back why no selection is better: the tables that rule all of them out together, none of which can be
// spared.
//
// A conflict is {left, tables, reasons} as in generator/evaluate/results.py. Twin of
// generator/evaluate/conflict.py.

import { holds, isSame, meets, union } from "./bits.js";
import { hear, narrowed, network, placesOf, search } from "./joint.js";
import { VERDICTS } from "./model.js";
import { ordered, takingAway } from "./reasons.js";
import { OPEN } from "./tables.js";

// Why every selection is open at best, or unsuitable; null where one can be bought as far as is known. `joined`
// are the voices of all tables, one per set of decisions.
export function findConflict(pack, layout, joined, readings, states, pinned) {
  for (let left = 0; left <= OPEN; left += 1) {
    const floor = { worst: 0, best: left + 1 };
    if (!isReached(layout, joined, floor, pinned)) {
      const tables = leastTables(layout, hear(layout, readings), floor, pinned);
      return {
        left: VERDICTS[left], tables: tables.map((voice) => pack.tables[voice.table].id),
        reasons: ordered(rulesAgainst(pack, layout, tables, readings, states, floor, pinned)),
      };
    }
  }
  return null;
}

// Whether some selection reaches both bounds by all of these voices.
export function isReached(layout, voices, floor, pinned) {
  return search(layout, network(layout, voices, floor, pinned), layout.bits, [], 1).length > 0;
}

// Those voices left when one after the other is dropped, in pack order, wherever `floor` stays out of reach.
export function leastTables(layout, voices, floor, pinned) {
  let rest = voices.filter((voice) => [...voice.best[floor.best], ...voice.worst[floor.worst]]
    .some((tails) => !isSame(tails, layout.masks[voice.decisions[voice.decisions.length - 1]])));
  const kept = [];
  while (kept.length === 0 || isReached(layout, kept, floor, pinned)) {
    // The more of them are dropped the more is in reach: the first that cannot be is found by halving.
    let at = 0;
    for (let end = rest.length; at < end;) {
      const middle = (at + end) >> 1;
      if (isReached(layout, [...kept, ...rest.slice(middle + 1)], floor, pinned)) end = middle;
      else at = middle + 1;
    }
    kept.push(rest[at]);
    rest = rest.slice(at + 1);
  }
  return kept;
}

// The rules of a conflict, table by table, that take away what the tables before leave; each once, in the
// first state that has it.
export function rulesAgainst(pack, layout, tables, readings, states, floor, pinned) {
  const found = [];
  for (const [at, voice] of tables.entries()) {
    const left = narrowed(layout, network(layout, tables.slice(0, at), floor, pinned));
    const combinations = takenAway(layout, voice, floor, left);
    const told = new Set();
    for (const reading of readings.get(voice.decisions.join(" ")).found) {
      if (reading.table !== voice.table) continue;
      const fresh = takingAway(pack, reading, states, voice.decisions, combinations, floor.best)
        .filter((one) => !told.has(one.reason.rule));
      for (const one of fresh) told.add(one.reason.rule);
      found.push(...fresh);
    }
  }
  return found;
}

// private

// The combinations of what is left that the voice holds below the floor, in the committee's order.
function takenAway(layout, voice, floor, left) {
  const found = [];
  const last = voice.decisions[voice.decisions.length - 1];
  voice.heads.forEach((head, i) => {
    if (left === null || !holds(left, head)) return;
    for (const bit of layout.bits[last]) {
      if (meets(left, bit) && !meets(voice.best[floor.best][i], bit)) {
        found.push(placesOf(layout, voice.decisions, union([head, bit], layout.words)));
      }
    }
  });
  return found;
}
