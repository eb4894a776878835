"""The map of a table says at every point what the engine decides there, covers everything once, and can be
read by all.
"""

from __future__ import annotations

import re
from dataclasses import replace
from html.parser import HTMLParser
from itertools import product, takewhile
from pathlib import Path

import pytest

from generator.analyse.limits import limits_of
from generator.analyse.mutants import space_of
from generator.analyse.pinning import pinning_scores
from generator.evaluate.prepared import Prepared, prepare
from generator.pack.model import VERDICTS, Table
from generator.render import addresses
from generator.render.library import Library
from generator.render.map import table_map
from generator.render.map_cases import answered_states, case_points
from generator.render.map_layout import layout_of
from generator.render.map_nodes import Node, svg_text
from generator.render.map_picture import CasePoint, Picture, picture_of
from generator.render.map_scene import scene_of
from generator.render.map_sheet import Sheet, sheet_of
from generator.render.pinned import count, counted_limits
from generator.render.site import all_pages
from generator.render.map_view import View, default_view, settled_view
from tests.render.map_views import decided, keys_in, some_views
from tests.shipped import library_of_base, prepared_base

PROJECT = Path(__file__).resolve().parents[2]
TABLES = sorted(path.stem for path in (PROJECT / "data" / "tables").glob("*.yml"))


@pytest.fixture(scope="module")
def shipped() -> Library:
    return library_of_base()


@pytest.fixture(scope="module")
def prepared(shipped: Library) -> Prepared:
    return prepared_base()


@pytest.fixture(scope="module")
def states(shipped: Library, prepared: Prepared):
    return answered_states(shipped, prepared)


@pytest.mark.parametrize("name", TABLES)
def test_every_point_of_every_region_is_decided_as_it_is_filled(name: str, shipped, prepared) -> None:
    sheet = sheet_of(shipped, shipped.tables[name])
    for view in some_views(sheet, 3, 1):
        picture = picture_of(sheet, view, ())
        for region in picture.regions:
            across, along = picture.xs[region.x0 : region.x1 + 1], picture.ys[region.y0 : region.y1 + 1]
            for x_slot, y_slot in product(across, along):
                for x, y in product(keys_in(x_slot), keys_in(y_slot)):
                    at = dict(view.fixed) | {view.x: x} | ({view.y: y} if view.y else {})
                    outcome = region.outcome
                    assert decided(prepared, sheet, at) == (outcome.kind, outcome.rank), (view, at)


@pytest.mark.parametrize("name", TABLES)
def test_a_limit_itself_is_decided_as_the_side_that_its_tick_points_to(name: str, shipped, prepared) -> None:
    sheet = sheet_of(shipped, shipped.tables[name])
    for view in some_views(sheet, 3, 2):
        picture = picture_of(sheet, view, ())
        for limit in picture.limits:
            across = picture.ys if limit.axis == "x" else picture.xs
            own, other = (view.x, view.y) if limit.axis == "x" else (view.y, view.x)
            for place in range(limit.first, limit.last + 1):
                key = next(iter(keys_in(across[place])))
                at = dict(view.fixed) | {own: limit.number} | ({other: key} if other else {})
                side = limit.below if limit.below_in else limit.above
                assert decided(prepared, sheet, at) == (side.kind, side.rank), (view, limit)


@pytest.mark.parametrize("name", TABLES)
def test_drawn_rectangles_cover_the_axes_once(name: str, shipped) -> None:
    sheet = sheet_of(shipped, shipped.tables[name])
    for view in some_views(sheet, 4, 3):
        picture = picture_of(sheet, view, ())
        boxes = [box for box, _ in _filled(sheet, view, picture)]
        frames = [
            _edges(found)
            for found in _all(scene_of(sheet, view, picture), "rect")
            if dict(found.attributes).get("class") == "map-frame"
        ]
        assert sum(map(_area, boxes)) == pytest.approx(sum(map(_area, frames)), rel=2e-3)
        boxes.sort(key=lambda box: box[1])
        for number, one in enumerate(boxes):
            assert any(_inside(one, frame) for frame in frames), (view, one)
            lower = takewhile(lambda box: box[1] < one[1] + one[3], boxes[number + 1 :])
            assert all(_shared(one, other) < 1.0 for other in lower), (view, one)


