// Gives back what may move: the number columns of the tables that name only one decision, each with the states and
// components in which it moves at once. Twin of generator/evaluate/axes.py.

import { CONCENTRATION, MEDIUM } from "./model.js";

// State by state every number column of the decision's own tables; what all states share in the first one. An axis is
// {column, derived, parts, range, made}: a column that moves within `range`, in every one of `parts` at once, and the
// derived values that follow it (`made`).
export function axes(situation, decision) {
  const { prepared, parts } = situation;
  const { pack, behind } = prepared;
  const read = new Set(prepared.decisions.flatMap((names, place) =>
    (names.length === 1 && names[0] === decision
      ? prepared.tables[place].table.columns.filter((column) => column.kind === "number") : []))
    .map((column) => column.name));
  const inputs = pack.inputs.filter((item) => read.has(item.id));
  const derived = pack.derived.filter((item) => read.has(item.id));
  const made = new Map(inputs.map((item) => [item.id,
    new Set(derived.map((one) => one.id).filter((id) => behind.get(id).has(item.id)))]));
  const shared = new Set(pack.inputs.filter((item) => !item.per_state).map((item) => item.id));
  const every = [...parts.values()].flat();
  const [first] = parts.keys();
  const found = [];
  for (const [state, several] of parts) {
    for (const item of inputs) {
      const range = { low: item.low, low_in: true, high: item.high, high_in: true };
      const axis = (some) =>
        found.push({ column: item.id, derived: false, parts: some, range, made: made.get(item.id) });
      if (item.per_state) (item.id === CONCENTRATION ? byComponent(several) : [several]).forEach(axis);
      else if (state === first) axis(every);
    }
    for (const one of derived) {
      const axis = (some) =>
        found.push({ column: one.id, derived: true, parts: some, range: one.valid, made: new Set() });
      const names = behind.get(one.id);
      if (![...names].every((name) => shared.has(name))) {
        (names.has(MEDIUM) || names.has(CONCENTRATION) ? byComponent(several) : [several]).forEach(axis);
      } else if (state === first) {
        axis(every);
      }
    }
  }
  return found;
}

// private

// The parts by the component whose medium and concentration they are asked with: the whole and the pairs go with the
// first.
function byComponent(parts) {
  const others = parts.filter(({ components }) => components.length === 1 && components[0] !== 1);
  return [parts.filter((part) => !others.includes(part)), ...others.map((part) => [part])];
}
