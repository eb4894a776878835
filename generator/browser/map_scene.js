// Gives back the drawing of a map: regions with their verdicts, limits, cases, axes.
// Twin of generator/render/map_scene.py.

import { VERDICTS } from "./engine/model.js";
import { axesOf } from "./map_axes.js";
import { firstOf, layoutOf, lengthOf, placeOf, textWidth, TYPE, WIDTH } from "./map_layout.js";
import { node, px } from "./map_nodes.js";
import { isLeftOver } from "./map_picture.js";
import { slotWords } from "./map_slots.js";
import { selectors } from "./map_view.js";
import { capital, counted, intervalText, joined, numberText } from "./map_words.js";

export const MARKS = { suitable: "\u2713", caution: "\u25b2", unsuitable: "\u2715", open: "?" };
export const NOTHING = "takes nothing away";
export const GAP = "no rule speaks here";
const UNNOTICED = { up: "moved up", down: "moved down", side: "belonged to its other side" };
const SMALL = 10;
const DOT = 4.5;
const LANES = 27; // rows higher than this have a lane for signs and one for dots
const SIGN_LANE = 0.35;
const DOT_LANE = 0.77;
const OFFSETS = [0, 11, -11, 22, -22, 33, -33, 44, -44, 55, -55, 66, -66, 77, -77];

// The drawing of a picture, an `svg` node.
export function sceneOf(sheet, view, picture) {
  const [x, y] = [view.x, view.y].map((name) => sheet.columns.find((column) => column.name === name) ?? null);
  const layout = layoutOf(picture.xs, picture.ys, x, y);
  const labels = picture.limits.map((limit) => limitLabel(limit, layout, picture, x));
  const taken = new Map();
  picture.limits.forEach((limit, place) => {
    if (!labels[place] || limit.axis !== "x") return;
    taken.set(`${limit.at + 1} ${limit.first}`, textWidth(labels[place], SMALL) + 8);
  });
  const identifier = `map-of-${sheet.table.id}`;
  const group = (name, members) => node("g", { class: name }, ...members);
  return node(
    "svg",
    {
      class: layout.width <= WIDTH + 1 ? "map-drawing" : "map-drawing map-drawing--wide",
      viewBox: `0 0 ${px(layout.width)} ${px(layout.height)}`,
      width: px(layout.width),
      height: px(layout.height),
      role: "group",
      "aria-labelledby": `${identifier}-title ${identifier}-about`,
    },
    node("title", { id: `${identifier}-title` }, `Map of the table: ${sheet.title}`),
    node("desc", { id: `${identifier}-about` }, aboutOf(sheet, view, picture, x, y)),
    group(
      "map-regions",
      picture.regions.map((region) => regionOf(sheet, region, picture, layout, x, y, taken)),
    ),
    group("map-rows", rowLines(picture, layout)),
    group(
      "map-limits",
      picture.limits.map((limit, place) =>
        limitOf(sheet, limit, labels[place], layout, limit.axis === "x" ? x : y),
      ),
    ),
    group("map-axes", axesOf(layout, picture, x, y)),
    group("map-dots", dotsOf(picture, layout, x, y)),
  );
}

// What the table says, with the reason: `unsuitable: Hot water hydrolyses polyurethane.`
export function outcomeWords(sheet, outcome) {
  if (outcome.kind !== "verdict") return outcome.kind === "none" ? NOTHING : GAP;
  const rule = sheet.rules[outcome.rules[0]];
  const more = outcome.rules.length > 1 ? ` And ${outcome.rules.length - 1} more.` : "";
  const left = isLeftOver(sheet, outcome) ? " Left over by the other rules." : "";
  return `${VERDICTS[outcome.rank]}: ${rule ? rule.because : ""}${more}${left}`;
}

// private

function aboutOf(sheet, view, picture, x, y) {
  const axes = [x ? `${x.title} from left to right` : "", y ? `${y.title} upwards or downwards` : ""];
  const chosen = selectors(sheet, view).map((one) => `${one.title}: ${one.options[one.chosen][1]}`);
  const counts = [
    counted(picture.regions.length, "region"),
    counted(picture.limits.length, "limit"),
    counted(picture.dots.length, "place of a reference case", "places of reference cases"),
  ];
  const parts = [axes.filter(Boolean).join(", "), ...chosen, counts.join(", ")];
  return `${parts.filter(Boolean).join(". ")}. The rows of the table stand below.`;
}

