// Gives back the margins of every decided candidate: how far one number may move until its verdict changes.
//
// One column of the tables that name only the candidate's decision moves, all else stays: the other answers, the
// partners in play and what shared tables say of them. An answer takes along every value of these tables that is
// made of it, and moves in all states when they share it, and in all components of a mixture, except for a
// concentration, which is that of one component; a derived value moves alone, in its own unit. Where other answers
// are open they stay so, and a verdict that is no longer decided counts as another. What may be anything between two
// ends moves from either end. Twin of generator/evaluate/margins.py.

import { axes } from "./axes.js";
import { both, placesOf, rowsReached } from "./columns.js";
import { courseOf, reachBeside } from "./courses.js";
import { derivedValues } from "./formulas.js";
import { VERDICTS } from "./model.js";
import { columnAnswers } from "./prepared.js";
import { sharedBounds } from "./situation.js";
import { NO_VALUE, OPEN, SUITABLE, outcomeOf } from "./tables.js";

// In the order of decisions, candidates, states and columns (inputs, then derived values), below before above.
// `situation` is that of situation.js.
export function margins(situation, selected) {
  return situation.prepared.pack.decisions.flatMap((decision, place) => {
    const shown = new Map(selected.decisions[place].candidates
      .filter((one) => one.best === one.worst).map((one) => [one.candidate, one.best]));
    const ranks = new Map();
    decision.candidates.forEach((option, candidate) => {
      if (shown.has(option.id)) ranks.set(candidate, VERDICTS.indexOf(shown.get(option.id)));
    });
    return ranks.size > 0 ? [...ofDecision(situation, place, ranks).values()].flat() : [];
  });
}

// The one that is reached by the smallest change, as a share of the larger of where it starts and the limit; of
// equal ones the first; null if there is none.
export function nearestMargin(found) {
  let nearest = null;
  for (const margin of found) if (nearest === null || shareOf(margin) < shareOf(nearest)) nearest = margin;
  return nearest;
}

// The change as a share of the larger of where it starts and the limit.
export function shareOf(margin) {
  const size = Math.max(Math.abs(margin.value), Math.abs(margin.limit));
  return size === 0 ? 0 : Math.abs(margin.limit - margin.value) / size;
}

// private

// Per decided candidate, whose rank is given. What moves is {decision, candidate, rank, axis, groups, base}: the
// groups that speak of a candidate, and what all else comes to.
function ofDecision(situation, decision, ranks) {
  const { prepared } = situation;
  const readings = situation.readings.get(String(decision))?.found ?? [];
  const found = new Map([...ranks.keys()].map((candidate) => [candidate, []]));
  const told = toldOf(readings, ranks);
  const shared = remembered((candidate) => sharedBounds(situation, decision, candidate));
  const columns = new Map();
  for (const axis of axes(situation, decision)) {
    const among = new Set(axis.parts);
    const reached = new Map();
    readings.forEach((reading, place) => {
      if (!among.has(reading.part)) return;
      const key = `${reading.table} ${axis.column}`;
      if (!columns.has(key)) {
        const all = prepared.tables[reading.table].table.columns;
        columns.set(key, all.map((_, at) => at).filter((at) => all[at].source !== "decision" &&
          (all[at].name === axis.column || axis.made.has(all[at].name))));
      }
      if (columns.get(key).length > 0) reached.set(place, columns.get(key));
    });
    const left = (said) => said.find(({ place }) => !reached.has(place))?.rank ?? SUITABLE;
    const bases = new Map();
    for (const [candidate, rank] of ranks) {
      const base = { worst: left(told.get(candidate).worst), best: left(told.get(candidate).best) };
      if (rank > 0 || (base.best > 0 && shared(candidate).best > 0)) { // what is ruled out twice stays so
        bases.set(candidate, base);
      }
    }
    const groups = bases.size === 0 ? []
      : [...reached].map(([place, moved]) => groupOf(prepared, axis, readings[place], moved, bases));
    for (const [candidate, base] of bases) {
      const touching = groups.filter((group) => group.rows.has(candidate));
      const start = valueOf(prepared, axis, candidate);
      const rank = ranks.get(candidate);
      if (touching.length === 0 || start.intervals.length === 0 || start.absent) continue;
      if (isAt(base, rank) && !touching.some((group) => mayBeWorse(group, candidate, rank))) continue;
      const moved = {
        decision: prepared.pack.decisions[decision], candidate, rank, axis, groups: touching,
        base: meet(base, shared(candidate)),
      };
      for (const [end, side] of [[start.intervals[0][0], -1], [start.intervals.at(-1)[1], 1]]) {
        const place = firstChange(moved, end, side);
        if (place !== null) found.get(candidate).push(marginOf(moved, end, side, place));
      }
    }
  }
  return found;
}

