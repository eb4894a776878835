// Gives back the parts in which a liquid is read: the whole of it, each component by itself, and each pair.
//
// A table about the medium is read for every component, so that the worst one decides; a table about pairs is
// read for every kind that a pair is of. A medium by itself is one part, and costs nothing more. A part is
// {state, components, answers, derived, asks}: `components` are the places, from 1, of the components it is
// about; `asks` the inputs to ask instead where an input is not settled in this part.
// Twin of generator/evaluate/mixtures.py.

import { derivedValues } from "./formulas.js";
import { metBefore, newMemory } from "./memory.js";
import { CONCENTRATION, MEDIUM, MIXED_WITH, NOT_APPLICABLE } from "./model.js";
import { allAnswers } from "./prepared.js";
import { isSingle } from "./tables.js";

// The whole, then every component, then every pair by each kind that it may be of.
export function partsOf(prepared, state, memory = newMemory()) {
  const answers = metBefore(memory, allAnswers(prepared, state));
  const derived = derivedValues(prepared.formulas, answers, memory);
  const whole = { state: state.state, components: [], answers, derived, asks: new Map() };
  const further = state.components ?? [];
  if (further.length === 0) return [whole];
  const liquids = [[answers.get(MEDIUM), answers.get(CONCENTRATION)], ...further.map((one) =>
    [one.medium ?? prepared.blank.get(MEDIUM), one.concentration ?? prepared.blank.get(CONCENTRATION)])];
  const alone = liquids.map(([medium, concentration], i) => {
    const known = new Map([...answers, ...metBefore(memory, [[MEDIUM, medium], [CONCENTRATION, concentration]])]);
    const asks = i === 0 ? [] : [[MEDIUM, [MIXED_WITH]], [CONCENTRATION, [MIXED_WITH]]];
    return {
      state: state.state, components: [i + 1], answers: known,
      derived: derivedValues(prepared.formulas, known, memory), asks: new Map(asks),
    };
  });
  const pairs = [];
  liquids.forEach(([first], i) => liquids.slice(i + 1).forEach(([second], k) => {
    const names = [[i === 0 ? MEDIUM : MIXED_WITH, first], [MIXED_WITH, second]]
      .filter(([, medium]) => !isSingle(medium)).map(([name]) => name);
    for (const [kind, certain] of kindsOf(prepared, first.ids, second.ids)) {
      const answer = { ids: certain ? [kind] : [kind, NOT_APPLICABLE] };
      pairs.push({
        state: state.state, components: [i + 1, i + k + 2],
        answers: new Map([...answers, ...metBefore(memory, [[MIXED_WITH, answer]])]),
        derived, asks: new Map([[MIXED_WITH, names]]),
      });
    }
  }));
  return [whole, ...alone, ...pairs];
}

// The kinds of mixture that some pair of these media is of, and whether every pair is: [[kind, certain], ...].
export function kindsOf(prepared, one, other) {
  const counted = new Map();
  for (const first of one) {
    for (const second of other) {
      const named = prepared.mixtures.filter((kind) =>
        (kind.one.includes(first) && kind.other.includes(second)) ||
        (kind.one.includes(second) && kind.other.includes(first))).map((kind) => kind.id);
      for (const kind of named.length > 0 ? named : prepared.noKind) {
        counted.set(kind, (counted.get(kind) ?? 0) + 1);
      }
    }
  }
  return [...prepared.mixtures.map((kind) => kind.id), ...prepared.noKind].filter((kind) => counted.has(kind))
    .map((kind) => [kind, counted.get(kind) === one.length * other.length]);
}

// Those of one state that a table (a place in the pack) is read for.
export function partsRead(prepared, table, parts) {
  const wanted = parts.length > 1 ? prepared.askedOf[table] : 0;
  return parts.filter((part) => part.components.length === wanted);
}
