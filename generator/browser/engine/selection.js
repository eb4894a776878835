// Gives back what to buy: the leading selections, the best that each candidate comes to in any, and why none
// is better.
//
// A selection is one candidate per decision, the same in every state; its bounds are the worst of all tables
// and states. Its verdict is settled (suitable, caution), or open: an answer or a supplier's word is missing.
// From the best verdict down, what reaches it is kept, narrowed and searched, decision by decision: own
// verdict first, then the committee's preference.
//
// Pinned candidates are in every selection. A table that rules them out whatever is chosen beside them has no
// say in that choice, only in the verdict.
//
// The shapes are those of generator/evaluate/results.py. Twin of generator/evaluate/selection.py.

import { NO_EFFECT } from "./choice.js";
import { confirmChosen } from "./confirm.js";
import { findConflict, isReached, leastTables, rulesAgainst } from "./conflict.js";
import { hear, layOut, members, network, placesOf, search, standingAt } from "./joint.js";
import { VERDICTS } from "./model.js";
import { openInputsOfSelection } from "./questions.js";
import { chosenReasons, ordered } from "./reasons.js";
import { OPEN, SUITABLE } from "./tables.js";

export const MOST = 5; // leading selections of each group
export const SETTLED = [[3, 3], [2, 2]]; // ranks of the upper and the lower bound, best first
export const UNSETTLED = [[3, 2], [3, 1], [3, 0], [2, 1], [2, 0], [1, 1], [1, 0]];

// The bounds of all tables made ready; `own` are the bounds of each candidate by the tables of its decision.
// Gives what one application's selections are chosen from: `heard` are the voices that have a say in the
// choice.
export function choosing(prepared, readings, answers, own, pinned) {
  const layout = layOut(prepared.sizes);
  const voices = hear(layout, readings);
  const kept = bitsOf(prepared, layout, pinned);
  const heard = voices.filter((voice) =>
    voice.decisions.every((place) => (layout.masks[place] & kept) === 0n) ||
    isReached(layout, [voice], { worst: 0, best: OPEN }, kept));
  const orders = layout.bits.map((bits, decision) => bits.map((_, place) => place)
    .sort((a, b) => own[decision][b].worst - own[decision][a].worst ||
      own[decision][b].best - own[decision][a].best || a - b).map((place) => bits[place]));
  return { prepared, readings, answers, layout, voices, heard, orders, pinned: kept };
}

// At most five settled ones, best first, and after them at most five that are open. Those that keep a
// candidate which is ruled out are five in all.
export function leadingSelections(given) {
  const isWhole = given.heard.length === given.voices.length;
  const groups = isWhole ? [SETTLED, UNSETTLED] : [[...SETTLED, ...UNSETTLED]];
  return groups.flatMap((classes) => firstOf(given, classes)).map((bits) => selectionOf(given, bits));
}

// Every candidate that comes to less in a selection than its verdict by itself. None where there is no
// selection at all: the conflict says why.
export function together(given, decisions) {
  const best = reached(given, true);
  const worst = reached(given, false);
  const found = [];
  if (best.every((bits) => bits === 0n)) return found;
  decisions.forEach((decision, place) => {
    const verdicts = new Map(decision.candidates.map((one) => [one.candidate, one.verdict]));
    given.prepared.pack.decisions[place].candidates.forEach((option, i) => {
      const bit = given.layout.bits[place][i];
      if ((given.layout.masks[place] & given.pinned & ~bit) !== 0n) return;
      const bounds = { worst: highest(worst, bit), best: highest(best, bit) };
      if (shownRank(bounds) < VERDICTS.indexOf(verdicts.get(option.id))) {
        found.push({
          decision: decision.decision, candidate: option.id, verdict: VERDICTS[shownRank(bounds)],
          best: VERDICTS[bounds.best], worst: VERDICTS[bounds.worst], limits: heldBack(given, bit, bounds),
        });
      }
    });
  });
  return found;
}

// Why every selection is open at best, or unsuitable; null where one can be bought as far as is known.
export function conflict(given) {
  return findConflict(given.prepared.pack, given.layout, given.voices, given.readings,
    [...given.answers.keys()], given.pinned);
}

// private

function shownRank(bounds) {
  return bounds.worst === bounds.best ? bounds.worst : OPEN;
}

function bitsOf(prepared, layout, pinned) {
  let bits = 0n;
  prepared.pack.decisions.forEach((decision, place) => {
    decision.candidates.forEach((option, i) => {
      if (pinned.some(([name, candidate]) => name === decision.id && candidate === option.id)) {
        bits |= layout.bits[place][i];
      }
    });
  });
  return bits;
}

