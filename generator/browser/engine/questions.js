// Gives back the open inputs: the raw answers, traced through formulas, that could still move a verdict.
// Twin of generator/evaluate/questions.py.

import { NO_VALUE, isSingle } from "./tables.js";

// Those behind every table whose outcome is unsettled and could be worse than the best still possible, as
// [state, input] in the order of states and of the vocabulary. A settled verdict has none.
export function openInputs(prepared, readings, decision, candidate, verdict, groups, inPlay) {
  if (verdict.worst === verdict.best) return [];
  const found = new Set();
  for (const reading of readings.get(String(decision))?.found ?? []) {
    addBehind(found, prepared, reading, [candidate], verdict);
  }
  for (const group of groups) {
    if (group.bounds.worst === group.bounds.best) continue;
    for (const reading of readings.get(group.decisions.join(" ")).found) {
      addBehind(found, prepared, reading, group.partner, verdict);
    }
    group.decisions.forEach((other, i) => {
      if (other === decision || inPlay[other].sure.includes(group.partner[i])) return;
      for (const reading of readings.get(String(other))?.found ?? []) {
        addBehind(found, prepared, reading, [group.partner[i]], verdict);
      }
    });
  }
  return inOrder(prepared, found);
}

// The same for one candidate per decision.
export function openInputsOfSelection(prepared, readings, chosen, verdict) {
  if (verdict.worst === verdict.best) return [];
  const found = new Set();
  for (const { decisions, found: shared } of readings.values()) {
    const combination = decisions.map((place) => chosen[place]);
    for (const reading of shared) addBehind(found, prepared, reading, combination, verdict);
  }
  return inOrder(prepared, found);
}

// private

function inOrder(prepared, found) {
  const { states, inputs } = prepared.order;
  return [...found].map((pair) => pair.split(" ")).sort(([state, input], [other, beside]) =>
    states.get(state) - states.get(other) || inputs.get(input) - inputs.get(beside));
}

function addBehind(found, prepared, reading, combination, verdict) {
  const outcome = reading.outcomes.get(combination.join(" "));
  if (outcome === undefined || outcome.bounds.worst === outcome.bounds.best) return;
  if (outcome.bounds.worst >= verdict.best) return;
  const { state, answers, asks } = reading.part;
  for (const name of columnsOf(prepared, reading, outcome)) {
    for (const item of prepared.behind.get(name)) {
      if (isSingle(answers.get(item))) continue;
      for (const asked of asks.get(item) ?? [item]) found.add(`${state} ${asked}`);
    }
  }
}

// The columns in which the rows that count, or may lack a value, set a condition.
function columnsOf(prepared, reading, outcome) {
  const table = prepared.pack.tables[reading.table];
  const counted = outcome.entries.map((entry) => entry.row).filter((row) => row !== NO_VALUE);
  const places = [...counted, ...outcome.lacking];
  return table.columns
    .filter((column, at) => column.source !== "decision" &&
      places.some((place) => table.rows[place].cells[at] >= 0))
    .map((column) => column.name);
}
