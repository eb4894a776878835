// Gives back a pack made ready for many applications: its indexes are worked out once.
// Twin of generator/evaluate/prepared.py.

import { CONCENTRATION, MEDIUM, MIXED_WITH, NOT_APPLICABLE } from "./model.js";
import { prepareFormulas } from "./formulas.js";
import { indexTable, optionIds } from "./tables.js";

// The pack with its indexes. `blank` is the answer that says nothing, per input; `recorded` the inputs that a
// medium's record may answer; `decisions` the places of each table's decisions; `behind` the raw inputs that an
// input or a derived value is made of. `mixtures` are the kinds of pairs with the media of both sides, `noKind`
// the kind of a pair of no other. `asks` are the inputs behind each table's columns, and `askedOf` says for how
// many components at once it is read: none, one or two. `order` is that of the states and of the inputs.
export function prepare(pack) {
  const places = new Map(pack.decisions.map((decision, place) => [decision.id, place]));
  const behind = rawInputs(pack);
  const asks = pack.tables.map((table) => asked(table, behind));
  return {
    pack, tables: pack.tables.map((table) => indexTable(pack, table)),
    decisions: pack.tables.map((table) => table.decisions.map((name) => places.get(name))),
    sizes: pack.decisions.map((decision) => decision.candidates.length),
    blank: new Map(pack.inputs.map((item) => [item.id, wholeRange(item)])),
    recorded: pack.inputs.filter((item) => item.recorded), behind,
    mixtures: pack.mixtures.filter((kind) => kind.one.length > 0),
    noKind: pack.mixtures.filter((kind) => kind.one.length === 0).map((kind) => kind.id),
    asks, askedOf: asks.map(componentsAsked),
    order: { states: placesIn(pack.states), inputs: placesIn(pack.inputs) },
    formulas: prepareFormulas(pack),
  };
}

// The set of all answers that an input allows: what a blank means.
export function wholeRange(item) {
  if (item.kind === "choice") return { ids: optionIds(item) };
  return { intervals: [[item.low, item.high]], absent: item.may_be_absent };
}

// The answers of a state with every input in them, those not answered as what their blank means.
export function allAnswers(prepared, state) {
  const known = new Map(state.answers);
  const answers = new Map([...prepared.blank, ...known]);
  for (const item of prepared.recorded) {
    if (!known.has(item.id) && !mayBe(prepared, answers, state, item.asked_for)) {
      answers.set(item.id, absent(item));
    }
  }
  return answers;
}

// The answer `not applicable`.
export function absent(item) {
  return item.kind === "choice" ? { ids: [NOT_APPLICABLE] } : { intervals: [], absent: true };
}

// Per input and derived value the inputs it is made of, traced through formulas.
export function rawInputs(pack) {
  const behind = new Map(pack.inputs.map((item) => [item.id, new Set([item.id])]));
  for (const item of pack.derived) {
    const sources = item.arguments.filter(({ kind }) => kind !== "candidate" && kind !== "figure");
    behind.set(item.id, new Set(sources.flatMap((argument) => [...behind.get(argument.name)])));
  }
  return behind;
}

// What a table is asked in one state: its steady columns' answers by place, and the moving ones' per
// combination of the driving decisions' candidates. `answers` names every input, `derived` every derived
// value.
export function columnAnswers(prepared, index, answers, derived) {
  const { columns } = index.table;
  const steady = new Map(index.steady.map((place) => [place, columns[place].source === "derived"
    ? derived.get(columns[place].name).get("") : answers.get(columns[place].name)]));
  const moving = new Map();
  if (index.moving.length > 0) {
    const names = index.driving.map((place) => index.table.decisions[place]);
    for (const driven of index.driven) {
      const at = new Map(names.map((name, i) => [name, driven[i]]));
      moving.set(driven.join(" "), new Map(index.moving.map((place) => {
        const needs = prepared.formulas.decisions.get(columns[place].name);
        return [place, derived.get(columns[place].name).get(needs.map((name) => at.get(name)).join(" "))];
      })));
    }
  }
  return [steady, moving];
}

// private

// Whether a component of the liquid may be one of these media.
function mayBe(prepared, answers, state, media) {
  const every = [answers.get(MEDIUM),
    ...(state.components ?? []).map((one) => one.medium ?? prepared.blank.get(MEDIUM))];
  return every.some((medium) => medium.ids.some((id) => media.includes(id)));
}

function asked(table, behind) {
  return [...new Set(table.columns.filter((column) => column.source !== "decision")
    .flatMap((column) => [...behind.get(column.name)]))];
}

function placesIn(items) {
  return new Map(items.map((item, place) => [item.id, place]));
}

function componentsAsked(names) {
  if (names.includes(MIXED_WITH)) return 2;
  return names.includes(MEDIUM) || names.includes(CONCENTRATION) ? 1 : 0;
}
