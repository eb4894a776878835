// Gives back the derived values of one state: every formula, for every candidate that it depends on.
//
// A value is a set, as an answer is: a single number from single answers, bounds from bounds. Outside the
// validity of the formula or the range of the derived value there is no value, which is `absent`. A
// combination of candidates is a list of places; as a key it is written "3" or "3 0", and "" when there is
// none. Twin of generator/evaluate/formulas.py.

import { evaluateExpression, prepareExpression } from "./expressions.js";
import { remembered } from "./memory.js";
import { roundTo12 } from "./numbers.js";

export const NO_VALUE = Object.freeze({ intervals: Object.freeze([]), absent: true });

// The derived values of a pack with their indexes; made once per pack.
//
// {decisions: Map(derived, [decision]), options: Map(input, Map(option id, option)), items, figures}; an item has
// `steady`, `candidate` and `moving` (places in the derived value's arguments), as in the Python twin.
export function prepareFormulas(pack) {
  const formulas = new Map(pack.formulas.map((formula) => [formula.id, formula]));
  const decisions = new Map(pack.decisions.map((decision) => [decision.id, decision]));
  const needs = new Map([...pack.figures, ...pack.derived].map((item) => [item.id, item.decisions]));
  const computes = new Map(pack.formulas.map((formula) =>
    [formula.id, prepareExpression(formula.expression)]));
  const inputs = new Map(pack.inputs.map((item) => [item.id, [item.id]]));
  for (const item of pack.derived) {
    const names = item.arguments.flatMap((argument) => inputs.get(argument.name) ?? []);
    inputs.set(item.id, [...new Set(names)]);
  }
  return {
    decisions: needs,
    options: new Map(pack.inputs.map((item) =>
      [item.id, new Map(item.options.map((option) => [option.id, option]))])),
    items: pack.derived.map((derived) =>
      prepare(derived, formulas.get(derived.formula), computes.get(derived.formula), decisions, needs,
        inputs.get(derived.id))),
    figures: new Map(pack.figures.map((figure) => [figure.id, figureValues(figure, decisions)])),
  };
}

// The formula's value, rounded to 12 digits, in its own unit; arguments are in the units of their symbols.
//
// `absent` where an argument may be absent or lie outside its validity, or where the arithmetic has no value.
export function evaluateFormula(formula, args) {
  const spans = Object.fromEntries(formula.symbols.map((symbol) =>
    [symbol.id, within(args[symbol.id], symbol.valid)]));
  return valueOf(formula, prepareExpression(formula.expression), spans);
}

// Every derived value of one state, by id and then by the places of the candidates it depends on (Maps);
// figures stand among them, since other values are made of both.
//
// `answers` is a Map that names every input; a blank one by all that it allows. With a memory they were met before.
export function derivedValues(prepared, answers, memory = null) {
  const found = new Map(prepared.figures);
  for (const item of prepared.items) {
    const work = () => derive(prepared, item, answers, found);
    found.set(item.derived.id,
      memory === null ? work() : remembered(memory, item.derived.id, item.inputs, answers, work));
  }
  return found;
}

// private

function prepare(derived, formula, compute, decisions, needs, inputs) {
  const steady = [], candidate = [], moving = [];
  derived.arguments.forEach((argument, place) => {
    if (argument.kind === "candidate") candidate.push(place);
    else if (["derived", "figure"].includes(argument.kind) && needs.get(argument.name).length > 0) moving.push(place);
    else steady.push(place);
  });
  const symbols = new Map(formula.symbols.map((symbol) => [symbol.id, symbol.valid]));
  const valids = derived.arguments.map((argument) => symbols.get(argument.symbol));
  const owners = candidate.map((place) => derived.arguments[place].name);
  const properties = candidate.map((place, i) => decisions.get(owners[i]).candidates.map(
    (option) => property(derived.arguments[place], valids[place], option)));
  const projections = moving.map((place) =>
    needs.get(derived.arguments[place].name).map((name) => derived.decisions.indexOf(name)));
  return {
    derived, formula, compute, valids,
    sizes: derived.decisions.map((name) => decisions.get(name).candidates.length),
    steady, candidate, moving, inputs,
    owners: owners.map((owner) => derived.decisions.indexOf(owner)), properties, projections,
  };
}

// The number of every pair of candidates; no value where the figure names none.
function figureValues(figure, decisions) {
  const known = new Map(figure.values.map(([first, second, number]) => [`${first} ${second}`, number]));
  const [one, other] = figure.decisions.map((name) => decisions.get(name).candidates);
  const values = new Map();
  one.forEach((first, i) => other.forEach((second, j) => {
    const number = known.get(`${first.id} ${second.id}`);
    values.set(`${i} ${j}`, number === undefined ? NO_VALUE : { intervals: [[number, number]], absent: false });
  }));
  return values;
}

