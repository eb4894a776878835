// Gives back an axis of a map: the values of one column in slots that no rule in view tells apart.
//
// A slot is { kind, option, low, low_in, high, high_in, rows, lacking }; `kind` is band, point, absent,
// option, or any; `rows` and `lacking` are BigInts (bit i: the i-th row in view). Twin of
// generator/render/map_slots.py.

import { intervalText } from "./map_words.js";

// The slots of the column at `place` as the given rows of the table cut it, from low to high or in order.
export function columnSlots(sheet, place, rows) {
  const column = sheet.columns[place];
  const { cells } = sheet.table.columns[place];
  const asking = rowsByCell(rows.map((row) => sheet.table.rows[row].cells[place]));
  const free = asking.get(-1) ?? 0n;
  asking.delete(-1);
  const every = everyRow(rows);
  const reached = (key) => free | union(asking, (cell) => holds(cells[cell], key));
  if (column.kind === "choice") {
    return column.options.map(([option]) => made("option", option, reached(option), 0n));
  }
  const slots = numberSlots(column, cells, asking, free);
  if (!column.absent) return slots;
  // Whatever asks for a derived value finds none, and what does not ask is not concerned.
  const isDerived = column.source === "derived";
  return [...slots, made("absent", "", isDerived ? every : reached(null), isDerived ? every & ~free : 0n)];
}

// The one slot of an axis that no column stands on.
export function anySlot(rows) {
  return made("any", "", everyRow(rows), 0n);
}

// A value of the slot: an end that belongs to it, else its middle; null: there is no number.
export function keyOf(slot) {
  if (slot.kind === "option") return slot.option;
  if (slot.kind === "absent") return null;
  if (slot.low_in) return slot.low;
  return slot.high_in ? slot.high : (slot.low + slot.high) / 2;
}

// Whether a value lies in the slot.
export function has(slot, key) {
  if (slot.kind === "any") return true;
  if (slot.kind === "option") return key === slot.option;
  if (slot.kind === "absent" || key === null) return slot.kind === "absent" && key === null;
  return typeof key === "number" && within(slot, key);
}

// The conditions of a column (-1 is none) that hold at a value; a derived value may be asked for in vain.
export function cellsHolding(sheet, place, key) {
  const { cells } = sheet.table.columns[place];
  const inVain = key === null && sheet.columns[place].source === "derived";
  const held = cells.map((_, number) => number).filter((number) => inVain || holds(cells[number], key));
  return new Set([-1, ...held]);
}

// The slot in words: `above 40 up to 60 °C`, `PFA`, `not applicable`.
export function slotWords(column, slot) {
  if (slot.kind === "option") return column.options.find(([option]) => option === slot.option)[1];
  if (slot.kind === "absent") return column.absent;
  return intervalText(slot, column.low, column.high, column.unit);
}

// private

function holds(cell, key) {
  if (cell.ids !== undefined) return cell.ids.includes(key);
  if (typeof key !== "number") return key === null && cell.absent;
  return cell.intervals.some((part) => within(part, key));
}

function within(part, key) {
  return (
    (part.low < key || (part.low_in && part.low === key)) &&
    (key < part.high || (part.high_in && part.high === key))
  );
}

function made(kind, option, rows, lacking) {
  return { kind, option, low: 0, low_in: true, high: 0, high_in: true, rows, lacking };
}

function numberSlots(column, cells, asking, free) {
  const ends = [...asking.keys()].flatMap((cell) =>
    cells[cell].intervals.flatMap((part) => [part.low, part.high]),
  );
  const inner = ends.filter((end) => column.low < end && end < column.high);
  const cuts = [...new Set([column.low, column.high, ...inner])].sort((a, b) => a - b);
  const atoms = Array.from({ length: 2 * cuts.length - 1 }, (_, atom) => {
    const number = atom % 2 === 0 ? cuts[atom / 2] : (cuts[(atom - 1) / 2] + cuts[(atom + 1) / 2]) / 2;
    return free | union(asking, (cell) => holds(cells[cell], number));
  });
  const slots = [];
  for (let first = 0, last; first < atoms.length; first = last + 1) {
    for (last = first; atoms[last + 1] === atoms[first];) last += 1;
    slots.push({
      kind: first === last && first % 2 === 0 ? "point" : "band",
      option: "",
      low: cuts[Math.floor(first / 2)],
      low_in: first % 2 === 0,
      high: cuts[Math.floor((last + 1) / 2)],
      high_in: last % 2 === 0,
      rows: atoms[first],
      lacking: 0n,
    });
  }
  return slots;
}

function everyRow(rows) {
  return (1n << BigInt(rows.length)) - 1n;
}

// The rows (as bits) that have each condition of a column; -1 is none.
function rowsByCell(used) {
  const found = new Map();
  used.forEach((cell, place) => found.set(cell, (found.get(cell) ?? 0n) | (1n << BigInt(place))));
  return found;
}

function union(asking, isWanted) {
  let bits = 0n;
  for (const [cell, rows] of asking) if (isWanted(cell)) bits |= rows;
  return bits;
}
