// Gives back the rules behind a candidate's verdict, in one order: verdict (worst first), what applies
// before what only may, table, state, row.
//
// A found reason is {rank, perhaps, table, state, row, reason}: the reason with what it is ordered by.
// Twin of generator/evaluate/reasons.py.

import { VERDICTS } from "./model.js";
import { NO_VALUE, SUITABLE, everyCombination } from "./tables.js";

// The rules of the tables that name only this decision.
export function ownReasons(pack, readings, states, decision, candidate) {
  const key = String(candidate);
  const found = [];
  for (const reading of readings.get(String(decision))?.found ?? []) {
    const outcome = reading.outcomes.get(key);
    if (outcome === undefined) continue;
    if (!reading.told.has(outcome)) reading.told.set(outcome, ofOutcome(pack, reading, states, outcome, []));
    found.push(...reading.told.get(outcome));
  }
  return found;
}

// The rules of the shared tables: with the best partner, or, where every partner fails, why each one does.
export function groupReasons(pack, readings, states, decision, candidate, verdict, inPlay) {
  const shared = readings.get(verdict.decisions.join(" ")).found;
  if (verdict.bounds.best > 0) {
    const partner = named(pack, verdict.decisions, verdict.partner, decision);
    const key = verdict.partner.join(" ");
    return shared.filter((reading) => reading.outcomes.has(key))
      .flatMap((reading) => ofOutcome(pack, reading, states, reading.outcomes.get(key), partner));
  }
  return ofFailures(pack, shared, states, decision, candidate, verdict, inPlay);
}

// The rules of the tables that name these decisions which set one of the bounds for one candidate per decision.
// Each names every candidate that its table was read with.
export function chosenReasons(pack, shared, states, decisions, chosen, bounds) {
  const combination = decisions.map((place) => chosen[place]);
  const key = combination.join(" ");
  const partner = named(pack, decisions, combination, -1);
  const told = [];
  for (const reading of shared) {
    const outcome = reading.outcomes.get(key);
    if (outcome === undefined || outcome.bounds.worst === SUITABLE) continue;
    const atWorst = outcome.bounds.worst === bounds.worst;
    const atBest = outcome.bounds.best === bounds.best && bounds.best < SUITABLE;
    if (atWorst || atBest) {
      told.push(...ofOutcome(pack, reading, states, outcome, partner).filter(({ rank }) =>
        (atWorst && rank === bounds.worst) || (atBest && rank === bounds.best)));
    }
  }
  return told;
}

// The rules by which one table holds these combinations below a verdict for certain: each with the first
// combination that it takes away, counting the others.
export function takingAway(pack, reading, states, decisions, combinations, below) {
  const first = new Map();
  const others = new Map();
  for (const combination of combinations) {
    const outcome = reading.outcomes.get(combination.join(" "));
    if (outcome === undefined || outcome.bounds.best >= below) continue;
    const collects = pack.tables[reading.table].hit_policy === "collect";
    const entry = outcome.entries.find((one) =>
      one.rank === outcome.bounds.best && (one.certain || !collects));
    if (!first.has(entry.row)) first.set(entry.row, [outcome, entry, combination]);
    others.set(entry.row, (others.get(entry.row) ?? -1) + 1);
  }
  return [...first].map(([row, [outcome, entry, combination]]) =>
    foundOf(pack, reading, states, outcome, entry, named(pack, decisions, combination, -1), others.get(row)));
}

// The reasons in the order in which they are shown.
export function ordered(found) {
  return [...found]
    .sort((a, b) => a.rank - b.rank || a.perhaps - b.perhaps || a.table - b.table || a.state - b.state || a.row - b.row)
    .map((item) => item.reason);
}

// private

// One reason per verdict that the open answers still allow; every row that is certain in a collect table.
function ofOutcome(pack, reading, states, outcome, partner) {
  if (outcome.entries.length === 1) {
    return [foundOf(pack, reading, states, outcome, outcome.entries[0], partner, 0)];
  }
  const table = pack.tables[reading.table];
  const first = new Map();
  const others = new Map();
  for (const entry of outcome.entries) {
    const alone = table.hit_policy === "collect" && entry.certain;
    const key = `${entry.rank} ${alone ? entry.row : table.rows.length}`;
    if (!first.has(key)) first.set(key, entry);
    others.set(key, (others.get(key) ?? -1) + 1);
  }
  return [...first].map(([key, entry]) => foundOf(pack, reading, states, outcome, entry, partner, others.get(key)));
}

// Each rule that fails a partner in play, once per part of a state, naming the first such partner and counting the
// others.
function ofFailures(pack, shared, states, decision, candidate, verdict, inPlay) {
  const first = new Map();
  const others = new Map();
  const playing = everyCombination(
    verdict.decisions.map((place) => (place === decision ? [candidate] : inPlay[place].possible)));
  for (const reading of shared) {
    for (const combination of playing) {
      const outcome = reading.outcomes.get(combination.join(" "));
      if (outcome === undefined || outcome.bounds.worst > 0) continue;
      const entry = outcome.entries.find((item) => item.rank === outcome.bounds.worst);
      const key = `${reading.table} ${reading.part.state} ${reading.part.components} ${entry.row}`;
      if (!first.has(key)) first.set(key, [reading, entry, combination]);
      others.set(key, (others.get(key) ?? -1) + 1);
    }
  }
  return [...first].map(([key, [reading, entry, combination]]) => {
    const partner = named(pack, verdict.decisions, combination, decision);
    const outcome = reading.outcomes.get(combination.join(" "));
    return foundOf(pack, reading, states, outcome, entry, partner, others.get(key));
  });
}

function foundOf(pack, reading, states, outcome, entry, partner, others) {
  const table = pack.tables[reading.table];
  const lacking = entry.row === NO_VALUE;
  const decided = outcome.bounds.worst === outcome.bounds.best && outcome.bounds.best === entry.rank;
  // Beside a row that does apply, one of the same table that only may settles nothing.
  const perhaps = !entry.certain && !(decided && table.hit_policy === "unique");
  const settled = decided && !perhaps;
  return {
    rank: entry.rank, perhaps, table: reading.table, state: states.indexOf(reading.part.state),
    row: lacking ? table.rows.length : entry.row,
    reason: {
      rule: lacking ? `${table.id}.no_value` : table.rows[entry.row].rule, table: table.id,
      state: reading.part.state, verdict: VERDICTS[entry.rank], partner, others, settled,
      components: reading.part.components,
    },
  };
}

function named(pack, decisions, combination, decision) {
  return decisions
    .map((other, i) => [other, combination[i]])
    .filter(([other]) => other !== decision)
    .map(([other, place]) => [pack.decisions[other].id, pack.decisions[other].candidates[place].id]);
}