// Per candidate what each reading says of it, {worst, best}: lists of {rank, place}, rising.
function toldOf(readings, ranks) {
  const told = new Map([...ranks.keys()].map((candidate) => [candidate, { worst: [], best: [] }]));
  readings.forEach((reading, place) => {
    for (const [key, outcome] of reading.outcomes) {
      const said = told.get(Number(key));
      said?.worst.push({ rank: outcome.bounds.worst, place });
      said?.best.push({ rank: outcome.bounds.best, place });
    }
  });
  for (const { worst, best } of told.values()) {
    worst.sort((one, other) => one.rank - other.rank);
    best.sort((one, other) => one.rank - other.rank);
  }
  return told;
}

// A table and a part that the axis reaches, {part, index, column, place, rows, courses}: the column that moves (null:
// only values made of it), and the rows that count per candidate while it may be anything, each {row, bit, certain,
// short}. `courses` are those of the made columns, by the candidates that they depend on, worked out when they are
// asked for; null if there are no such columns.
function groupOf(prepared, axis, reading, moved, wanted) {
  const { part } = reading;
  const index = prepared.tables[reading.table];
  const [steady, moving] = columnAnswers(prepared, index, part.answers, part.derived);
  const every = (1n << BigInt(index.table.rows.length)) - 1n;
  let reach = { rows: every, sure: every, perhaps: 0n, never: 0n };
  for (const place of index.steady) {
    if (!moved.includes(place)) reach = both(reach, rowsReached(index.columns[place], steady.get(place)));
  }
  const own = moved.find((place) => index.table.columns[place].name === axis.column) ?? -1;
  const made = moved.filter((place) => place !== own);
  const rows = new Map();
  const counted = new Map();
  for (const [driven, speaking] of index.speaking) {
    let here = reach;
    for (const place of index.moving) {
      if (!moved.includes(place)) {
        here = both(here, rowsReached(index.columns[place], moving.get(driven).get(place)));
      }
    }
    counted.set(driven, here.rows & speaking);
    for (const row of placesOf(here.rows & speaking)) {
      const bit = 1n << BigInt(row);
      const one = { row, bit, certain: (here.sure & bit) !== 0n, short: shortOf(here, bit) };
      for (const key of index.named[row].get(driven)) {
        const candidate = Number(key);
        if (!wanted.has(candidate)) continue;
        if (!rows.has(candidate)) rows.set(candidate, []);
        rows.get(candidate).push(one);
      }
    }
  }
  const courses = made.length === 0 ? null : remembered((driven) =>
    made.map((place) => courseOfColumn(prepared, axis, part, index, place, driven, counted.get(driven))));
  return { part, index, column: own < 0 ? null : index.columns[own], place: own, rows, courses };
}

function shortOf(reach, bit) {
  return (reach.never & bit) !== 0n ? 2 : (reach.perhaps & bit) !== 0n ? 1 : 0;
}

// Of one made column; only the rows that count matter.
function courseOfColumn(prepared, axis, part, index, place, driven, counted) {
  const { name } = index.table.columns[place];
  const { formulas, behind } = prepared;
  const chain = new Set([name]);
  for (const item of [...formulas.items].reverse()) {
    if (chain.has(item.derived.id)) {
      for (const one of item.derived.arguments) if (one.kind === "derived") chain.add(one.name);
    }
  }
  const follow = { ...formulas, figures: part.derived, items: formulas.items.filter((item) => // all else stays
    chain.has(item.derived.id) && behind.get(item.derived.id).has(axis.column)) };
  const at = formulas.decisions.get(name).length > 0 ? driven : "";
  const known = new Map();
  const reach = (low, high) => {
    const key = `${low} ${high}`;
    if (!known.has(key)) {
      const answers = new Map(part.answers);
      answers.set(axis.column, { intervals: [[low, high]], absent: false });
      const found = rowsReached(index.columns[place], derivedValues(follow, answers).get(name).get(at));
      known.set(key, {
        rows: found.rows & counted, sure: found.sure & counted, perhaps: found.perhaps & counted,
        never: found.never & counted,
      });
    }
    return known.get(key);
  };
  return courseOf(reach, axis.range.low, axis.range.high);
}

function isAt(bounds, rank) {
  return bounds.worst === rank && bounds.best === rank;
}

function meet(bounds, other) {
  return { worst: Math.min(bounds.worst, other.worst), best: Math.min(bounds.best, other.best) };
}

function mayBeWorse(group, candidate, rank) {
  const { rows } = group.index.table;
  return (group.courses !== null && rank > OPEN) || group.rows.get(candidate).some(({ row, short }) =>
    rows[row].verdict < rank || (short > 0 && rank > OPEN));
}

