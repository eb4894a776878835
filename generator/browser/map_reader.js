// Gives back the reader's own answers among the columns of a table, and how they are drawn on its map.
//
// An answer that is not one value is drawn as the band of what it may still be. Only the browser draws this.

import { readApplication } from "./engine/application.js";
import { partsOf, partsRead } from "./engine/mixtures.js";
import { prepare } from "./engine/prepared.js";
import { everyCombination } from "./engine/tables.js";
import { firstOf, layoutOf, lengthOf, placeOf } from "./map_layout.js";
import { node, px } from "./map_nodes.js";
import { has } from "./map_slots.js";
import { selectors } from "./map_view.js";

const RING = 8;
const LANE = 0.77; // the lane of the dots, see map_scene.js

// What an application says in each part of a state that the table is read for, as partsOf gives it.
export function readerStates(pack, table, application) {
  const prepared = prepare(pack);
  const measuring = new Set(pack.states.filter((state) => state.measuring).map((state) => state.id));
  return readApplication(pack, { id: "map", title: "", ...application })
    .application.states.filter(({ state }) => table.always || measuring.has(state))
    .flatMap((answered) => partsRead(prepared, pack.tables.indexOf(table), partsOf(prepared, answered)));
}

// A value for each column that the reader's answers suggest, for `settledView`.
export function readerWants(pack, sheet, reader) {
  const [first] = valuesOf(pack, sheet, reader, new Map());
  const wanted = new Map();
  sheet.columns.forEach((column, place) => {
    const set = first[place];
    if (column.source === "decision" || set === undefined) return;
    if (set.ids !== undefined) {
      if (set.ids.length === 1) wanted.set(column.name, set.ids[0]);
    } else if (set.intervals.length && set.intervals[0][0] === set.intervals[0][1]) {
      wanted.set(column.name, set.intervals[0][0]);
    } else if (!set.intervals.length) {
      wanted.set(column.name, null);
    }
  });
  return wanted;
}

// The nodes of the reader's answers on a picture; none where the chosen values are not among the answers.
export function readerNodes(pack, sheet, view, picture, reader) {
  const [x, y] = [view.x, view.y].map((name) => sheet.columns.find((column) => column.name === name) ?? null);
  const layout = layoutOf(picture.xs, picture.ys, x, y);
  const chosen = new Map(selectors(sheet, view).map((one) => [one.column, one.slots[one.chosen]]));
  const marks = new Map();
  const unseen = sheet.columns.map(({ source }, place) =>
    source === "decision" && sheet.table.rows.every((row) => row.cells[place] < 0));
  for (const values of valuesOf(pack, sheet, reader, chosen)) {
    const isShown = sheet.columns.every(
      (column, place) => !chosen.has(column.name) || meets(chosen.get(column.name), values[place]),
    );
    if (!isShown) continue;
    const told = sheet.columns
      .filter((_, place) => unseen[place])
      .map((column) => column.options.find(([id]) => id === values[sheet.columns.indexOf(column)].ids[0])[1]);
    const set = (column) => (column ? values[sheet.columns.indexOf(column)] : null);
    for (const across of stretches(set(x), picture.xs, layout.xs)) {
      for (const down of stretches(set(y), picture.ys, layout.ys)) {
        for (const mark of marksOf(across, down, told.join(", "))) marks.set(JSON.stringify(mark), mark);
      }
    }
  }
  return [...marks.values()];
}

// private

// The sets of all columns, once per combination of the candidates in view.
function valuesOf(pack, sheet, reader, chosen) {
  const { table } = sheet;
  const decisions = table.decisions.map((name) => pack.decisions.find((one) => one.id === name));
  const pools = decisions.map(({ id, candidates }) =>
    candidates.map((_, place) => place).filter((place) => {
      const slot = chosen.get(id);
      return !slot || has(slot, candidates[place].id);
    }),
  );
  return everyCombination(pools).map((combination) =>
    sheet.columns.map(({ name, source }) => {
      if (source === "input") return reader.answers.get(name);
      const at = (decision) => combination[table.decisions.indexOf(decision)];
      if (source === "decision") {
        const { candidates } = decisions[table.decisions.indexOf(name)];
        return { ids: [candidates[at(name)].id] };
      }
      const needed = pack.derived.find((one) => one.id === name).decisions;
      return reader.derived.get(name).get(needed.map(at).join(" "));
    }),
  );
}

function meets(slot, set) {
  if (set === undefined) return false;
  if (set.ids !== undefined) return set.ids.some((id) => has(slot, id));
  if (set.absent && slot.kind === "absent") return true;
  return set.intervals.some(
    ([low, high]) => has(slot, low) || has(slot, high) || (low < slot.low && slot.high < high),
  );
}

// The pixels of a set along an axis: { from, to, start, end, isPoint }, `start` and `end` those of the slot.
function stretches(set, slots, spans) {
  if (!set) return [whole(spans[0], true)];
  if (set.ids !== undefined) {
    return set.ids.map((id) => whole(spans[slots.findIndex((slot) => has(slot, id))], true));
  }
  const found = set.intervals.map(([low, high]) => {
    const ends = [low, high].map((number) => {
      const place = slots.findIndex((slot) => has(slot, number));
      return { span: spans[place], at: placeOf(slots[place], spans[place], number, low === high ? 7 : 0) };
    });
    const [from, to] = ends.map((end) => end.at).sort((a, b) => a - b);
    const isPoint = low === high;
    const [start, end] = isPoint ? [firstOf(ends[0].span), lastOf(ends[0].span)] : [from, to];
    return { from, to, start, end, isPoint, isRow: false };
  });
  const absent = slots.findIndex((slot) => slot.kind === "absent");
  if (set.absent && absent >= 0) found.push(whole(spans[absent], true));
  return found;
}

function whole(span, isRow) {
  const middle = firstOf(span) + lengthOf(span) / 2;
  return { from: middle, to: middle, start: firstOf(span), end: lastOf(span), isPoint: true, isRow };
}

function lastOf(span) {
  return firstOf(span) + lengthOf(span);
}

function marksOf(across, down, told) {
  if (across.isPoint && down.isPoint) {
    const middle = down.isRow ? down.start + (down.end - down.start) * LANE : down.from;
    const place = { cx: px(across.from), cy: px(middle), r: px(RING) };
    const title = `Your answers${told ? ` for ${told}` : ""}`;
    const ring = node("circle", { class: "map-you__ring", ...place }, node("title", {}, title));
    if (!down.isRow || across.isRow) return [ring];
    const line = { x1: px(across.from), x2: px(across.from), y1: px(down.start), y2: px(down.end) };
    return [node("line", { class: "map-you__line", ...line }), ring];
  }
  const ends = ({ from, start, end, isPoint, isRow }) =>
    isPoint && !isRow ? [from - 3, from + 3] : [start, end];
  const [left, right] = ends(across);
  const [top, bottom] = ends(down);
  const edges = { x: px(left), y: px(top), width: px(right - left), height: px(bottom - top) };
  return [node("rect", { class: "map-you__band", ...edges })];
}
