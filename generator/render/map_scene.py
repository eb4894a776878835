"""Gives back the drawing of a map: regions with their verdicts, limits, cases, axes. Twin of
browser/map_scene.js.
"""

from __future__ import annotations

from collections.abc import Sequence

from generator.pack.model import VERDICTS, Interval
from generator.render import addresses, words
from generator.render.map_axes import axes_of
from generator.render.map_layout import TYPE, WIDTH, Layout, layout_of, place_of, text_width
from generator.render.map_nodes import Node, node, px
from generator.render.map_picture import Dot, Limit, Outcome, Picture, Region, is_left_over
from generator.render.map_sheet import MapColumn, Sheet
from generator.render.map_slots import Slot, slot_words
from generator.render.map_view import View, selectors
from generator.render.parts import MARKS

NOTHING = "takes nothing away"
GAP = "no rule speaks here"
UNNOTICED = {"up": "moved up", "down": "moved down", "side": "belonged to its other side"}
_SMALL = 10.0
_DOT = 4.5
_LANES = 27.0  # rows higher than this have a lane for signs and one for dots
_SIGN_LANE, _DOT_LANE = 0.35, 0.77
_OFFSETS = (0.0, 11.0, -11.0, 22.0, -22.0, 33.0, -33.0, 44.0, -44.0, 55.0, -55.0, 66.0, -66.0, 77.0, -77.0)


def scene_of(sheet: Sheet, view: View, picture: Picture) -> Node:
    """The drawing of a picture, an `svg` element."""
    columns = {column.name: column for column in sheet.columns}
    x, y = columns.get(view.x), columns.get(view.y)
    layout = layout_of(picture.xs, picture.ys, x, y)
    labels = [_limit_label(limit, layout, picture, x) for limit in picture.limits]
    taken = {
        (limit.at + 1, limit.first): text_width(label, _SMALL) + 8.0
        for limit, label in zip(picture.limits, labels, strict=True)
        if label and limit.axis == "x"
    }
    identifier = f"map-of-{sheet.table.id}"
    return node(
        "svg",
        {
            "class": "map-drawing" if layout.width <= WIDTH + 1.0 else "map-drawing map-drawing--wide",
            "viewBox": f"0 0 {px(layout.width)} {px(layout.height)}",
            "width": px(layout.width),
            "height": px(layout.height),
            "role": "group",
            "aria-labelledby": f"{identifier}-title {identifier}-about",
        },
        node("title", {"id": f"{identifier}-title"}, f"Map of the table: {sheet.title}"),
        node("desc", {"id": f"{identifier}-about"}, _about(sheet, view, picture, x, y)),
        node(
            "g",
            {"class": "map-regions"},
            *(_region(sheet, region, picture, layout, x, y, taken) for region in picture.regions),
        ),
        node("g", {"class": "map-rows"}, *_row_lines(picture, layout)),
        node(
            "g",
            {"class": "map-limits"},
            *(
                _limit(sheet, limit, label, layout, x if limit.axis == "x" else y)
                for limit, label in zip(picture.limits, labels, strict=True)
            ),
        ),
        node("g", {"class": "map-axes"}, *axes_of(layout, picture, x, y)),
        node("g", {"class": "map-dots"}, *_dots(picture, layout, x, y)),
    )


def outcome_words(sheet: Sheet, outcome: Outcome) -> str:
    """What the table says, with the reason: `unsuitable: Hot water hydrolyses polyurethane.`"""
    if outcome.kind != "verdict":
        return NOTHING if outcome.kind == "none" else GAP
    rule = sheet.rules.get(outcome.rules[0])
    more = f" And {len(outcome.rules) - 1} more." if len(outcome.rules) > 1 else ""
    left = " Left over by the other rules." if is_left_over(sheet, outcome) else ""
    return f"{VERDICTS[outcome.rank]}: {rule.because if rule else ''}{more}{left}"


# private


def _about(sheet: Sheet, view: View, picture: Picture, x: MapColumn | None, y: MapColumn | None) -> str:
    axes = [f"{x.title} from left to right" if x else "", f"{y.title} upwards or downwards" if y else ""]
    chosen = [f"{one.title}: {one.options[one.chosen][1]}" for one in selectors(sheet, view)]
    counts = [
        words.counted(len(picture.regions), "region"),
        words.counted(len(picture.limits), "limit"),
        words.counted(len(picture.dots), "place of a reference case", "places of reference cases"),
    ]
    parts = [", ".join(text for text in axes if text), *chosen, ", ".join(counts)]
    return f"{'. '.join(part for part in parts if part)}. The rows of the table stand below."


