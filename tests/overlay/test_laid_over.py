"""Tests what an overlay's rules make of a table of the base, and that tightening makes nothing better."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from random import Random

import pytest
from hypothesis import given
from hypothesis import strategies as st

from generator.boxes.split import overlaps, uncovered, whole_space
from generator.compile.completeness import Remainder, Ruled, complete
from generator.compile.overlay_rules import FILLS, LOOSENS, TIGHTENS, Ground, lay_over
from generator.evaluate.prepared import prepare
from generator.evaluate.results import DecisionResult, Selected
from generator.evaluate.select import select
from generator.pack.model import VERDICTS, Pack, Table
from generator.pack.texts import BasisText
from generator.problems import Place
from generator.read.overlay_records import OverlayRule
from generator.read.records import Basis, Rule, Word
from tests.agreement.random_packs import random_application, random_pack
from tests.boxes.random_tables import Axis, Box, in_box, points, tables

AT = Place("overlay/rules/a.yml", 1, 1)
OPEN = VERDICTS.index("open")


def word(text: str) -> Word:
    return Word(text, AT)


def record(verdict: int, basis: str, loosens: str = "") -> OverlayRule:
    rule = Rule(word("a.new"), AT, (), word(VERDICTS[verdict]), word("Said for a test."), Basis(AT, word(basis)))
    return OverlayRule(rule, word(loosens) if loosens else None)


def ground(axes: tuple[Axis, ...], rows: tuple[Ruled, ...], *, safety: bool = False, collects: bool = False,
           bases: Mapping[str, str] | None = None, waiting: frozenset[str] = frozenset()) -> Ground:
    return Ground("a", collects, safety, axes, rows,
                  {rule: BasisText(kind) for rule, kind in (bases or {}).items()}, waiting, str)


def worst_at(rows: tuple[Ruled, ...], point: tuple) -> int:
    """What the rows say at a point: the worst that meets it, suitable where none does."""
    return min((row.verdict for row in rows if in_box(row.box, point)), default=VERDICTS.index("suitable"))


@given(tables(), st.integers(0, 3), st.booleans(), st.data())
def test_rule_of_an_overlay_decides_in_its_box_and_nothing_else_changes(
        drawn: tuple[tuple[Axis, ...], tuple[Box, ...]], verdict: int, collects: bool, data: st.DataObject):
    axes, boxes = drawn
    boxes = tuple(box for box in boxes if all(point is not None for point in box) and any(
        in_box(box, point) for point in points(axes)))
    if not boxes:
        return
    verdicts = data.draw(st.lists(st.integers(0, 3 if not collects else 2), min_size=len(boxes), max_size=len(boxes)))
    ruled = tuple(Ruled(f"a.r{at}", one, box, AT) for at, (one, box) in enumerate(zip(verdicts, boxes, strict=True)))
    new, base = ruled[0], ruled[1:]
    full, _ = complete("a", AT, "collect" if collects else "first", axes, base, Remainder(OPEN, AT), str)
    here = ground(axes, full, collects=collects)
    laid = lay_over(here, ((replace(new, rule="a.new", verdict=min(verdict, 2) if collects else verdict),
                            record(verdict, "supplier", "because the test says so")),))
    if isinstance(laid, list):
        return                                   # it changes nothing, or gives a reason for loosening nothing
    rows, touched = laid
    verdict = rows[0].verdict
    for point in points(axes):
        before, after = worst_at(full, point), worst_at(rows, point)
        assert after == (verdict if in_box(new.box, point) else before)
        kinds = {one.kind for one in touched if any(in_box(box, point) for box in one.regions)}
        assert (after < before) == (TIGHTENS in kinds)
        assert (after > before) <= bool(kinds & {FILLS, LOOSENS})
    if not collects:
        assert not uncovered(axes, [row.box for row in rows])
        assert not list(overlaps(axes, [row.box for row in rows]))


@pytest.mark.parametrize(("before", "after", "basis", "kind", "safety", "waits", "loosens", "code"), [
    ("unsuitable", "caution", "standard", "company", False, False, "x", "V001"),
    ("caution", "suitable", "physics", "supplier", False, False, "x", "V001"),
    ("caution", "suitable", "common_practice", "supplier", True, False, "x", "V001"),
    ("caution", "suitable", "handbook", "company", False, False, "", "V002"),
    ("caution", "suitable", "handbook", "company", False, False, "x", ""),
    ("open", "suitable", "common_practice", "handbook", False, False, "", "V005"),
    ("open", "suitable", "common_practice", "company", True, False, "", ""),
    ("open", "suitable", "physics", "supplier", False, False, "", "V005"),
    ("open", "suitable", "physics", "company", False, True, "", "V005"),
    ("open", "suitable", "physics", "supplier", True, True, "", ""),
    ("open", "unsuitable", "physics", "company", True, False, "", ""),
    ("suitable", "open", "standard", "common_practice", True, False, "", ""),
    ("caution", "unsuitable", "standard", "company", True, False, "x", "V006"),
    ("caution", "caution", "standard", "company", True, False, "", "V004"),
])
def test_what_an_overlay_may_do_depends_on_what_the_base_rule_rests_on(
        before: str, after: str, basis: str, kind: str, safety: bool, waits: bool, loosens: str, code: str):
    axes = tables_of_one_axis()
    here = ground(axes, (Ruled("a.base", VERDICTS.index(before), whole_space(axes), AT),), safety=safety,
                  bases={"a.base": basis}, waiting=frozenset(("a.base",)) if waits else frozenset())
    verdict = VERDICTS.index(after)
    laid = lay_over(here, ((Ruled("a.new", verdict, whole_space(axes), AT), record(verdict, kind, loosens)),))
    assert [problem.code for problem in laid if isinstance(laid, list)] == ([code] if code else [])
    if not code:
        assert not isinstance(laid, list)
        assert [row.rule for row in laid[0]] == ["a.new"]


def tables_of_one_axis() -> tuple[Axis, ...]:
    from generator.boxes.sets import NumberAxis
    return (NumberAxis(0.0, 5.0),)


def tightened(random: Random, pack: Pack) -> Pack:
    """The pack with verdicts of some rows worse, and perhaps a collect table twice, which adds nothing better."""
    def worse(table: Table) -> Table:
        rows = tuple(replace(row, verdict=random.randint(0, row.verdict)) if random.random() < 0.4 else row
                     for row in table.rows)
        return replace(table, rows=rows)

    made = tuple(map(worse, pack.tables))
    added = tuple(replace(worse(table), id=f"{table.id}_again") for table in made if random.random() < 0.2)
    return replace(pack, tables=made + added)


def ranks(decision: DecisionResult) -> dict[str, int]:
    return {one.candidate: VERDICTS.index(one.verdict) for one in decision.candidates}


def best_selection(selected: Selected) -> int:
    return max((VERDICTS.index(one.verdict) for one in selected.selections), default=0)


def test_tightening_makes_no_candidate_and_no_selection_better(record_property):
    """A decision that loses its last candidate puts all of them back in play for the others, and says so; wherever
    each decision keeps one, no verdict gets better."""
    compared = changed = lost = 0
    for number in range(300):
        random = Random(number)
        pack = random_pack(random)
        tight = tightened(random, pack)
        before, after = prepare(pack), prepare(tight)
        for _ in range(6):
            application = random_application(random, pack, 0.0)
            old, new = select(before, application), select(after, application)
            assert best_selection(new) <= best_selection(old)
            if not all(decision.in_play for decision in new.decisions):
                lost += 1
                continue
            for one, other in zip(old.decisions, new.decisions, strict=True):
                was, now = ranks(one), ranks(other)
                assert all(now[name] <= was[name] for name in was), (number, one.decision)
                changed += was != now
                compared += len(was)
    assert changed > 300
    record_property("counted", f"{compared} verdicts of 300 random packs, {changed} decisions changed by tightening, none "
                               f"better; {lost} applications in which a decision lost its last candidate")
