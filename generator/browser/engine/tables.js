// Gives back what one rule table says in one state, for every candidate (or combination of candidates) it
// names.
//
// A row counts when its box meets the answers. With single answers that is exactly one row of a `unique`
// table; with sets it is every row that some completion of the answers reaches, and so the bounds hold for
// all of them. A combination is a list of candidate places; as a key of a Map it is written "3", or "3 0" for
// two decisions.
//
// Bounds are {worst, best}: ranks between which a verdict lies for every completion. An entry is a row that
// counts, {row, rank, certain}: its place (or NO_VALUE), its verdict's rank, and whether every completion
// reaches it. An outcome is {bounds, entries, lacking}, `lacking` being the rows that ask for a value which
// there may be none of. Twin of generator/evaluate/tables.py.

import { both, indexColumn, placesOf, rowsReached } from "./columns.js";
import { NOT_APPLICABLE } from "./model.js";

export const NO_VALUE = -1; // stands for a row: a derived column has no value
export const OPEN = 1; // ranks in VERDICTS
export const SUITABLE = 3;

// The table with what makes it quick to read; made once per pack. Columns are named by their place.
//
// `steady` columns hold the same answer for every candidate, `moving` ones a derived value per candidate,
// which is to say per combination of the `driving` decisions' candidates (all of those: `driven`). `speaking`
// are the rows that speak of such a combination, `named[row]` the keys of the full combinations that the row
// speaks of, by their driving part. `settled[row]` is the outcome where this row alone counts, for every
// completion. `fixed` is what a table that reads no answer always says.
export function indexTable(pack, table) {
  const decisions = new Map(pack.decisions.map((decision) => [decision.id, decision]));
  const derived = new Map(pack.derived.map((item) => [item.id, item]));
  const ids = new Map(pack.inputs.map((item) => [item.id, optionIds(item)]));
  const steady = [];
  const moving = [];
  const needed = new Set();
  table.columns.forEach((column, place) => {
    if (column.source === "decision") return;
    const needs = column.source === "derived" ? derived.get(column.name).decisions : [];
    (needs.length > 0 ? moving : steady).push(place);
    for (const name of needs) needed.add(name);
  });
  const driving = table.decisions.map((_, place) => place)
    .filter((place) => needed.has(table.decisions[place]));
  const driven = everyCombination(
    driving.map((place) => decisions.get(table.decisions[place]).candidates.map((_, i) => i)));
  const named = table.rows.map((row) => namedBy(table, row.cells, decisions, driving));
  const index = {
    table,
    columns: table.columns.map((column, place) =>
      (column.source === "decision" ? null : indexColumn(table, place, ids.get(column.name) ?? []))),
    steady, moving, driving, driven,
    speaking: new Map(driven.map((part) => [part.join(" "), named.reduce((rows, combinations, row) =>
      (combinations.has(part.join(" ")) ? rows | (1n << BigInt(row)) : rows), 0n)])),
    named, settled: table.rows.map((_, row) => outcomeOf(table, [{ row, certain: true, short: 0 }])),
    fixed: null,
  };
  if (steady.length > 0 || moving.length > 0) return index;
  return { ...index, fixed: readTable(index, new Map(), new Map()) };
}

// The outcome for every combination of candidate places, in the order of table.decisions: a Map by key.
//
// `steady` gives the answer of each steady column by place; `moving` those of the moving columns for each
// combination of the driving decisions' candidates, by key. Combinations that no row reaches are left out: no
// effect.
export function readTable(index, steady, moving) {
  if (index.fixed !== null) return index.fixed;
  const every = (1n << BigInt(index.table.rows.length)) - 1n;
  let reach = { rows: every, sure: every, perhaps: 0n, never: 0n };
  for (const place of index.steady) reach = both(reach, rowsReached(index.columns[place], steady.get(place)));
  const found = new Map();
  for (const [driven, speaking] of index.speaking) {
    let here = reach;
    for (const place of index.moving) {
      here = both(here, rowsReached(index.columns[place], moving.get(driven).get(place)));
    }
    for (const row of placesOf(here.rows & speaking)) {
      const bit = 1n << BigInt(row);
      const short = (here.never & bit) !== 0n ? 2 : (here.perhaps & bit) !== 0n ? 1 : 0;
      const state = { row, certain: (here.sure & bit) !== 0n, short };
      for (const combination of index.named[row].get(driven)) {
        const states = found.get(combination);
        if (states === undefined) found.set(combination, [state]);
        else states.push(state);
      }
    }
  }
  const outcomes = new Map();
  for (const [combination, states] of found) {
    const isSettled = states.length === 1 && states[0].certain && states[0].short === 0;
    outcomes.set(combination, isSettled ? index.settled[states[0].row] : outcomeOf(index.table, states));
  }
  return outcomes;
}

// What the rows that count come to. A row is {row, certain, short}: `short` is how it may lack a value (0 no, 1
// perhaps, 2 always).
export function outcomeOf(table, states) {
  const entries = states.filter(({ short }) => short < 2).map(({ row, certain, short }) =>
    ({ row, rank: table.rows[row].verdict, certain: certain && short === 0 }));
  const lacking = states.filter(({ short }) => short > 0).map(({ row }) => row);
  if (lacking.length > 0) { // several rows may lack the same value: it is said once
    const certain = states.some((state) => state.certain && state.short === 2);
    entries.push({ row: NO_VALUE, rank: OPEN, certain });
  }
  const worst = Math.min(...entries.map((entry) => entry.rank));
  let best;
  if (table.hit_policy === "unique") best = Math.max(...entries.map((entry) => entry.rank));
  else best = Math.min(SUITABLE, ...entries.filter((entry) => entry.certain).map((entry) => entry.rank));
  return { bounds: { worst, best }, entries, lacking };
}

// One candidate place out of each pool, in every way; the last pool turns fastest.
export function everyCombination(pools) {
  let found = [[]];
  for (const pool of pools) {
    const longer = [];
    for (const before of found) for (const place of pool) longer.push([...before, place]);
    found = longer;
  }
  return found;
}

// Every id that an answer to a choice input may have, `not_applicable` last where it is allowed.
export function optionIds(item) {
  const ids = item.options.map((option) => option.id);
  return !item.may_be_absent || ids.includes(NOT_APPLICABLE) ? ids : [...ids, NOT_APPLICABLE];
}

// Whether the answer is settled: one number, one id, or certainly absent.
export function isSingle(answer) {
  if (answer.ids !== undefined) return answer.ids.length === 1;
  if (answer.intervals.length === 0) return true;
  const [low, high] = answer.intervals[0];
  return !answer.absent && answer.intervals.length === 1 && low === high;
}

// private

function namedBy(table, cells, decisions, driving) {
  const pools = table.decisions.map((name) => {
    const { candidates } = decisions.get(name);
    let pool = candidates.map((_, i) => i);
    table.columns.forEach((column, place) => {
      if (column.source === "decision" && column.name === name && cells[place] >= 0) {
        const { ids } = column.cells[cells[place]];
        pool = pool.filter((i) => ids.includes(candidates[i].id));
      }
    });
    return pool;
  });
  const named = new Map();
  for (const combination of everyCombination(pools)) {
    const part = driving.map((place) => combination[place]).join(" ");
    if (!named.has(part)) named.set(part, []);
    named.get(part).push(combination.join(" "));
  }
  return named;
}