def _region(
    sheet: Sheet,
    region: Region,
    picture: Picture,
    layout: Layout,
    x: MapColumn | None,
    y: MapColumn | None,
    taken: dict[tuple[int, int], float],
) -> Node:
    left, right, top, bottom = _box(region, layout)
    outcome = region.outcome
    kind = VERDICTS[outcome.rank] if outcome.kind == "verdict" else outcome.kind
    edges = {"x": px(left), "y": px(top), "width": px(right - left), "height": px(bottom - top)}
    where = [
        f"{column.title}: {_range_words(column, slots, first, last)}"
        for column, slots, first, last in (
            (y, picture.ys, region.y0, region.y1),
            (x, picture.xs, region.x0, region.x1),
        )
        if column
    ]
    children = [
        node("title", {}, f"{'. '.join(where)}. {outcome_words(sheet, outcome)}"),
        node("rect", {**edges, "fill": f"url(#map-{kind})"}),
    ]
    if is_left_over(sheet, outcome):
        children.append(node("rect", {**edges, "fill": "url(#map-left-over)"}))
    sign = _sign(kind, right - left - taken.get((region.x0, region.y0), 0.0), bottom - top)
    if sign:
        middle = (left + taken.get((region.x0, region.y0), 0.0) + right) / 2
        children.append(
            node("text", {"class": "map-sign", "x": px(middle), "y": px(_lane(top, bottom, y))}, sign)
        )
    link = sheet.rules[outcome.rules[0]].link if outcome.rules and outcome.rules[0] in sheet.rules else ""
    name = f"map-region map-region--{kind}"
    if "#" not in link:
        return node("g", {"class": name}, *children)
    return node("a", {"class": name, "href": link}, *children)


def _box(region: Region, layout: Layout) -> tuple[float, float, float, float]:
    """Left, right, top and bottom."""
    low, high = layout.ys[region.y0], layout.ys[region.y1]
    return (
        layout.xs[region.x0].first,
        layout.xs[region.x1].high,
        min(low.first, high.first),
        max(low.first + low.length, high.first + high.length),
    )


def _range_words(column: MapColumn, slots: Sequence[Slot], first: int, last: int) -> str:
    if slots[first].kind in ("option", "absent") or first == last:
        return words.joined([slot_words(column, slot) for slot in slots[first : last + 1]], "or")
    low, high = slots[first], slots[last]
    return words.interval_text(
        Interval(low.low, low.low_in, high.high, high.high_in), column.low, column.high, column.unit
    )


def _sign(kind: str, room: float, height: float) -> str:
    if kind not in MARKS or height < 12.0:
        return ""
    text = f"{MARKS[kind]} {kind}"
    if text_width(text, TYPE) + 14.0 <= room:
        return text
    return MARKS[kind] if room >= 16.0 else ""


def _lane(top: float, bottom: float, y: MapColumn | None) -> float:
    """The height of a sign: in rows of names above the lane of the dots, else in the middle."""
    high = bottom - top
    if y is not None and y.kind == "number":
        return (top + bottom) / 2
    return top + high * (_SIGN_LANE if high > _LANES else 0.5)


def _row_lines(picture: Picture, layout: Layout) -> list[Node]:
    """The lines between options."""
    lines: list[Node] = []
    for slot, span in zip(picture.ys[1:], layout.ys[1:], strict=True):
        if slot.kind == "option":
            lines.append(
                node(
                    "line",
                    {
                        "x1": px(layout.left),
                        "x2": px(layout.right),
                        "y1": px(span.first),
                        "y2": px(span.first),
                    },
                )
            )
    for slot, span in zip(picture.xs[1:], layout.xs[1:], strict=True):
        if slot.kind == "option":
            lines.append(
                node(
                    "line",
                    {
                        "x1": px(span.first),
                        "x2": px(span.first),
                        "y1": px(layout.top),
                        "y2": px(layout.bottom),
                    },
                )
            )
    return lines


def _limit_label(limit: Limit, layout: Layout, picture: Picture, x: MapColumn | None) -> str:
    """The number that is written at a limit of the level axis where the verdict changes and the next region
    has room.
    """
    if limit.axis != "x" or x is None or limit.first != limit.last or _is_same(limit):
        return ""
    text = words.number_text(limit.number, x.unit)
    region = next(
        region
        for region in picture.regions
        if region.x0 == limit.at + 1 and region.y0 <= limit.first <= region.y1
    )
    room = layout.xs[region.x1].high - layout.xs[region.x0].low
    return text if region.y0 == region.y1 and room >= text_width(text, _SMALL) + 8.0 else ""