function regionOf(sheet, region, picture, layout, x, y, taken) {
  const { left, right, top, bottom } = boxOf(region, layout);
  const { outcome } = region;
  const kind = outcome.kind === "verdict" ? VERDICTS[outcome.rank] : outcome.kind;
  const edges = { x: px(left), y: px(top), width: px(right - left), height: px(bottom - top) };
  const where = [];
  if (y) where.push(`${y.title}: ${rangeWords(y, picture.ys, region.y0, region.y1)}`);
  if (x) where.push(`${x.title}: ${rangeWords(x, picture.xs, region.x0, region.x1)}`);
  const children = [
    node("title", {}, `${where.join(". ")}. ${outcomeWords(sheet, outcome)}`),
    node("rect", { ...edges, fill: `url(#map-${kind})` }),
  ];
  if (isLeftOver(sheet, outcome)) children.push(node("rect", { ...edges, fill: "url(#map-left-over)" }));
  const label = taken.get(`${region.x0} ${region.y0}`) ?? 0;
  const sign = signOf(kind, right - left - label, bottom - top);
  if (sign) {
    const at = { class: "map-sign", x: px((left + label + right) / 2), y: px(laneOf(top, bottom, y)) };
    children.push(node("text", at, sign));
  }
  const link = sheet.rules[outcome.rules[0]]?.link ?? "";
  const name = `map-region map-region--${kind}`;
  return link.includes("#")
    ? node("a", { class: name, href: link }, ...children)
    : node("g", { class: name }, ...children);
}

function boxOf(region, layout) {
  const [low, high] = [layout.ys[region.y0], layout.ys[region.y1]];
  return {
    left: firstOf(layout.xs[region.x0]),
    right: layout.xs[region.x1].high,
    top: Math.min(firstOf(low), firstOf(high)),
    bottom: Math.max(firstOf(low) + lengthOf(low), firstOf(high) + lengthOf(high)),
  };
}

function rangeWords(column, slots, first, last) {
  if (slots[first].kind === "option" || slots[first].kind === "absent" || first === last) {
    const names = slots.slice(first, last + 1).map((slot) => slotWords(column, slot));
    return joined(names, "or");
  }
  const range = { ...slots[first], high: slots[last].high, high_in: slots[last].high_in };
  return intervalText(range, column.low, column.high, column.unit);
}

function signOf(kind, room, height) {
  if (!(kind in MARKS) || height < 12) return "";
  const text = `${MARKS[kind]} ${kind}`;
  if (textWidth(text, TYPE) + 14 <= room) return text;
  return room >= 16 ? MARKS[kind] : "";
}

// The height of a sign: in rows of names above the lane of the dots, else in the middle.
function laneOf(top, bottom, y) {
  const high = bottom - top;
  if (y?.kind === "number") return (top + bottom) / 2;
  return top + high * (high > LANES ? SIGN_LANE : 0.5);
}

// The lines between options.
function rowLines(picture, layout) {
  const lines = [];
  picture.ys.forEach((slot, place) => {
    if (place === 0 || slot.kind !== "option") return;
    const at = px(firstOf(layout.ys[place]));
    lines.push(node("line", { x1: px(layout.left), x2: px(layout.right), y1: at, y2: at }));
  });
  picture.xs.forEach((slot, place) => {
    if (place === 0 || slot.kind !== "option") return;
    const at = px(firstOf(layout.xs[place]));
    lines.push(node("line", { x1: at, x2: at, y1: px(layout.top), y2: px(layout.bottom) }));
  });
  return lines;
}

// The number that is written at a limit of the level axis where the verdict changes and the next region has
// room.
function limitLabel(limit, layout, picture, x) {
  if (limit.axis !== "x" || !x || limit.first !== limit.last || isSame(limit)) return "";
  const text = numberText(limit.number, x.unit);
  const region = picture.regions.find(
    (one) => one.x0 === limit.at + 1 && one.y0 <= limit.first && limit.first <= one.y1,
  );
  const room = layout.xs[region.x1].high - layout.xs[region.x0].low;
  return region.y0 === region.y1 && room >= textWidth(text, SMALL) + 8 ? text : "";
}

