// Gives back a map before it is drawn: regions of one content, the limits between them, the cases among them.
//
// Regions and limits count in slots of the axes; every point of the two axes lies in exactly one region. An
// outcome is { kind, rank, rules }; `kind` is verdict, none (the table takes nothing away), or gap (no rule
// speaks). Twin of generator/render/map_picture.py.

import { LEFT_OVER, NO_VALUE } from "./map_sheet.js";
import { anySlot, columnSlots, has } from "./map_slots.js";
import { rowsInView, selectors } from "./map_view.js";

export const WAYS = ["up", "down", "side"]; // in which a limit can move
export const OPEN = 1; // the rank of the verdict `open`

// The map of a view. `points` are reference cases, { case, title, expected, values }, a value per column or
// false; `counted` are the limits of this table of which it is known how they could move unnoticed, each
// { column, number, below_in, rules, unnoticed }.
export function pictureOf(sheet, view, points, counted) {
  const places = new Map(sheet.columns.map((column, place) => [column.name, place]));
  const rows = rowsInView(sheet, view.fixed);
  const xs = view.x ? columnSlots(sheet, places.get(view.x), rows) : [anySlot(rows)];
  const ys = view.y ? columnSlots(sheet, places.get(view.y), rows) : [anySlot(rows)];
  const grid = gridOf(sheet, rows, xs, ys, lackingIn(sheet, view, rows, places));
  const dots = dotsOf(sheet, view, xs, ys, points, places);
  const limits = [
    ...limitsOf("x", view.x, xs, ys, grid, sheet, counted),
    ...limitsOf("y", view.y, ys, xs, turnedGrid(grid), sheet, counted),
  ];
  return { xs, ys, regions: regionsOf(xs, ys, grid), limits, dots };
}

// Whether only the table's `otherwise` speaks here.
export function isLeftOver(sheet, outcome) {
  return outcome.rules.length === 1 && outcome.rules[0] === `${sheet.table.id}.${LEFT_OVER}`;
}

// private

// The rows in view that ask for a chosen derived value where there is none.
function lackingIn(sheet, view, rows, places) {
  let bits = 0n;
  for (const [name, key] of view.fixed) {
    if (key !== null || sheet.columns[places.get(name)].source !== "derived") continue;
    rows.forEach((row, number) => {
      if (sheet.table.rows[row].cells[places.get(name)] >= 0) bits |= 1n << BigInt(number);
    });
  }
  return bits;
}

function gridOf(sheet, rows, xs, ys, lacking) {
  const known = new Map();
  return xs.map((x) =>
    ys.map((y) => {
      const reached = x.rows & y.rows;
      const short = (x.lacking | y.lacking | lacking) & reached;
      const key = `${reached} ${short}`;
      if (!known.has(key)) known.set(key, outcomeOf(sheet, rows, reached, short));
      return known.get(key);
    }),
  );
}

// As the engine reads a table at a single point. Equal outcomes of one grid have equal keys.
function outcomeOf(sheet, rows, reached, short) {
  const counted = reached & ~short;
  const said = rows
    .filter((_, place) => (counted >> BigInt(place)) & 1n)
    .map((row) => [sheet.table.rows[row].verdict, sheet.table.rows[row].rule]);
  if (short) said.push([OPEN, `${sheet.table.id}.${NO_VALUE}`]);
  const collects = sheet.table.hit_policy === "collect";
  if (!said.length) return { kind: collects ? "none" : "gap", rank: -1, rules: [] };
  const ranks = said.map(([verdict]) => verdict);
  const worst = Math.min(...ranks);
  const rank = collects || worst === Math.max(...ranks) ? worst : OPEN;
  const deciding = said.filter(([verdict]) => verdict === worst || !collects).map(([, rule]) => rule);
  return { kind: "verdict", rank, rules: [...new Set(deciding)] };
}

function isEqual(one, other) {
  return (
    one === other ||
    (one.kind === other.kind && one.rank === other.rank && one.rules.join(" ") === other.rules.join(" "))
  );
}

function turnedGrid(grid) {
  return grid[0].map((_, y) => grid.map((line) => line[y]));
}

