"""The browser draws the same map of the same view, element by element, as the build does."""

from __future__ import annotations

import json
from collections.abc import Iterator
from dataclasses import asdict, dataclass
from pathlib import Path

import pytest

from generator.analyse.limits import limits_of
from generator.analyse.mutants import space_of
from generator.analyse.pinning import CountedLimit
from generator.pack.document import write_pack
from generator.render.browser_texts import texts_document
from generator.render.library import Library
from generator.render.map_cases import AnsweredState, answered_states, case_points
from generator.render.map_picture import picture_of
from generator.render.map_scene import scene_of
from generator.render.map_sheet import sheet_of
from generator.render.map_view import default_view, selectors
from tests import shipped
from tests.engine.twin import Twin, plain
from tests.render.map_views import some_views

PROJECT = Path(__file__).resolve().parents[2]
TABLES = sorted(path.stem for path in (PROJECT / "data" / "tables").glob("*.yml"))


@dataclass(frozen=True)
class Both:
    """The shipped guide in Python, and its two documents in the browser's language."""

    lib: Library
    states: tuple[AnsweredState, ...]
    twin: Twin
    pack: dict[str, str]
    texts: dict[str, str]


@pytest.fixture(scope="module")
def both() -> Iterator[Both]:
    lib = shipped.library_of_whole()
    twin = Twin()
    yield Both(
        lib,
        answered_states(lib, shipped.prepared_whole()),
        twin,
        twin.hold("pack", json.loads(write_pack(lib.pack, "test"))),
        twin.hold("texts", json.loads(texts_document(lib))),
    )
    twin.close()


def loose_limits(lib: Library, name: str) -> tuple[CountedLimit, ...]:
    """Every limit of the authors' rules of a table, each said to move unnoticed in other ways, or in none."""
    space = space_of(lib.pack, lib.tables[name])
    written = {rule.rule for rule in lib.texts.rules if rule.origin == "author"}
    ways = [(), ("up",), ("side", "down"), ("down", "up", "side")]
    return tuple(CountedLimit(name, space.table.columns[limit.axis].name, *limit.cut,
                              tuple(space.table.rows[at].rule for at in limit.rows), ways[number % 4])
                 for number, limit in enumerate(limits_of(space.table, space.axes, space.boxes, written)))


@pytest.mark.parametrize("name", TABLES)
def test_browser_draws_the_map_that_the_build_draws_for_the_same_view(name: str, both: Both) -> None:
    sheet = sheet_of(both.lib, both.lib.tables[name])
    points = case_points(both.lib, both.lib.tables[name], both.states)
    told = both.twin.keep("../map_sheet", "sheetOf", "sheet", both.pack, both.texts, name)
    cases = both.twin.hold("cases", points)
    counted = loose_limits(both.lib, name)
    for number, view in enumerate(some_views(sheet, 5, 4)):
        known = counted if number % 2 else ()
        picture = picture_of(sheet, view, points, known)
        kept = both.twin.keep(
            "../map_picture",
            "pictureOf",
            "picture",
            told,
            plain(view),
            cases,
            both.twin.hold("counted", known),
        )
        assert both.twin.call("../map_scene", "sceneOf", told, plain(view), kept) == plain(
            scene_of(sheet, view, picture)
        ), view


@pytest.mark.parametrize("name", TABLES)
def test_browser_offers_the_same_values_and_settles_on_the_same_view(name: str, both: Both) -> None:
    sheet = sheet_of(both.lib, both.lib.tables[name])
    told = both.twin.keep("../map_sheet", "sheetOf", "sheet", both.pack, both.texts, name)
    assert both.twin.call("../map_view", "defaultView", told) == plain(default_view(sheet))
    for view in some_views(sheet, 5, 5):
        wanted = {"$map": [list(pair) for pair in view.fixed]}
        assert both.twin.call("../map_view", "settledView", told, view.x, view.y, wanted) == plain(view)
        offered = both.twin.call("../map_view", "selectors", told, plain(view))
        assert [(one["column"], one["title"], one["options"], one["chosen"]) for one in offered] == [
            (one.column, one.title, plain(one.options), one.chosen) for one in selectors(sheet, view)
        ]


@pytest.mark.parametrize("name", TABLES)
def test_browser_makes_the_same_sheet_of_its_two_documents(name: str, both: Both) -> None:
    made = both.twin.call("../map_sheet", "sheetOf", both.pack, both.texts, name)
    assert made == json.loads(json.dumps(plain(asdict(sheet_of(both.lib, both.lib.tables[name])))))
