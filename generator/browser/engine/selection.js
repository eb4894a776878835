// Gives back what to buy: the leading selections, the best that each candidate comes to in any, and why none
// is better.
//
// A selection is one candidate per decision, the same in every state; its bounds are the worst of all tables
// and states. Its verdict is settled (suitable, caution), or open: an answer or a supplier's word is missing.
// From the best verdict down, what reaches it is kept, narrowed and searched, decision by decision: own
// verdict first, then the committee's preference. Before that stand those in which nothing may fall below caution
// that need not, and then nothing below suitable: of the tables of each decision, then of those that decisions share,
// one after the other.
//
// Pinned candidates are in every selection. A table that rules them out whatever is chosen beside them has no
// say in that choice, only in the verdict.
//
// The shapes are those of generator/evaluate/results.py. Twin of generator/evaluate/selection.py.

import { isEmpty, isSame, meets, none, union, without } from "./bits.js";
import { NO_EFFECT } from "./choice.js";
import { confirmChosen } from "./confirm.js";
import { findConflict, isReached, leastTables, rulesAgainst } from "./conflict.js";
import { hear, hearAll, join, keeping, layOut, members, network, placesOf, search, sparing, standingAt } from "./joint.js";
import { VERDICTS } from "./model.js";
import { openInputsOfSelection } from "./questions.js";
import { chosenReasons, ordered } from "./reasons.js";
import { OPEN, SUITABLE } from "./tables.js";

export const MOST = 5; // leading selections of each group
export const SETTLED = [[3, 3], [2, 2]]; // ranks of the upper and the lower bound, best first
export const UNSETTLED = [[3, 2], [3, 1], [3, 0], [2, 1], [2, 0], [1, 1], [1, 0]];

// The bounds of all tables made ready; `own` are the bounds of each candidate by the tables of its decision,
// `groups` those of combinations by shared tables. Gives what one application's selections are chosen from:
// `voices` are those of all tables, one per set of decisions, `heard` those of the tables that have a say in the
// choice (`outvoted`: some have none). `networks` keeps what was worked out, by its floor.
export function choosing(prepared, readings, answers, own, groups, pinned) {
  const layout = layOut(prepared.sizes);
  const kept = bitsOf(prepared, layout, pinned);
  const voices = hearAll(layout, own, groups);
  const every = isEmpty(kept) ? null : withASay(layout, hear(layout, readings), kept);
  const heard = every === null ? voices : join(every);
  const orders = layout.bits.map((bits, decision) => bits.map((_, place) => place)
    .sort((a, b) => own[decision][b].worst - own[decision][a].worst ||
      own[decision][b].best - own[decision][a].best || a - b).map((place) => bits[place]));
  return {
    prepared, readings, answers, own, groups, layout, voices, heard, outvoted: every !== null, orders, pinned: kept,
    networks: new Map(),
  };
}

// At most five settled ones, best first, and after them at most five that are open. Those that keep a
// candidate which is ruled out are five in all.
export function leadingSelections(given) {
  const groups = given.outvoted ? [[...SETTLED, ...UNSETTLED]] : [SETTLED, UNSETTLED];
  return groups.flatMap((classes) => firstOf(given, classes)).map((bits) => selectionOf(given, bits));
}

