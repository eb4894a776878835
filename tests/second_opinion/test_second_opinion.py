"""A theorem prover finds the gaps and overlaps that our own boxes find, in shipped tables and in random ones."""

from __future__ import annotations

import random
from collections.abc import Iterator

import pytest

from generator.analyse.space import table_boxes, table_space
from generator.boxes.sets import Axis, AxisSet, Box, ChoiceAxis, Choices, NumberAxis, Numbers, Span, cells_of
from generator.boxes.split import overlaps, uncovered
from generator.pack.model import Pack, Table
from tests import shipped
from tests.second_opinion.prover import Prover

RANDOM_TABLES = 1000
SLICED_ABOVE = 100                   # rows: a longer table is asked medium by medium, which leaves no point out


@pytest.fixture(scope="module")
def pack() -> Pack:
    return shipped.base()[0]


def test_the_prover_finds_the_gaps_of_the_authors_rules_and_no_overlap_in_any_shipped_table(
        pack: Pack, record_property):
    asked = rows = gaps = 0
    for table in pack.tables:
        if table.hit_policy != "unique":
            continue
        assert not list(overlaps(table_space(pack, table), table_boxes(table, table_space(pack, table)))), table.id
        for axes, written, every, found in slices(pack, table):
            prover = Prover(axes)
            assert prover.gaps_agree(written, found), f"{table.id}: the prover sees other gaps"
            assert prover.gaps_agree(every, []), f"{table.id}: the rows with `otherwise` leave something over"
            assert prover.at_most_one(every), f"{table.id}: the prover sees rows that overlap"
            asked, rows, gaps = asked + 1, rows + len(every), gaps + len(found)
    assert asked > len(pack.tables) and gaps, "the chemistry tables leave something to `otherwise`"
    record_property(
        "counted", f"{rows} rows and {gaps} gaps of authors' rules in {asked} slices of shipped tables agree")


def test_the_prover_and_the_boxes_agree_on_a_thousand_random_tables(record_property):
    draw = random.Random(20261125)
    with_gaps = with_overlaps = pairs = 0
    for number in range(RANDOM_TABLES):
        axes, boxes = random_table(draw)
        prover = Prover(axes)
        gaps, found = uncovered(axes, boxes), list(overlaps(axes, boxes))
        assert prover.gaps_agree(boxes, gaps), f"gaps of table {number}: {axes} {boxes}"
        assert prover.overlaps_agree(boxes, found), f"overlaps of table {number}: {axes} {boxes}"
        with_gaps, with_overlaps, pairs = with_gaps + bool(gaps), with_overlaps + bool(found), pairs + len(found)
    assert with_gaps > RANDOM_TABLES / 4 and with_overlaps > RANDOM_TABLES / 4
    record_property("counted", f"{RANDOM_TABLES} random tables agree: {with_gaps} have gaps, {with_overlaps} have "
                    f"overlaps ({pairs} pairs)")


def test_the_prover_objects_when_a_gap_ends_on_the_wrong_side_of_its_limit():
    axes = (NumberAxis(0.0, 10.0, True),)
    rule: Box = (Numbers((Span(0.0, True, 4.0, False),)),)
    assert uncovered(axes, [rule]) == ((Numbers((Span(4.0, True, 10.0, True),), True),),)
    for wrong in (Numbers((Span(4.0, False, 10.0, True),), True), Numbers((Span(4.0, True, 10.0, True),)),
                  Numbers((Span(4.0, True, 9.5, True),), True)):
        assert not Prover(axes).gaps_agree([rule], [(wrong,)])


def test_the_prover_objects_when_a_pair_or_its_region_is_wrong():
    axes = (ChoiceAxis(("a", "b")), NumberAxis(0.0, 10.0))
    boxes = [(Choices(("a", "b")), Numbers((Span(0.0, True, 5.0, True),))),
             (Choices(("b",)), Numbers((Span(5.0, True, 10.0, True),)))]
    (i, j, shared), = overlaps(axes, boxes)
    assert Prover(axes).overlaps_agree(boxes, [(i, j, shared)])
    assert not Prover(axes).overlaps_agree(boxes, [])
    assert not Prover(axes).overlaps_agree(boxes, [(i, j, boxes[1])])
    assert not Prover(axes).at_most_one(boxes)


# private

Slice = tuple[tuple[Axis, ...], list[Box], list[Box], list[Box]]     # axes, rules of authors, all rows, gaps found


def slices(pack: Pack, table: Table) -> Iterator[Slice]:
    """The table as a whole, or medium by medium: the rows and the gaps that name the medium, with only it on the
    axis. The gaps are those that are found in the whole table."""
    axes = table_space(pack, table)
    every = table_boxes(table, axes)
    written = [box for row, box in zip(table.rows, every, strict=True) if row.rule != f"{table.id}.otherwise"]
    gaps = list(uncovered(axes, written))
    at = next((place for place, column in enumerate(table.columns) if column.name == "medium"), None)
    if at is None or len(every) <= SLICED_ABOVE:
        yield axes, written, every, gaps
        return
    for medium in axes[at].ids:  # type: ignore[union-attr]
        narrow = (*axes[:at], ChoiceAxis((medium,)), *axes[at + 1:])
        yield (narrow, *([(*box[:at], Choices((medium,)), *box[at + 1:]) for box in boxes
                          if medium in box[at].ids] for boxes in (written, every, gaps)))  # type: ignore[union-attr]


def random_table(draw: random.Random) -> tuple[tuple[Axis, ...], list[Box]]:
    axes: list[Axis] = []
    for _ in range(draw.randint(1, 4)):
        if draw.random() < .4:
            axes.append(ChoiceAxis(tuple("abcdef"[:draw.randint(1, 6)])))
        else:
            axes.append(NumberAxis(0.0, draw.choice((1.0, 3.0, 10.0)), draw.random() < .4))
    rows = [tuple(_random_set(draw, axis) for axis in axes) for _ in range(draw.randint(0, 8))]
    return tuple(axes), [row for row in rows if all(one.ids if isinstance(one, Choices) else one.spans or one.absent
                                                    for one in row)]


def _random_set(draw: random.Random, axis: Axis) -> AxisSet:
    if isinstance(axis, ChoiceAxis):
        return Choices(tuple(id_ for id_ in axis.ids if draw.random() < .6))
    spans = []
    for _ in range(draw.choice((1, 1, 1, 2))):
        low, high = sorted(draw.choice((0.0, 0.1, 0.3, 0.5, 1.0, 1.5, 2.0, 3.0, 7.0, 10.0)) for _ in range(2))
        if draw.random() < .35:
            low, high = axis.low, draw.choice((high, axis.high))
        spans.append(Span(low, draw.random() < .6, high, draw.random() < .6))
    raw = Numbers(tuple(spans), axis.may_be_absent and draw.random() < .5)
    cells = cells_of(axis, (raw,))
    return cells.set_of(cells.mask_of(raw))  # type: ignore[return-value]
