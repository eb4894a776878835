// Gives back the axes of a map as they are drawn: frames, numbers at their ticks, names, titles.
// Twin of generator/render/map_axes.py.

import { firstOf, lengthOf, textWidth, TYPE } from "./map_layout.js";
import { node, px } from "./map_nodes.js";

// Frame, ticks, names and titles. A column is null where the axis has none.
export function axesOf(layout, picture, x, y) {
  const nodes = framesOf(layout, picture).map(([left, right, top, bottom]) =>
    node("rect", {
      class: "map-frame",
      x: px(left),
      y: px(top),
      width: px(right - left),
      height: px(bottom - top),
    }),
  );
  const label = (name, left, down, text) => node("text", { class: name, x: px(left), y: px(down) }, text);
  for (const { at, text, side, level } of layout.x_ticks) {
    const end = layout.bottom + 5 + 14 * level;
    nodes.push(
      node("line", { class: "map-tick", x1: px(at), x2: px(at), y1: px(layout.bottom), y2: px(end) }),
    );
    if (side) {
      const d = `M${px(at)} ${px(layout.bottom + 1)}l${px(6 * side)} 3l${px(-6 * side)} 3z`;
      nodes.push(node("path", { class: "map-side", d }));
    }
    nodes.push(label("map-label", at, layout.bottom + 17 + 14 * level, text));
  }
  for (const { at, text, side } of layout.y_ticks) {
    const x1 = px(layout.left - 5);
    nodes.push(node("line", { class: "map-tick", x1, x2: px(layout.left), y1: px(at), y2: px(at) }));
    if (side) {
      const d = `M${px(layout.left - 1)} ${px(at)}l-3 ${px(-6 * side)}l-3 ${px(6 * side)}z`;
      nodes.push(node("path", { class: "map-side", d }));
    }
    nodes.push(label("map-label map-label--row", layout.left - 10, at, text));
  }
  for (const { at, lines } of layout.y_names) {
    const start = at - 7 * (lines.length - 1);
    lines.forEach((line, number) =>
      nodes.push(label("map-label map-label--row", layout.left - 10, start + 14 * number, line)),
    );
  }
  for (const { at, lines, slanted } of layout.x_names) {
    if (slanted) {
      const [left, down] = [px(at), px(layout.bottom + 12)];
      const transform = `rotate(-40 ${left} ${down})`;
      nodes.push(
        node("text", { class: "map-label map-label--slanted", x: left, y: down, transform }, lines[0]),
      );
    } else {
      lines.forEach((line, number) =>
        nodes.push(label("map-label", at, layout.bottom + 17 + 14 * number, line)),
      );
    }
  }
  if (x) {
    const at = { class: "map-title", x: px(layout.left), y: px(layout.bottom + layout.x_depth + 18) };
    nodes.push(node("text", at, ...axisTitle(x, "\u2192")));
  }
  if (y) {
    const ends = y.kind === "choice" && textWidth(y.title, TYPE) <= layout.left - 14;
    const at = {
      class: ends ? "map-title map-title--row" : "map-title",
      x: px(ends ? layout.left - 10 : 2),
      y: px(layout.top - 12),
    };
    nodes.push(node("text", at, ...axisTitle(y, "\u2191")));
  }
  return nodes;
}

// private

// One frame round the numbers or names, one more round each slot of no number: left, right, top, bottom.
function framesOf(layout, picture) {
  const across = groupsOf(picture.xs, layout.xs);
  const down = groupsOf(picture.ys, layout.ys);
  return across.flatMap(([left, right]) => down.map(([top, bottom]) => [left, right, top, bottom]));
}

function groupsOf(slots, spans) {
  const isApart = (_, place) => slots[place].kind === "absent";
  const together = spans.filter((span, place) => !isApart(span, place));
  const apart = spans.filter(isApart).map((span) => [span]);
  const groups = together.length ? [together, ...apart] : apart;
  return groups.map((group) => [
    Math.min(...group.map(firstOf)),
    Math.max(...group.map((span) => firstOf(span) + lengthOf(span))),
  ]);
}

function axisTitle(column, arrow) {
  if (column.kind === "choice") return [column.title];
  const unit = column.unit === "" || column.unit === "1" ? "" : `, ${column.unit}`;
  const note = `  ${arrow} not to scale: every band between two limits has the same width`;
  return [`${column.title}${unit}`, node("tspan", { class: "map-aside" }, note)];
}