function valueOf(prepared, axis, candidate) {
  const [part] = axis.parts;
  if (!axis.derived) return part.answers.get(axis.column);
  const needs = prepared.formulas.decisions.get(axis.column);
  return part.derived.get(axis.column).get(needs.length > 0 ? String(candidate) : "");
}

// The nearest place on this side of the start at which the verdict is another, or null. A place is a number and
// whether it is meant itself (0), just below (-1) or just above (1).
function firstChange(moved, start, side) {
  const { low, low_in: lowIn, high, high_in: highIn } = moved.axis.range;
  const ahead = [...new Set(moved.groups.flatMap((group) => cutsOf(group, moved.candidate)))]
    .filter((cut) => (cut - start) * side >= 0 && low <= cut && cut <= high)
    .sort((one, other) => (one - other) * side);
  for (const cut of ahead) {
    const isOutside = (cut === low && !lowIn) || (cut === high && !highIn);
    if (cut !== start && !isOutside && !isAt(boundsAt(moved, [cut, 0]), moved.rank)) return [cut, 0];
    const isLast = cut === (side > 0 ? high : low);
    if (!isLast && !isAt(boundsAt(moved, [cut, side]), moved.rank)) return [cut, side];
  }
  return null;
}

function cutsOf(group, candidate) {
  const cuts = coursesOf(group, candidate).flatMap((course) => course.before);
  if (group.column === null) return cuts;
  const column = group.index.table.columns[group.place];
  for (const { row } of group.rows.get(candidate)) {
    const cell = group.index.table.rows[row].cells[group.place];
    if (cell >= 0) for (const part of column.cells[cell].intervals) cuts.push(part.low, part.high);
  }
  return cuts;
}

function coursesOf(group, candidate) {
  return group.courses === null ? [] : group.courses(group.index.driving.length > 0 ? String(candidate) : "");
}

// What the table says with the column at this place; null where it has no effect.
function outcomeAt(group, candidate, [number, side]) {
  let reached = null; // every row
  if (group.column !== null) {
    const { cuts, atoms } = group.column;
    let at = 0;
    while (at < cuts.length && cuts[at] < number) at += 1;
    reached = cuts[at] === number ? atoms[2 * at + 1 + side] : atoms[2 * at];
  }
  const beside = coursesOf(group, candidate).map((course) => reachBeside(course, number, side));
  const states = [];
  for (const { row, bit, certain, short } of group.rows.get(candidate)) {
    if ((reached === null || (reached & bit) !== 0n) && beside.every((one) => (one.rows & bit) !== 0n)) {
      states.push({
        row, certain: certain && beside.every((one) => (one.sure & bit) !== 0n),
        short: Math.max(short, ...beside.map((one) => shortOf(one, bit))),
      });
    }
  }
  if (states.length === 0) return null;
  const isSettled = states.length === 1 && states[0].certain && states[0].short === 0;
  return isSettled ? group.index.settled[states[0].row] : outcomeOf(group.index.table, states);
}

function boundsAt(moved, place) {
  let bounds = moved.base;
  for (const group of moved.groups) {
    const outcome = outcomeAt(group, moved.candidate, place);
    if (outcome !== null) bounds = meet(bounds, outcome.bounds);
  }
  return bounds;
}

function marginOf(moved, start, side, place) {
  const { decision, candidate, rank } = moved;
  const { worst, best } = boundsAt(moved, place);
  const [group, row] = worst < rank ? setting(moved, place, worst) : setting(moved, [start, 0], rank);
  const { table } = group.index;
  return {
    decision: decision.id, candidate: decision.candidates[candidate].id, state: group.part.state,
    column: moved.axis.column, value: start, limit: place[0], above: side > 0, included: place[1] !== 0,
    now: VERDICTS[rank], verdict: VERDICTS[worst === best ? worst : OPEN], best: VERDICTS[best],
    worst: VERDICTS[worst], rule: row === NO_VALUE ? `${table.id}.no_value` : table.rows[row].rule,
    table: table.id, components: group.part.components,
  };
}

// The first table and row that give this rank; a table that leaves nothing better stands before others.
function setting(moved, place, rank) {
  const outcomes = moved.groups.map((group) => [group, outcomeAt(group, moved.candidate, place)])
    .filter(([, outcome]) => outcome !== null);
  const settled = outcomes.filter(([, outcome]) => outcome.bounds.best === rank);
  for (const [group, outcome] of [...settled, ...outcomes]) {
    const entry = outcome.entries.find((one) => one.rank === rank);
    if (entry !== undefined) return [group, entry.row];
  }
  throw new Error("a verdict that no row sets");
}

function remembered(work) {
  const known = new Map();
  return (key) => {
    if (!known.has(key)) known.set(key, work(key));
    return known.get(key);
  };
}