function property(argument, valid, option) {
  const number = numberOf(option, argument.property);
  if (number === null) return null;
  return argumentSpan(argument, valid, { intervals: [[number, number]], absent: false });
}

function numberOf(option, name) {
  const pair = option.numbers.find(([known]) => known === name);
  return pair === undefined ? null : pair[1];
}

function derive(prepared, item, answers, found) {
  const args = item.derived.arguments;
  const spans = {};
  for (const place of item.steady) {
    const argument = args[place];
    let known = answers.get(argument.name);
    if (argument.kind === "derived") {
      known = found.get(argument.name).get("");
    } else if (argument.kind === "option") {
      known = optionNumbers(argument, known, prepared.options.get(argument.name));
    }
    spans[argument.symbol] = argumentSpan(argument, item.valids[place], known);
  }
  const values = new Map();
  for (const combination of combinations(item.sizes)) {
    item.candidate.forEach((place, i) => {
      spans[args[place].symbol] = item.properties[i][combination[item.owners[i]]];
    });
    item.moving.forEach((place, i) => {
      const key = item.projections[i].map((at) => combination[at]).join(" ");
      const known = found.get(args[place].name).get(key);
      spans[args[place].symbol] = argumentSpan(args[place], item.valids[place], known);
    });
    values.set(combination.join(" "), clip(valueOf(item.formula, item.compute, spans), item.derived.valid));
  }
  return values;
}

function combinations(sizes) {
  let found = [[]];
  for (const size of sizes) {
    found = found.flatMap((before) => Array.from({ length: size }, (_, place) => [...before, place]));
  }
  return found;
}

// The hull of the numbers that the possible options have; `not_applicable` is no option and has none.
function optionNumbers(argument, answer, options) {
  const numbers = answer.ids.map((name) =>
    (options.has(name) ? numberOf(options.get(name), argument.property) : null));
  const known = numbers.filter((number) => number !== null);
  if (known.length === 0) return NO_VALUE;
  return { intervals: [[Math.min(...known), Math.max(...known)]], absent: known.length < numbers.length };
}

// The set in the symbol's unit, within the symbol's validity.
function argumentSpan(argument, valid, known) {
  if (argument.n !== 1 || argument.k !== 0 || argument.d !== 1) {
    const intervals = known.intervals.map(([low, high]) => convert(argument, low, high));
    known = { intervals, absent: known.absent };
  }
  return within(known, valid);
}

function convert(argument, low, high) {
  const { n, k, d } = argument;
  const ends = [roundTo12((low * n + k) / d), roundTo12((high * n + k) / d)];
  return [Math.min(...ends), Math.max(...ends)];
}

// The hull of what lies within the validity, its ends taken as closed; null if nothing does.
function within(known, valid) {
  if (known.intervals.length === 0) return null;
  const low = known.intervals[0][0], high = known.intervals[known.intervals.length - 1][1];
  if (low === high && !known.absent && valid.low < low && low < valid.high) {
    return { low, high, partial: false };
  }
  if (low > valid.high || high < valid.low || (low === valid.high && !valid.high_in) ||
      (high === valid.low && !valid.low_in)) return null;
  const outside = low < valid.low || high > valid.high || (low === valid.low && !valid.low_in) ||
    (high === valid.high && !valid.high_in);
  return { low: Math.max(low, valid.low), high: Math.min(high, valid.high),
    partial: known.absent || outside };
}

function valueOf(formula, compute, spans) {
  const points = {};
  let single = true, partial = false;
  for (const [name, span] of Object.entries(spans)) {
    if (span === null) return NO_VALUE;
    points[name] = span.low;
    single = single && span.low === span.high;
    partial = partial || span.partial;
  }
  if (single) {
    const number = compute(points);
    if (!Number.isFinite(number)) return NO_VALUE;
    const rounded = roundTo12(number);
    return { intervals: [[rounded, rounded]], absent: partial };
  }
  const bounds = evaluateExpression(formula.expression, spans);
  if (bounds === null) return NO_VALUE;
  return { intervals: [[roundTo12(bounds.low), roundTo12(bounds.high)]], absent: partial || bounds.partial };
}

// What lies within the range that is declared for the derived value.
function clip(value, valid) {
  if (value.intervals.length === 0) return value;
  const [[low, high]] = value.intervals;
  if (!value.absent && valid.low < low && high < valid.high) return value;
  const span = within(value, valid);
  return span === null ? NO_VALUE : { intervals: [[span.low, span.high]], absent: span.partial };
}
