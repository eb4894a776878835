"""Gives back the map of a rule table, made ready for its page: drawing, what can be chosen, legend.

The drawing stands in the page as it is built; browser/map.js draws other views over it, with the same
geometry.
"""

from __future__ import annotations

import json
from collections.abc import Mapping, Sequence
from dataclasses import asdict, dataclass

from markupsafe import Markup

from generator.analyse.pinning import CountedLimit
from generator.pack.model import VERDICTS, Table
from generator.render import addresses, words
from generator.render.library import Library
from generator.render.map_cases import AnsweredState, case_points
from generator.render.map_nodes import svg_text
from generator.render.map_picture import Picture, picture_of
from generator.render.map_scene import GAP, MARKS, NOTHING, scene_of
from generator.render.map_sheet import Sheet, sheet_of
from generator.render.map_slots import Key
from generator.render.map_view import View, default_view, places_asked, selectors

MAP_SCRIPT = "assets/map.js"


@dataclass(frozen=True, slots=True)
class Choice:
    """One option of a control, and whether it is chosen."""

    value: str
    text: str
    chosen: bool


@dataclass(frozen=True, slots=True)
class Control:
    """A list to choose from: `name` is x, y or the name of a column."""

    name: str
    label: str
    choices: tuple[Choice, ...]


@dataclass(frozen=True, slots=True)
class Swatch:
    """A line of the legend; `pattern` is the name of a fill, `over` that of a hatching drawn over it."""

    pattern: str
    over: str
    text: str


@dataclass(frozen=True, slots=True)
class MapView:
    """`shown` says the chosen values for readers without JavaScript; `counted` whether it was counted which
    limits the cases hold, and `letters` which were left out of that.
    """

    table: str
    title: str
    drawing: Markup
    shown: str
    controls: tuple[Control, ...]
    swatches: tuple[Swatch, ...]
    counted: bool
    letters: str
    has_sides: bool
    has_dots: bool
    pack: str
    texts: str
    root: str
    script: str
    data: Markup


def table_map(
    lib: Library,
    table: Table,
    states: Sequence[AnsweredState],
    counted: Mapping[str, tuple[CountedLimit, ...]] | None = None,
) -> MapView:
    """The map of one table. `counted` are the limits by table; without it, or where the table is not in it,
    nobody counted whether cases hold them, and the map says so.
    """
    sheet = sheet_of(lib, table)
    view = default_view(sheet)
    points = case_points(lib, table, states)
    limits = None if counted is None else counted.get(table.id)
    picture = picture_of(sheet, view, points, limits or ())
    chosen = selectors(sheet, view)
    document = {
        "points": [asdict(point) for point in points],
        "counted": [asdict(one) for one in limits or () if one.unnoticed],
    }
    return MapView(
        table=table.id,
        title=sheet.title,
        drawing=svg_text(scene_of(sheet, view, picture)),
        shown=words.joined([f"{one.title}: {one.options[one.chosen][1]}" for one in chosen], "and"),
        controls=_controls(sheet, view),
        swatches=_swatches(sheet, picture),
        counted=limits is not None,
        letters="; limits of letters are not counted" if any(row.rule in lib.letters for row in table.rows) else "",
        has_sides=any(column.kind == "number" for column in sheet.columns),
        has_dots=bool(points),
        pack=addresses.target(addresses.PACK_FILE),
        texts=addresses.target(addresses.TEXTS_FILE),
        root=addresses.target(""),
        script=addresses.target(MAP_SCRIPT),
        data=_data(document),
    )


def key_text(key: Key) -> str:
    """A chosen value as the value of an option: JSON, so that numbers, ids and nothing stay apart."""
    return json.dumps(int(key) if isinstance(key, float) and key.is_integer() and abs(key) < 1e15 else key)


# private


def _controls(sheet: Sheet, view: View) -> tuple[Control, ...]:
    names = [(sheet.columns[place].name, sheet.columns[place].title) for place in places_asked(sheet)]
    axes = [
        Control(axis, label, tuple(Choice(name, title, name == chosen) for name, title in names))
        for axis, label, chosen in (("y", "Up the side", view.y), ("x", "Across", view.x))
        if chosen and len(names) > 1
    ]
    return (
        *axes,
        *(
            Control(
                one.column,
                one.title,
                tuple(
                    Choice(key_text(key), text, place == one.chosen)
                    for place, (key, text) in enumerate(one.options)
                ),
            )
            for one in selectors(sheet, view)
        ),
    )


def _swatches(sheet: Sheet, picture: Picture) -> tuple[Swatch, ...]:
    """The verdicts of the table from good to bad, then what has none."""
    ranks = {row.verdict for row in sheet.table.rows}
    if any(column.source == "derived" for column in sheet.columns):
        ranks.add(VERDICTS.index("open"))
    kinds = {region.outcome.kind for region in picture.regions}
    swatches = [
        Swatch(VERDICTS[rank], "", f"{MARKS[VERDICTS[rank]]} {VERDICTS[rank]}")
        for rank in sorted(ranks, reverse=True)
    ]
    left_over = [row for row in sheet.table.rows if row.rule == f"{sheet.table.id}.otherwise"]
    if left_over:
        swatches.append(
            Swatch(VERDICTS[left_over[0].verdict], "left-over", "left over by the other rules (else)")
        )
    if sheet.table.hit_policy == "collect":
        swatches.append(Swatch("none", "", NOTHING))
    if "gap" in kinds:
        swatches.append(Swatch("gap", "", f"{GAP}: a gap that is waived"))
    return tuple(swatches)


def _data(document: object) -> Markup:
    """JSON that may stand inside a script element."""
    text = json.dumps(document, ensure_ascii=False, separators=(",", ":"))
    return Markup(text.replace("<", "\\u003c"))