// The leading selections of these classes, best class first.
function firstOf(given, classes) {
  const found = [];
  for (const [best, worst] of classes) found.push(...ofClass(given, best, worst, MOST - found.length));
  return found;
}

// The first selections whose bounds are these.
function ofClass(given, best, worst, most) {
  if (most === 0) return [];
  const floor = { worst, best };
  const exact = [];
  if (best < SUITABLE) exact.push(standingAt(given.heard, floor, true));
  if (worst < best) exact.push(standingAt(given.heard, floor, false));
  const net = network(given.layout, given.heard, floor, given.pinned);
  return search(given.layout, net, given.orders, exact, most);
}

// Per verdict from open upwards the candidates that some selection has whose upper (or lower) bound reaches
// it.
function reached(given, upper) {
  const found = [];
  for (let rank = OPEN; rank <= SUITABLE; rank += 1) {
    const floor = upper ? { worst: 0, best: rank } : { worst: rank, best: 0 };
    found.push(members(given.layout, network(given.layout, given.heard, floor, given.pinned)));
  }
  return found;
}

function highest(levels, bit) {
  return Math.max(0, ...levels.map((bits, i) => ((bits & bit) !== 0n ? OPEN + i : 0)));
}

// What sets the verdict of the first selection that brings this candidate as far as any; or what leaves it
// none.
function heldBack(given, bit, bounds) {
  const pinned = given.pinned | bit;
  if (bounds.best === 0) {
    const floor = { worst: 0, best: OPEN };
    const tables = leastTables(given.layout, given.heard, floor, pinned);
    return ordered(rulesAgainst(given.prepared.pack, given.layout, tables, given.readings,
      [...given.answers.keys()], floor, pinned));
  }
  for (const floor of [bounds, { worst: 0, best: bounds.best }]) { // no one selection need reach both bounds
    const net = network(given.layout, given.heard, floor, pinned);
    const found = search(given.layout, net, given.orders, [], 1);
    if (found.length > 0) return selectionOf(given, found[0]).limits;
  }
  throw new Error("a bound that no selection reaches");
}

function selectionOf(given, bits) {
  const { layout, readings } = given;
  const { pack } = given.prepared;
  const chosen = placesOf(layout, layout.bits.map((_, decision) => decision), bits);
  const parts = partsOf(given, bits);
  const whole = {
    worst: Math.min(...parts.map((part) => part.worst)), best: Math.min(...parts.map((part) => part.best)),
  };
  const told = whole.worst < SUITABLE ? chosenReasons(pack, readings, [...given.answers.keys()], chosen) : [];
  return {
    verdict: VERDICTS[shownRank(whole)], best: VERDICTS[whole.best], worst: VERDICTS[whole.worst],
    chosen: pack.decisions.map((decision, place) => ({
      decision: decision.id, candidate: decision.candidates[chosen[place]].id,
      pinned: (layout.masks[place] & given.pinned) !== 0n, verdict: VERDICTS[shownRank(parts[place])],
      best: VERDICTS[parts[place].best], worst: VERDICTS[parts[place].worst],
      limits: limitsOf(told.filter((one) => one.decisions.includes(place)), parts[place]),
      confirm: confirmChosen(pack, readings, chosen, parts[place], place),
    })),
    limits: limitsOf(told, whole),
    open_inputs: openInputsOfSelection(given.prepared, readings, chosen, whole),
    confirm: confirmChosen(pack, readings, chosen, whole),
  };
}

// Per decision the worst of the tables that name it, with the candidates chosen.
function partsOf(given, bits) {
  const parts = given.layout.bits.map(() => NO_EFFECT);
  for (const voice of given.voices) {
    const at = voice.heads.findIndex((head) => (bits & head) === head);
    const worst = highestWith(voice.worst, at, bits);
    if (worst === SUITABLE) continue;
    const best = highestWith(voice.best, at, bits);
    for (const place of voice.decisions) {
      parts[place] = { worst: Math.min(parts[place].worst, worst), best: Math.min(parts[place].best, best) };
    }
  }
  return parts;
}

function highestWith(levels, at, bits) {
  let rank = SUITABLE;
  while ((levels[rank][at] & bits) === 0n) rank -= 1;
  return rank;
}

// The reasons that set one of the bounds.
function limitsOf(told, bounds) {
  return ordered(told.filter(({ bounds: table, found }) =>
    (table.worst === bounds.worst && found.rank === bounds.worst) ||
    (table.best === bounds.best && bounds.best < SUITABLE && found.rank === bounds.best))
    .map(({ found }) => found));
}