// Neighbouring numbers of one content become one region: along x first, then runs that are equally long.
function regionsOf(xs, ys, grid) {
  const done = [];
  let growing = new Map();
  ys.forEach((slot, y) => {
    const line = grid.map((column) => column[y]);
    const joins = y > 0 && areJoined(ys[y - 1], slot);
    const next = new Map();
    for (const [first, last] of runsOf(xs, line)) {
      const key = `${first} ${last}`;
      const before = joins ? growing.get(key) : undefined;
      if (before) growing.delete(key);
      let run = { x0: first, x1: last, y0: y, y1: y, outcome: line[first] };
      if (before && isEqual(before.outcome, run.outcome)) run = { ...run, y0: before.y0 };
      else if (before) done.push(before);
      next.set(key, run);
    }
    done.push(...growing.values());
    growing = next;
  });
  done.push(...growing.values());
  return done.sort((one, other) => one.y0 - other.y0 || one.x0 - other.x0);
}

function runsOf(slots, outcomes) {
  const runs = [];
  let first = 0;
  for (let place = 1; place <= slots.length; place += 1) {
    if (
      place === slots.length ||
      !isEqual(outcomes[place], outcomes[first]) ||
      !areJoined(slots[place - 1], slots[place])
    ) {
      runs.push([first, place - 1]);
      first = place;
    }
  }
  return runs;
}

// Whether two neighbouring slots touch: options, and `absent`, stand apart.
function areJoined(one, other) {
  return [one, other].every((slot) => slot.kind === "band" || slot.kind === "point");
}

// Where two neighbouring bands of a number axis differ.
function limitsOf(axis, column, slots, across, grid, sheet, counted) {
  const limits = [];
  for (let at = 0; at < slots.length - 1; at += 1) {
    if (!areJoined(slots[at], slots[at + 1])) continue;
    const differs = (one, other) => [at, at + 1].some((side) => !isEqual(grid[side][one], grid[side][other]));
    let first = 0;
    for (let place = 1; place <= across.length; place += 1) {
      const ends =
        place === across.length || differs(place, first) || !areJoined(across[place - 1], across[place]);
      if (!ends) continue;
      const [below, above] = [grid[at][first], grid[at + 1][first]];
      if (!isEqual(below, above)) {
        const { high: number, high_in: belowIn } = slots[at];
        limits.push({
          axis,
          at,
          first,
          last: place - 1,
          number,
          below_in: belowIn,
          below,
          above,
          rule: writtenIn(sheet, below, above, belowIn),
          unnoticed: unnoticedOf(counted, [column, number, belowIn], [...below.rules, ...above.rules]),
        });
      }
      first = place;
    }
  }
  return limits;
}

function unnoticedOf(counted, [column, number, belowIn], rules) {
  const isHere = (one) => one.column === column && one.number === number && one.below_in === belowIn;
  const here = counted.filter(isHere);
  const mine = here.filter((one) => one.rules.some((rule) => rules.includes(rule)));
  return WAYS.filter((way) => mine.some((one) => one.unnoticed.includes(way)));
}

// The rule to look up for a limit: of the side it belongs to, unless only the other has a rule of its own.
function writtenIn(sheet, below, above, belowIn) {
  const sides = belowIn ? [below, above] : [above, below];
  const speaking = sides.filter((side) => side.rules.length);
  return (speaking.find((side) => !isLeftOver(sheet, side)) ?? speaking[0])?.rules[0] ?? "";
}

// The cases whose other answers are as chosen; each once per place on the axes.
function dotsOf(sheet, view, xs, ys, points, places) {
  const chosen = selectors(sheet, view).map((one) => [places.get(one.column), one.slots[one.chosen]]);
  const found = new Map();
  for (const point of points) {
    if (!chosen.every(([place, slot]) => isInside(slot, point.values[place]))) continue;
    const x = view.x ? point.values[places.get(view.x)] : null;
    const y = view.y ? point.values[places.get(view.y)] : null;
    const sx = xs.findIndex((slot) => isInside(slot, x));
    const sy = ys.findIndex((slot) => isInside(slot, y));
    if (sx < 0 || sy < 0) continue;
    const number = (value) => (typeof value === "number" ? value : 0);
    const key = JSON.stringify([point.case, x, y]);
    const before = found.get(key);
    if (!before || (point.expected && !before.point.expected)) {
      found.set(key, { sx, sy, x: number(x), y: number(y), point });
    }
  }
  return [...found.values()];
}

function isInside(slot, value) {
  return slot.kind === "any" || (value !== false && has(slot, value));
}
