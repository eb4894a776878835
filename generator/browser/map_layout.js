// Gives back where a map's slots lie on the sheet, in pixels, and what stands beside its axes.
//
// A span is { low, high }: the pixels of a slot's low end and of its high end. A tick is { at, text, side,
// level }, a name { at, lines, slanted }. Twin of generator/render/map_layout.py.

import { slotWords } from "./map_slots.js";
import { numberText } from "./map_words.js";

export const WIDTH = 960;
export const LETTER = 0.55; // width of an average letter, in heights of the type
export const TYPE = 12;
const MARGIN = 26; // right of the last tick
const TOP = 30;
const APART = 14; // between the numbers and the slot of no number
const WEIGHTS = { band: 1, point: 0.45, absent: 0.9, option: 1, any: 1 };
const NARROWEST = { number: 30, choice: 24, "": 30 };
const LABEL = 150; // room for the names of rows
const SLANT = 0.62; // cosine and sine of the slanted names, about

// Where everything lies. A column is null where the axis has none.
export function layoutOf(xs, ys, x, y) {
  const left = leftOf(ys, y);
  const top = TOP;
  const room = WIDTH - left - MARGIN;
  const spansX = spread(xs, left, Math.max(room, weight(xs) * NARROWEST[x ? x.kind : ""] + gaps(xs)));
  const right = Math.max(...spansX.map((span) => span.high));
  const height = heightOf(ys, y);
  const spansY =
    y?.kind === "number"
      ? spread(ys, 0, height).map(({ low, high }) => ({ low: top + height - low, high: top + height - high }))
      : spread(ys, top, height);
  const bottom = Math.max(...spansY.map((span) => Math.max(span.low, span.high)));
  const xNames = x ? namesOf(xs, spansX, x, false) : [];
  const xTicks = x ? levelled(ticksOf(xs, spansX, x), xNames) : [];
  const yTicks = y ? ticksOf(ys, spansY, y) : [];
  const yNames = y ? namesOf(ys, spansY, y, true) : [];
  const depth = depthOf(xTicks, xNames);
  return {
    width: right + MARGIN,
    height: bottom + depth + 26,
    left,
    top,
    right,
    bottom,
    xs: spansX,
    ys: spansY,
    x_ticks: xTicks,
    y_ticks: yTicks,
    x_names: xNames,
    y_names: yNames,
    x_depth: depth,
  };
}

export function textWidth(text, size) {
  return text.length * size * LETTER;
}

// The text in lines of at most so many letters, broken at blanks.
export function wrapped(text, letters) {
  const lines = [];
  for (const word of text.split(" ")) {
    if (lines.length && lines.at(-1).length + 1 + word.length <= letters)
      lines[lines.length - 1] += ` ${word}`;
    else lines.push(word);
  }
  return lines;
}

// The pixel of a number within its slot, off the ends by `inset` so that it is seen on which side it lies.
export function placeOf(slot, span, number, inset) {
  const middle = (span.low + span.high) / 2;
  if (slot.kind !== "band" || slot.high === slot.low) return middle;
  const share = (number - slot.low) / (slot.high - slot.low);
  const margin = Math.min(inset, lengthOf(span) / 2);
  const at = span.low + share * (span.high - span.low);
  return Math.min(Math.max(at, firstOf(span) + margin), firstOf(span) + lengthOf(span) - margin);
}

export function firstOf(span) {
  return Math.min(span.low, span.high);
}

export function lengthOf(span) {
  return Math.abs(span.high - span.low);
}

// private

function leftOf(ys, y) {
  if (!y) return 26;
  if (y.kind === "choice") {
    const longest = Math.max(...y.options.map(([, title]) => textWidth(title, TYPE)));
    return Math.min(LABEL, Math.ceil(longest)) + 16;
  }
  const texts = ys.flatMap((slot) => [numberText(slot.low), numberText(slot.high)]);
  if (ys.some((slot) => slot.kind === "absent")) texts.push(y.absent);
  return Math.max(48, Math.ceil(Math.max(...texts.map((text) => textWidth(text, TYPE)))) + 22);
}