def test_the_fill_at_a_drawn_pixel_is_the_verdict_of_the_number_under_it(shipped, prepared) -> None:
    sheet = sheet_of(shipped, shipped.tables["liner_temperature"])
    view = default_view(sheet)
    picture = picture_of(sheet, view, ())
    columns = {column.name: column for column in sheet.columns}
    layout = layout_of(picture.xs, picture.ys, columns[view.x], columns[view.y])
    for (left, top, width, height), fill in _filled(sheet, view, picture):
        for share in (0.02, 0.5, 0.98):
            pixel, row = left + width * share, top + height / 2
            number = next(
                slot.low + (slot.high - slot.low) * (pixel - span.low) / (span.high - span.low)
                for slot, span in zip(picture.xs, layout.xs, strict=True)
                if span.low <= pixel < span.high
            )
            liner = next(
                slot.option
                for slot, span in zip(picture.ys, layout.ys, strict=True)
                if span.low <= row < span.high
            )
            kind, rank = decided(prepared, sheet, {view.x: number, view.y: liner})
            assert fill == f"url(#map-{VERDICTS[rank] if kind == 'verdict' else kind})"


def test_a_limit_is_a_link_to_a_rule_that_names_its_number(shipped) -> None:
    sheet = sheet_of(shipped, shipped.tables["liner_temperature"])
    for limit in picture_of(sheet, default_view(sheet), ()).limits:
        row = next(row for row in sheet.table.rows if row.rule == limit.rule)
        place = [column.name for column in sheet.table.columns].index("temperature_max")
        ends = {
            end
            for part in sheet.table.columns[place].cells[row.cells[place]].intervals
            for end in (part.low, part.high)
        }
        assert limit.number in ends


def test_an_argued_case_stands_in_a_region_of_the_rule_that_it_argues(shipped, states) -> None:
    """A case that leaves another column of the table blank stands nowhere on its map. Where candidates are judged in
    pairs, the rule may speak of a partner that the case does not name; pairs that are argued have a test of their own."""
    argued = 0
    for table in (table for table in shipped.pack.tables if len(table.decisions) == 1):
        sheet = sheet_of(shipped, table)
        points = case_points(shipped, table, states)
        for case in shipped.texts.cases:
            for line in case.expect:
                if line.rule.startswith(f"{table.id}.") and line.decision in table.decisions:
                    here = [
                        point
                        for point in points
                        if point.case == case.id and line.candidate in point.values and point.expected
                    ]
                    if all(any(value is False for value in point.values) for point in here):
                        continue
                    assert any(line.rule in _rules_at(sheet, point) for point in here), (case.id, line.rule)
                    argued += 1
    assert argued > 150


def test_a_pair_that_a_case_argues_stands_in_a_region_of_the_rule_that_it_argues(shipped, states) -> None:
    argued = 0
    for table in shipped.pack.tables:
        sheet, points = sheet_of(shipped, table), None
        for case in shipped.texts.cases:
            for line in case.together:
                if line.rule.startswith(f"{table.id}.") and set(table.decisions) == set(dict(line.keep)):
                    points = points or case_points(shipped, table, states)
                    assert any(line.rule in _rules_at(sheet, point) for point in points if point.expected and point.case
                               == case.id and set(dict(line.keep).values()) <= set(point.values)), line
                    argued += 1
    assert argued > 30


def _held_by(shipped: Library, *cases: tuple[str, str]) -> str:
    """The map of the liners' highest temperatures when these are the only cases: river water at a temperature, and
    what they expect of polyurethane, whose limit is 40 °C.
    """
    river = next(case for case in shipped.texts.cases if case.id == "river_water_41")
    expected = next(one for one in river.expect if one.candidate == "polyurethane")
    made = tuple(
        replace(river, id=f"case_{number}", together=(), expect=(replace(expected, verdict=verdict, rule=""),),
                application=tuple((state, answers and tuple(
                    (name, heat if name == "temperature_max" else answer) for name, answer in answers))
                    for state, answers in river.application))
        for number, (heat, verdict) in enumerate(cases))
    texts = replace(shipped.texts, cases=made, witnesses=())
    found = pinning_scores(prepare(shipped.pack), texts, tables=["liner_temperature"])
    drawn = table_map(shipped, shipped.tables["liner_temperature"], (), {"liner_temperature": found.limits}).drawing
    (limit,) = re.findall(r'<a class="map-limit[^>]*><title>Limit 40\W+C\..*?</title>', drawn)
    return limit