def _is_same(limit: Limit) -> bool:
    """Whether only the rule changes at a limit, and not the verdict."""
    return limit.below.rank == limit.above.rank and limit.below.kind == limit.above.kind


def _unnoticed_words(limit: Limit) -> str:
    if not limit.unnoticed:
        return ""
    ways = words.joined([UNNOTICED[way] for way in limit.unnoticed], "or")
    return f" No reference case would notice if it {ways}."


def _limit(sheet: Sheet, limit: Limit, label: str, layout: Layout, column: MapColumn | None) -> Node:
    if limit.axis == "x":
        at = layout.xs[limit.at].high
        first, last = layout.ys[limit.first], layout.ys[limit.last]
        top = min(first.first, last.first)
        bottom = max(first.first + first.length, last.first + last.length)
        ends = {"x1": px(at), "x2": px(at), "y1": px(top), "y2": px(bottom)}
    else:
        at = layout.ys[limit.at].high
        ends = {
            "x1": px(layout.xs[limit.first].first),
            "x2": px(layout.xs[limit.last].high),
            "y1": px(at),
            "y2": px(at),
        }
        top = at
    unit = column.unit if column else ""
    side = "up to and with it" if limit.below_in else "below it"
    title = (
        f"Limit {words.number_text(limit.number, unit)}. {words.capital(side)}, "
        f"{outcome_words(sheet, limit.below)} {'Above it' if limit.below_in else 'From it on'}, "
        f"{outcome_words(sheet, limit.above)}"
        f"{_unnoticed_words(limit)}"
    )
    name = "map-limit map-limit--loose" if limit.unnoticed else "map-limit"
    if _is_same(limit):
        name += " map-limit--same"
    children = [
        node("title", {}, title),
        node("line", {"class": "map-limit__reach", **ends}),
        node("line", {"class": "map-limit__line", **ends}),
    ]
    if label:
        children.append(node("text", {"class": "map-number", "x": px(at + 4.0), "y": px(top + 12.0)}, label))
    link = sheet.rules[limit.rule].link if limit.rule in sheet.rules else ""
    if not link:
        return node("g", {"class": name}, *children)
    return node("a", {"class": name, "href": link, "tabindex": "-1"}, *children)


def _dots(picture: Picture, layout: Layout, x: MapColumn | None, y: MapColumn | None) -> list[Node]:
    taken: list[tuple[float, float]] = []
    nodes: list[Node] = []
    for dot in picture.dots:
        at = _free(dot, picture, layout, y, taken)
        taken.append(at)
        name = "map-dot map-dot--argued" if dot.point.expected else "map-dot"
        where = [
            f"{column.title} {_value_words(column, slot, number)}"
            for column, slot, number in ((y, picture.ys[dot.sy], dot.y), (x, picture.xs[dot.sx], dot.x))
            if column
        ]
        nodes.append(
            node(
                "a",
                {"class": name, "href": addresses.case(dot.point.case)},
                node("title", {}, f"Reference case {dot.point.title}: {', '.join(where)}"),
                node("circle", {"cx": px(at[0]), "cy": px(at[1]), "r": px(_DOT)}),
            )
        )
    return nodes


def _free(
    dot: Dot, picture: Picture, layout: Layout, y: MapColumn | None, taken: list[tuple[float, float]]
) -> tuple[float, float]:
    """The place of a dot, or the nearest free one in its own slots."""
    span = layout.xs[dot.sx]
    left = place_of(picture.xs[dot.sx], span, dot.x, 7.0)
    row = layout.ys[dot.sy]
    if y is not None and y.kind == "number":
        down = place_of(picture.ys[dot.sy], row, dot.y, 7.0)
    else:
        down = row.first + row.length * (_DOT_LANE if row.length > _LANES else 0.66)
    for offset in _OFFSETS:
        place = left + offset
        if span.first + 5.0 <= place <= span.first + span.length - 5.0 and all(
            abs(place - other) > 9.5 or abs(down - height) > 9.5 for other, height in taken
        ):
            return place, down
    return left, down


def _value_words(column: MapColumn, slot: Slot, number: float) -> str:
    return (
        slot_words(column, slot)
        if slot.kind in ("option", "absent")
        else words.number_text(number, column.unit)
    )