// Every candidate that comes to less in a selection than its verdict by itself. None where there is no
// selection at all: the conflict says why.
export function together(given, decisions) {
  const { best, worst } = reached(given);
  const found = [];
  if (best.every(isEmpty)) return found;
  decisions.forEach((decision, place) => {
    const verdicts = new Map(decision.candidates.map((one) => [one.candidate, one.verdict]));
    given.prepared.pack.decisions[place].candidates.forEach((option, i) => {
      const bit = given.layout.bits[place][i];
      if (meets(without(given.layout.masks[place], bit), given.pinned)) return;
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
  let bits = none(layout.words);
  prepared.pack.decisions.forEach((decision, place) => {
    decision.candidates.forEach((option, i) => {
      if (pinned.some(([name, candidate]) => name === decision.id && candidate === option.id)) {
        bits = union([bits, layout.bits[place][i]], layout.words);
      }
    });
  });
  return bits;
}

// Without the voices that rule out what is pinned whatever is chosen beside it; null where all have a say.
function withASay(layout, voices, kept) {
  const heard = voices.filter((voice) => voice.decisions.every((place) => !meets(layout.masks[place], kept)) ||
    isReached(layout, [voice], { worst: 0, best: OPEN }, kept));
  return heard.length < voices.length ? heard : null;
}

// What reaches the floor by the voices heard, with what is pinned.
function networkOf(given, floor) {
  const key = `${floor.worst} ${floor.best}`;
  if (!given.networks.has(key)) given.networks.set(key, network(given.layout, given.heard, floor, given.pinned));
  return given.networks.get(key);
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
  const net = networkOf(given, floor);
  const spared = sparedIn(given, net, exact, worst);
  const first = spared === null ? [] : search(given.layout, spared, given.orders, exact, most);
  if (first.length === 0 || first.length === most) return first;
  const others = search(given.layout, net, given.orders, exact, most + first.length);
  return [...first, ...others.filter((bits) => !first.some((one) => isSame(one, bits)))].slice(0, most);
}

// What is left when one voice after the other is held to a caution at least, and then to suitable, where that leaves a
// selection; null where there is none to begin with. What the class holds anyway is not asked again.
function sparedIn(given, net, exact, worst) {
  const leaves = (some) => search(given.layout, some, given.orders, exact, 1).length > 0;
  if (!leaves(net)) return null;
  const inOrder = (one, other) => (one.decisions.length > 1) - (other.decisions.length > 1) ||
    compared(one.decisions, other.decisions);
  const voices = [...given.heard].sort(inOrder);
  for (let rank = Math.max(worst, OPEN) + 1; rank <= SUITABLE; rank += 1) {
    for (const voice of voices) {
      const held = sparing(given.layout, net, voice, rank);
      if (leaves(held)) net = held;
    }
  }
  return net;
}

function compared(places, others) {
  for (let i = 0; i < Math.min(places.length, others.length); i += 1) {
    if (places[i] !== others[i]) return places[i] - others[i];
  }
  return places.length - others.length;
}

// Per verdict from open upwards the candidates that some selection has whose upper bound reaches it (`best`), and
// the same of the lower bound (`worst`).
function reached(given) {
  const { layout } = given;
  const nothing = none(layout.words);
  const best = [], worst = [];
  for (let rank = SUITABLE; rank >= OPEN; rank -= 1) { // what reaches more reaches less
    worst.unshift(members(layout, networkOf(given, { worst: rank, best: 0 }), worst[0] ?? nothing));
    const known = union([worst[0], best[0] ?? nothing], layout.words);
    best.unshift(members(layout, networkOf(given, { worst: 0, best: rank }), known));
  }
  return { best, worst };
}

function highest(levels, bit) {
  return Math.max(0, ...levels.map((bits, i) => (meets(bits, bit) ? OPEN + i : 0)));
}

// What sets the verdict of the first selection that brings this candidate as far as any; or what leaves it
// none.
function heldBack(given, bit, bounds) {
  const { layout, readings } = given;
  if (bounds.best === 0) {
    const floor = { worst: 0, best: OPEN };
    const pinned = union([given.pinned, bit], layout.words);
    const voices = hear(layout, readings);
    const heard = (given.outvoted ? withASay(layout, voices, given.pinned) : null) ?? voices;
    const tables = leastTables(layout, heard, floor, pinned);
    return ordered(rulesAgainst(given.prepared.pack, layout, tables, readings, [...given.answers.keys()], floor,
      pinned));
  }
  for (const floor of [bounds, { worst: 0, best: bounds.best }]) { // no one selection need reach both bounds
    const found = search(layout, keeping(layout, networkOf(given, floor), bit), given.orders, [], 1);
    if (found.length > 0) {
      const chosen = placesIn(given, found[0]);
      const told = toldOf(given, chosen);
      return limitsOf(given, chosen, told, worstOf(told));
    }
  }
  throw new Error("a bound that no selection reaches");
}

function selectionOf(given, bits) {
  const { layout, readings } = given;
  const { pack } = given.prepared;
  const chosen = placesIn(given, bits);
  const told = toldOf(given, chosen);
  const whole = worstOf(told);
  return {
    verdict: VERDICTS[shownRank(whole)], best: VERDICTS[whole.best], worst: VERDICTS[whole.worst],
    chosen: pack.decisions.map((decision, place) => {
      const about = told.filter((one) => one.decisions.includes(place));
      const part = worstOf(about);
      return {
        decision: decision.id, candidate: decision.candidates[chosen[place]].id,
        pinned: meets(layout.masks[place], given.pinned), verdict: VERDICTS[shownRank(part)],
        best: VERDICTS[part.best], worst: VERDICTS[part.worst], limits: limitsOf(given, chosen, about, part),
        confirm: confirmChosen(pack, readings, chosen, part, place),
      };
    }),
    limits: limitsOf(given, chosen, told, whole),
    open_inputs: openInputsOfSelection(given.prepared, readings, chosen, whole),
    confirm: confirmChosen(pack, readings, chosen, whole),
  };
}

function placesIn(given, bits) {
  return placesOf(given.layout, given.layout.bits.map((_, decision) => decision), bits);
}

// What all tables that are less than suitable say of the candidates chosen, by the decisions they name.
function toldOf(given, chosen) {
  const told = chosen.map((candidate, place) => ({ decisions: [place], bounds: given.own[place][candidate] }));
  for (const { decisions, combinations } of given.groups) {
    const key = decisions.map((place) => chosen[place]).join(" ");
    told.push({ decisions, bounds: combinations.get(key) ?? NO_EFFECT });
  }
  return told.filter((one) => one.bounds.worst < SUITABLE);
}

function worstOf(told) {
  return {
    worst: Math.min(SUITABLE, ...told.map(({ bounds }) => bounds.worst)),
    best: Math.min(SUITABLE, ...told.map(({ bounds }) => bounds.best)),
  };
}

// The reasons that set one of the bounds.
function limitsOf(given, chosen, told, bounds) {
  const setting = told.filter(({ bounds: table }) =>
    table.worst === bounds.worst || (table.best === bounds.best && bounds.best < SUITABLE));
  return ordered(setting.flatMap(({ decisions }) => chosenReasons(given.prepared.pack,
    given.readings.get(decisions.join(" ")).found, [...given.answers.keys()], decisions, chosen, bounds)));
}