LIMIT = (("40 degC", "suitable"), ("41 degC", "unsuitable"))


def test_of_a_table_that_the_overlay_changes_nobody_says_which_limits_the_cases_of_the_base_hold(shipped) -> None:
    heat, wear = shipped.tables["liner_temperature"], shipped.tables["liner_wear"]
    record = {"limits": [[heat.id, "temperature_max", 40.0, True, ["liner_temperature.polyurethane_within"], ["up"]]]}
    assert table_map(shipped, heat, (), counted_limits(record, [heat, wear])).counted
    assert table_map(shipped, wear, (), counted_limits(record, [heat, wear])).counted
    changed = table_map(shipped, heat, (), counted_limits(record, [wear]))
    assert not changed.counted and "map-limit--loose" not in changed.drawing



def test_a_limit_that_cases_hold_is_solid_and_dashed_once_one_of_them_is_gone(shipped) -> None:
    held, up, down = (_held_by(shipped, *cases) for cases in (LIMIT, LIMIT[:1], LIMIT[1:]))
    assert "map-limit--loose" not in held and "No reference case" not in held
    assert "map-limit--loose" in up and "No reference case would notice if it moved up." in up
    assert "No reference case would notice if it moved down or belonged to its other side." in down


def test_cases_far_from_a_limit_do_not_hold_it_though_they_stand_on_both_sides(shipped) -> None:
    limit = _held_by(shipped, ("25 degC", "suitable"), ("60 degC", "unsuitable"))
    assert "map-limit--loose" in limit and "moved up, moved down or belonged to its other side." in limit


def test_without_a_count_no_limit_is_dashed_and_the_legend_claims_nothing(lib: Library) -> None:
    table = lib.tables["liner_temperature"]
    view = table_map(lib, table, ())
    assert "map-limit--loose" not in view.drawing and not view.counted
    page = next(one for one in all_pages(lib) if one.uri == "tables/liner_temperature.md").body
    assert "it was not counted for these pages" in page and "dashed: no reference case" not in page
    page = next(one for one in all_pages(lib, count(lib)) if one.uri == "tables/liner_temperature.md").body
    assert "it was not counted" not in page and "dashed: no reference case would notice if this limit moved" in page


@pytest.mark.parametrize("name", TABLES)
def test_no_two_limits_of_a_table_could_be_taken_for_one_another(name: str, shipped) -> None:
    """A drawn limit is looked up by column, number, the side that this belongs to, and the rules on both."""
    space = space_of(shipped.pack, shipped.tables[name])
    authored = {rule.rule for rule in shipped.texts.rules if rule.origin == "author"}
    found: dict[tuple[int, tuple[float, bool], str], list[tuple[int, ...]]] = {}
    for limit in limits_of(space.table, space.axes, space.boxes, authored):
        for rule in {space.table.rows[at].rule for at in limit.rows} & authored:
            found.setdefault((limit.axis, limit.cut, rule), []).append(limit.rows)
    assert all(len(several) == 1 for several in found.values()), found


def test_a_number_that_belongs_to_neither_band_beside_it_has_a_slot_of_its_own(shipped) -> None:
    sheet = sheet_of(shipped, shipped.tables["size_velocity_normal"])
    picture = picture_of(sheet, default_view(sheet), ())
    point = next(slot for slot in picture.xs if slot.kind == "point")
    assert (point.low, point.low_in, point.high_in) == (point.high, True, True)


def test_what_is_left_over_is_hatched_and_a_waived_gap_is_told_apart(lib: Library) -> None:
    table = lib.tables["liner_temperature"]
    whole = table_map(lib, table, ())
    assert "url(#map-left-over)" in whole.drawing
    assert "url(#map-gap)" not in whole.drawing
    gapped = replace(table, rows=tuple(row for row in table.rows if row.verdict != VERDICTS.index("open")))
    holed = table_map(_with(lib, gapped), gapped, ())
    assert "url(#map-gap)" in holed.drawing
    assert [swatch.pattern for swatch in holed.swatches][-1] == "gap"