// Whether only the rule changes at a limit, and not the verdict.
function isSame(limit) {
  return limit.below.rank === limit.above.rank && limit.below.kind === limit.above.kind;
}

function unnoticedWords(limit) {
  if (!limit.unnoticed.length) return "";
  const ways = limit.unnoticed.map((way) => UNNOTICED[way]);
  return ` No reference case would notice if it ${joined(ways, "or")}.`;
}

function limitOf(sheet, limit, label, layout, column) {
  let ends;
  let at;
  let top;
  if (limit.axis === "x") {
    at = layout.xs[limit.at].high;
    const [first, last] = [layout.ys[limit.first], layout.ys[limit.last]];
    top = Math.min(firstOf(first), firstOf(last));
    const bottom = Math.max(firstOf(first) + lengthOf(first), firstOf(last) + lengthOf(last));
    ends = { x1: px(at), x2: px(at), y1: px(top), y2: px(bottom) };
  } else {
    at = layout.ys[limit.at].high;
    top = at;
    const x1 = px(firstOf(layout.xs[limit.first]));
    ends = { x1, x2: px(layout.xs[limit.last].high), y1: px(at), y2: px(at) };
  }
  const unit = column ? column.unit : "";
  const side = limit.below_in ? "up to and with it" : "below it";
  const title =
    `Limit ${numberText(limit.number, unit)}. ${capital(side)}, ` +
    `${outcomeWords(sheet, limit.below)} ${limit.below_in ? "Above it" : "From it on"}, ` +
    outcomeWords(sheet, limit.above) +
    unnoticedWords(limit);
  let name = limit.unnoticed.length ? "map-limit map-limit--loose" : "map-limit";
  if (isSame(limit)) name += " map-limit--same";
  const children = [
    node("title", {}, title),
    node("line", { class: "map-limit__reach", ...ends }),
    node("line", { class: "map-limit__line", ...ends }),
  ];
  if (label) children.push(node("text", { class: "map-number", x: px(at + 4), y: px(top + 12) }, label));
  const link = sheet.rules[limit.rule]?.link ?? "";
  return link
    ? node("a", { class: name, href: link, tabindex: "-1" }, ...children)
    : node("g", { class: name }, ...children);
}

function dotsOf(picture, layout, x, y) {
  const taken = [];
  return picture.dots.map((dot) => {
    const at = freePlace(dot, picture, layout, y, taken);
    taken.push(at);
    const where = [];
    if (y) where.push(`${y.title} ${valueWords(y, picture.ys[dot.sy], dot.y)}`);
    if (x) where.push(`${x.title} ${valueWords(x, picture.xs[dot.sx], dot.x)}`);
    return node(
      "a",
      {
        class: dot.point.expected ? "map-dot map-dot--argued" : "map-dot",
        href: `cases/${dot.point.case}/`,
      },
      node("title", {}, `Reference case ${dot.point.title}: ${where.join(", ")}`),
      node("circle", { cx: px(at[0]), cy: px(at[1]), r: px(DOT) }),
    );
  });
}

// The place of a dot, or the nearest free one in its own slots.
function freePlace(dot, picture, layout, y, taken) {
  const span = layout.xs[dot.sx];
  const left = placeOf(picture.xs[dot.sx], span, dot.x, 7);
  const row = layout.ys[dot.sy];
  const down =
    y?.kind === "number"
      ? placeOf(picture.ys[dot.sy], row, dot.y, 7)
      : firstOf(row) + lengthOf(row) * (lengthOf(row) > LANES ? DOT_LANE : 0.66);
  for (const offset of OFFSETS) {
    const place = left + offset;
    const isIn = firstOf(span) + 5 <= place && place <= firstOf(span) + lengthOf(span) - 5;
    const isFree = ([other, height]) => Math.abs(place - other) > 9.5 || Math.abs(down - height) > 9.5;
    if (isIn && taken.every(isFree)) return [place, down];
  }
  return [left, down];
}

function valueWords(column, slot, number) {
  const isName = slot.kind === "option" || slot.kind === "absent";
  return isName ? slotWords(column, slot) : numberText(number, column.unit);
}