function weight(slots) {
  return slots.reduce((sum, slot) => sum + WEIGHTS[slot.kind], 0);
}

function gaps(slots) {
  return APART * slots.slice(1).filter((slot) => slot.kind === "absent").length;
}

function heightOf(ys, y) {
  if (!y) return 64;
  if (y.kind === "choice") return ys.length * (ys.length <= 14 ? 34 : ys.length <= 30 ? 28 : 20);
  return weight(ys) * (ys.length <= 10 ? 44 : 32) + gaps(ys);
}

function spread(slots, start, room) {
  const unit = (room - gaps(slots)) / weight(slots);
  let at = start;
  return slots.map((slot, place) => {
    at += slot.kind === "absent" && place > 0 ? APART : 0;
    const end = at + unit * WEIGHTS[slot.kind];
    const span = { low: at, high: end };
    at = end;
    return span;
  });
}

function ticksOf(slots, spans, column) {
  if (column.kind !== "number") return [];
  const ticks = [];
  const numbers = slots.map((_, place) => place).filter((place) => slots[place].kind !== "absent");
  for (const place of numbers) {
    const [slot, span, before] = [slots[place], spans[place], slots[place - 1]];
    if (slot.kind === "point") {
      ticks.push(tick((span.low + span.high) / 2, `= ${numberText(slot.low)}`, 0));
      continue;
    }
    if (before === undefined) ticks.push(tick(span.low, numberText(slot.low), 0));
    else if (before.kind === "band") ticks.push(tick(span.low, numberText(slot.low), slot.low_in ? 1 : -1));
    if (place === numbers.at(-1)) ticks.push(tick(span.high, numberText(slot.high), 0));
  }
  return ticks;
}

function tick(at, text, side) {
  return { at, text, side, level: 0 };
}

// Ticks moved to a second or third line where their texts would meet each other or a name beside them.
function levelled(ticks, names) {
  const ends = [-Infinity, -Infinity, -Infinity];
  const edges = names.map(
    (name) => name.at - Math.max(...name.lines.map((line) => textWidth(line, TYPE))) / 2,
  );
  const wall = Math.min(Infinity, ...edges);
  return ticks.map((one) => {
    const half = textWidth(one.text, TYPE) / 2 + 3;
    const lowest = one.at + half > wall ? 1 : 0;
    const level =
      [0, 1, 2].find((number) => number >= lowest && one.at - half >= ends[number]) ?? lowest;
    ends[level] = one.at + half;
    return { ...one, level };
  });
}

function namesOf(slots, spans, column, upright) {
  const shown = slots
    .map((slot, place) => [slot, spans[place]])
    .filter(([slot]) => slot.kind === "option" || slot.kind === "absent");
  const middle = (span) => (span.low + span.high) / 2;
  if (upright) {
    const letters = Math.trunc(LABEL / (TYPE * LETTER));
    return shown.map(([slot, span]) => ({
      at: middle(span),
      lines: wrapped(slotWords(column, slot), letters),
      slanted: false,
    }));
  }
  const isNarrow = shown.some(([slot, span]) =>
    slotWords(column, slot)
      .split(" ")
      .some((word) => textWidth(word, TYPE) > lengthOf(span) - 4),
  );
  const slanted = isNarrow && column.kind === "choice";
  return shown.map(([slot, span]) => {
    const title = slotWords(column, slot);
    const letters = Math.trunc((lengthOf(span) - 4) / (TYPE * LETTER));
    return { at: middle(span), lines: slanted ? [title] : wrapped(title, letters), slanted };
  });
}

function depthOf(ticks, names) {
  const depths = [24 + 14 * Math.max(0, ...ticks.map((one) => one.level))];
  for (const { slanted, lines } of names) {
    depths.push(slanted ? 10 + SLANT * textWidth(lines[0], TYPE) + 8 : 10 + 14 * lines.length);
  }
  return Math.max(...depths);
}