@pytest.mark.parametrize("name", TABLES)
def test_map_names_itself_its_lists_and_its_links_and_uses_no_inline_style(
    name: str, shipped, states
) -> None:
    page = addresses.table(name)
    view = table_map(shipped, shipped.tables[name], states)
    seen = Reader()
    seen.feed(view.drawing)
    assert seen.root["role"] == "group"
    assert set(seen.root["aria-labelledby"].split()) <= seen.ids
    assert seen.links > 0
    assert seen.unnamed == 0
    assert not seen.attributes & {"style", "onclick"}
    assert all(
        control.label and sum(choice.chosen for choice in control.choices) == 1 for control in view.controls
    )
    assert page in view.drawing or addresses.MEDIA in view.drawing


def test_page_of_a_table_holds_its_map_before_its_rules(pages) -> None:
    body = pages["tables/liner_temperature/"].body
    assert body.index('class="map-drawing"') < body.index('id="rules"')
    assert re.search(
        r'<a class="map-region map-region--unsuitable" href="page:tables/liner_temperature/#rule-'
        r'liner_temperature\.polyurethane_hot"><title>',
        body,
    )
    assert '<a href="#rules">Past the map to the rules</a>' in body


# private


class Reader(HTMLParser):
    """What a drawing offers to who cannot see it."""

    def __init__(self) -> None:
        super().__init__()
        self.root: dict[str, str] = {}
        self.ids: set[str] = set()
        self.attributes: set[str] = set()
        self.links = self.unnamed = 0
        self._waiting = False

    def handle_starttag(self, tag, attributes):
        given = dict(attributes)
        self.root = self.root or given
        self.ids.add(given.get("id", ""))
        self.attributes |= set(given)
        self.unnamed += self._waiting and tag != "title"
        self._waiting = tag == "a"
        self.links += tag == "a"


def _with(lib: Library, table: Table) -> Library:
    return replace(lib, tables={**lib.tables, table.id: table})


def _rules_at(sheet: Sheet, point: CasePoint) -> tuple[str, ...]:
    """The rules of the region in which the map shows a case, in the view that its own answers choose."""
    values = dict(zip((column.name for column in sheet.columns), point.values, strict=True))
    first = default_view(sheet)
    view = settled_view(sheet, first.x, first.y, values)
    picture = picture_of(sheet, view, (point,))
    return tuple(
        rule
        for dot in picture.dots
        for region in picture.regions
        if region.x0 <= dot.sx <= region.x1 and region.y0 <= dot.sy <= region.y1
        for rule in region.outcome.rules
    )


def _filled(sheet: Sheet, view: View, picture: Picture) -> list[tuple[tuple[float, ...], str]]:
    """Every region as it is drawn: left, top, width, height, and its fill."""
    groups = next(
        found
        for found in _all(scene_of(sheet, view, picture), "g")
        if dict(found.attributes).get("class") == "map-regions"
    )
    return [
        (_edges(rect), dict(rect.attributes)["fill"])
        for region in groups.children
        for rect in _all(region, "rect")[:1]
    ]


def _all(node: Node | str, tag: str) -> list[Node]:
    if isinstance(node, str):
        return []
    return ([node] if node.tag == tag else []) + [
        found for child in node.children for found in _all(child, tag)
    ]


def _edges(rect: Node) -> tuple[float, ...]:
    given = dict(rect.attributes)
    return tuple(float(given[name]) for name in ("x", "y", "width", "height"))


def _area(box: tuple[float, ...]) -> float:
    return box[2] * box[3]


def _inside(box: tuple[float, ...], frame: tuple[float, ...]) -> bool:
    return all(
        box[axis] >= frame[axis] - 0.2 and box[axis] + box[axis + 2] <= frame[axis] + frame[axis + 2] + 0.2
        for axis in (0, 1)
    )


def _shared(one: tuple[float, ...], other: tuple[float, ...]) -> float:
    """How far two rectangles reach into each other, in pixels of the shorter side."""
    return min(
        max(0.0, min(one[axis] + one[axis + 2], other[axis] + other[axis + 2]) - max(one[axis], other[axis]))
        for axis in (0, 1)
    )
