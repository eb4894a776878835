"""Gives back the axes of a map as they are drawn: frames, numbers at their ticks, names, titles.

Twin of browser/map_axes.js.
"""

from __future__ import annotations

from collections.abc import Sequence

from generator.render.map_layout import TYPE, Layout, Span, text_width
from generator.render.map_nodes import Node, node, px
from generator.render.map_picture import Picture
from generator.render.map_sheet import MapColumn
from generator.render.map_slots import Slot


def axes_of(layout: Layout, picture: Picture, x: MapColumn | None, y: MapColumn | None) -> list[Node]:
    """Frame, ticks, names and titles. A column is None where the axis has none."""
    nodes = [
        node(
            "rect",
            {
                "class": "map-frame",
                "x": px(left),
                "y": px(top),
                "width": px(right - left),
                "height": px(bottom - top),
            },
        )
        for left, right, top, bottom in _frames(layout, picture)
    ]
    for tick in layout.x_ticks:
        at, down = tick.at, layout.bottom + 17.0 + 14.0 * tick.level
        nodes.append(
            node(
                "line",
                {
                    "class": "map-tick",
                    "x1": px(at),
                    "x2": px(at),
                    "y1": px(layout.bottom),
                    "y2": px(layout.bottom + 5.0 + 14.0 * tick.level),
                },
            )
        )
        if tick.side:
            nodes.append(
                node(
                    "path",
                    {
                        "class": "map-side",
                        "d": f"M{px(at)} {px(layout.bottom + 1.0)}"
                        f"l{px(6.0 * tick.side)} 3l{px(-6.0 * tick.side)} 3z",
                    },
                )
            )
        nodes.append(node("text", {"class": "map-label", "x": px(at), "y": px(down)}, tick.text))
    for tick in layout.y_ticks:
        at = tick.at
        nodes.append(
            node(
                "line",
                {
                    "class": "map-tick",
                    "x1": px(layout.left - 5.0),
                    "x2": px(layout.left),
                    "y1": px(at),
                    "y2": px(at),
                },
            )
        )
        if tick.side:
            nodes.append(
                node(
                    "path",
                    {
                        "class": "map-side",
                        "d": f"M{px(layout.left - 1.0)} {px(at)}"
                        f"l-3 {px(-6.0 * tick.side)}l-3 {px(6.0 * tick.side)}z",
                    },
                )
            )
        nodes.append(
            node(
                "text",
                {"class": "map-label map-label--row", "x": px(layout.left - 10.0), "y": px(at)},
                tick.text,
            )
        )
    for name in layout.y_names:
        start = name.at - 7.0 * (len(name.lines) - 1)
        nodes += [
            node(
                "text",
                {
                    "class": "map-label map-label--row",
                    "x": px(layout.left - 10.0),
                    "y": px(start + 14.0 * number),
                },
                line,
            )
            for number, line in enumerate(name.lines)
        ]
    for name in layout.x_names:
        if name.slanted:
            at, down = px(name.at), px(layout.bottom + 12.0)
            nodes.append(
                node(
                    "text",
                    {
                        "class": "map-label map-label--slanted",
                        "x": at,
                        "y": down,
                        "transform": f"rotate(-40 {at} {down})",
                    },
                    name.lines[0],
                )
            )
        else:
            nodes += [
                node(
                    "text",
                    {"class": "map-label", "x": px(name.at), "y": px(layout.bottom + 17.0 + 14.0 * number)},
                    line,
                )
                for number, line in enumerate(name.lines)
            ]
    if x:
        nodes.append(
            node(
                "text",
                {"class": "map-title", "x": px(layout.left), "y": px(layout.bottom + layout.x_depth + 18.0)},
                *_axis_title(x, "\u2192"),
            )
        )
    if y:
        ends = y.kind == "choice" and text_width(y.title, TYPE) <= layout.left - 14.0
        nodes.append(
            node(
                "text",
                {
                    "class": "map-title map-title--row" if ends else "map-title",
                    "x": px(layout.left - 10.0 if ends else 2.0),
                    "y": px(layout.top - 12.0),
                },
                *_axis_title(y, "\u2191"),
            )
        )
    return nodes


# private


def _frames(layout: Layout, picture: Picture) -> list[tuple[float, float, float, float]]:
    """One frame round the numbers or names, one more round each slot of no number."""
    across = [
        (spans[0].first, spans[-1].first + spans[-1].length) for spans in _groups(picture.xs, layout.xs)
    ]
    down = [
        (min(span.first for span in spans), max(span.first + span.length for span in spans))
        for spans in _groups(picture.ys, layout.ys)
    ]
    return [(left, right, top, bottom) for left, right in across for top, bottom in down]


def _groups(slots: Sequence[Slot], spans: Sequence[Span]) -> list[list[Span]]:
    together = [span for slot, span in zip(slots, spans, strict=True) if slot.kind != "absent"]
    apart = [[span] for slot, span in zip(slots, spans, strict=True) if slot.kind == "absent"]
    return [together, *apart] if together else apart


def _axis_title(column: MapColumn, arrow: str) -> list[Node | str]:
    if column.kind == "choice":
        return [column.title]
    unit = "" if column.unit in ("", "1") else f", {column.unit}"
    note = f"  {arrow} not to scale: every band between two limits has the same width"
    return [f"{column.title}{unit}", node("tspan", {"class": "map-aside"}, note)]
