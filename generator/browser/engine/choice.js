// Gives back the verdict of every candidate of every decision: its own, and together with the partners still
// in play.
//
// All bounds are ranks (places in VERDICTS), {worst, best}. What is equal from both sides stays so for every
// completion. A reading is what one table says of one part of a state: {table, part, outcomes}, `table` as its
// place in the pack, `outcomes` as readTable gives them; `told` keeps the reasons of an outcome, which many
// candidates share, once they were asked for. `readings` is a Map of {decisions, found} by the key of
// `decisions`: what was found in the tables that name these decisions (places in the pack). Twin of
// generator/evaluate/choice.py.

import { SUITABLE, everyCombination } from "./tables.js";

export const NO_EFFECT = { worst: SUITABLE, best: SUITABLE };

// Per decision and candidate the worst over states and over the tables that name only this decision.
export function ownBounds(sizes, readings) {
  return sizes.map((size, decision) => {
    const row = new Array(size).fill(NO_EFFECT);
    for (const reading of toldOnce(readings.get(String(decision))?.found ?? [])) {
      for (const [candidate, outcome] of reading.outcomes) {
        row[Number(candidate)] = meet(row[Number(candidate)], outcome.bounds);
      }
    }
    return row;
  });
}

// Per decision the candidates in play: {sure, possible, emptied}. `sure` stay in play for every completion of
// the answers, `possible` for some; `emptied`: none is sure, so that a completion may leave all of them or
// none. A decision that has none puts all of them in play for its partners, so that one impossible decision
// does not blacken the others.
export function partners(own) {
  const found = [];
  for (const row of own) {
    const everyone = row.map((_, place) => place);
    const possible = everyone.filter((place) => row[place].best > 0);
    const sure = everyone.filter((place) => row[place].worst > 0);
    found.push(possible.length > 0 ? { sure, possible, emptied: sure.length === 0 }
      : { sure: everyone, possible: everyone, emptied: false });
  }
  return found;
}

// Per set of decisions that share tables, the worst of those tables and states for each combination: a list
// of {decisions, combinations}, `combinations` a Map by key.
export function groupBounds(readings) {
  const groups = [];
  for (const { decisions, found } of readings.values()) {
    if (decisions.length > 1) {
      const combinations = new Map();
      for (const reading of toldOnce(found)) {
        for (const [combination, outcome] of reading.outcomes) {
          combinations.set(combination, meet(combinations.get(combination) ?? NO_EFFECT, outcome.bounds));
        }
      }
      groups.push({ decisions, combinations });
    }
  }
  return groups;
}

// The best that the tables shared by `decisions` allow `candidate` with any partner in play: {decisions,
// bounds, partner}, `partner` being the combination shown for it.
export function judgeGroup(decisions, combinations, decision, candidate, inPlay, sizes) {
  const possible = decisions.map((place) => (place === decision ? [candidate] : inPlay[place].possible));
  const sure = decisions.map((place) => (place === decision ? [candidate] : inPlay[place].sure));
  const emptied = decisions.map((_, i) => i)
    .filter((i) => decisions[i] !== decision && inPlay[decisions[i]].emptied);
  const { shown, best, worst } = bestOf(combinations, possible);
  if (emptied.length === 0) {
    const isSettled = sure.every((pool, i) => pool.length === possible[i].length);
    const lowest = isSettled ? worst : bestOf(combinations, sure).worst;
    return { decisions, bounds: { worst: lowest, best }, partner: shown };
  }
  // A completion may leave any one candidate of an emptied decision: the lower bound must hold for each of
  // them. Or it may leave none, which puts all of them in play: the upper bound must hold for all.
  const remaining = everyCombination(emptied.map((i) => possible[i]));
  const lowest = Math.min(...remaining.map((left) =>
    bestOf(combinations, replaced(sure, emptied, left.map((one) => [one]))).worst));
  const everyone = replaced(possible, emptied,
    emptied.map((i) => Array.from({ length: sizes[decisions[i]] }, (_, place) => place)));
  const highest = bestOf(combinations, everyone).best;
  return { decisions, bounds: { worst: lowest, best: highest }, partner: shown };
}

// private

// Without the readings that repeat, for another state, what the one before them says.
function toldOnce(readings) {
  return readings.filter((reading, place) =>
    place === 0 || reading.outcomes !== readings[place - 1].outcomes);
}

// The worse of two verdicts, bound by bound.
function meet(bounds, other) {
  if (other.worst >= bounds.worst && other.best >= bounds.best) return bounds;
  return { worst: Math.min(bounds.worst, other.worst), best: Math.min(bounds.best, other.best) };
}

// Of one candidate out of each pool, in every way: the combination with the best upper bound, then the best lower
// one, then the committee's preference; and the highest upper and lower bounds of all.
function bestOf(combinations, pools) {
  let shown = null, best = null, worst = 0;
  const look = (at, before) => {
    for (const place of pools[at]) {
      const key = at === 0 ? String(place) : `${before} ${place}`;
      if (at + 1 < pools.length) {
        look(at + 1, key);
        continue;
      }
      const bounds = combinations.get(key) ?? NO_EFFECT;
      if (best === null || bounds.best > best.best || (bounds.best === best.best && bounds.worst > best.worst)) {
        shown = key;
        best = bounds;
      }
      if (bounds.worst > worst) worst = bounds.worst;
    }
  };
  look(0, "");
  return { shown: shown.split(" ").map(Number), best: best.best, worst };
}

function replaced(pools, places, others) {
  return pools.map((pool, i) => (places.includes(i) ? others[places.indexOf(i)] : pool));
}
