"""Conditions of rules are read as S-FEEL unary tests; a slip is told with its place and what to write."""

from __future__ import annotations

import pytest
from hypothesis import given, strategies as st

from generator.boxes.sets import ChoiceAxis, Choices, NumberAxis, Numbers, Span, holds
from generator.compile.cells import ColumnDomain, cell_set, interval
from generator.pack.model import NOT_APPLICABLE
from generator.problems import Place, Problem
from generator.read.records import Cell, Word

HOT = ColumnDomain("temperature_max", NumberAxis(-20.0, 200.0), "°C")
DEPTH = ColumnDomain("depth", NumberAxis(0.0, 10.0, may_be_absent=True), "m")
LINER = ColumnDomain(
    "liner", ChoiceAxis(("pfa", "ptfe", "epdm")), flags={"fluoro": frozenset({"pfa", "ptfe"})})
SERVICE = ColumnDomain("service", ChoiceAxis(("clean", "slurry", NOT_APPLICABLE)))
AT = Place("data/tables/t.yml", 7, 20)


def test_of(text: str, column: ColumnDomain = HOT):
    return cell_set(Cell(Word(column.name, AT), AT, test=Word(text, AT, quoted=True)), column)


def list_of(*ids: str, column: ColumnDomain = LINER, negated: bool = False):
    return cell_set(
        Cell(Word(column.name, AT), AT, items=tuple(Word(id_, AT) for id_ in ids), negated=negated), column)


test_of.__test__ = False  # type: ignore[attr-defined]


@pytest.mark.parametrize(("text", "yes", "no"), [
    ("<= 40", [-20, 39.9, 40], [40.1, 200]), ("< 40", [39.9], [40, 41]), ("> 40", [40.1, 200], [40]),
    (">= 40", [40, 200], [39.9]), ("= 5", [5], [4.9, 5.1]), ("5", [5], [4, 6]), ("!= 5", [4.9, 200], [5]),
    ("[18..21]", [18, 20, 21], [17.9, 21.1]), ("(18..21)", [18.1, 20.9], [18, 21]),
    ("]18..21[", [20], [18, 21]),
    ("(18..21]", [21], [18]), ("[18..21[", [18], [21]), ("[1..3), > 5", [1, 2.9, 5.1], [3, 5]),
    ("1, 5", [1, 5], [2]),
    ("not(< 5)", [5, 200], [4.9]), ("not([1..3), > 5)", [0, 3, 5], [1, 6]), ("-", [-20, 0, 200], []),
    ("< -5", [-5.1], [-5]), ("[-5..-1]", [-3], [0]), ("[0.3..0.5e1]", [0.3, 5], [0.29, 5.1]),
])
def test_a_number_test_picks_the_numbers_it_says(text, yes, no):
    picked = test_of(text)
    assert isinstance(picked, Numbers), picked
    assert [x for x in yes if not holds(picked, x)] == [] and [x for x in no if holds(picked, x)] == []


@pytest.mark.parametrize(("text", "absent"), [
    ("-", True), ("not applicable", True), ("<= 5, not applicable", True), ("<= 5", False),
    ("not(< 5)", False),
    ("not(not applicable)", False),
])
def test_only_a_dash_and_not_applicable_match_an_answer_that_does_not_apply(text, absent):
    picked = test_of(text, DEPTH)
    assert isinstance(picked, Numbers) and picked.absent == absent


@pytest.mark.parametrize(("text", "code", "column", "said"), [
    ("18..21", "C001", 21, "brackets"), ("[18..21", "C001", 28, "closing bracket"),
    ("[21..18]", "C001", 21, "[18..21]"),
    ("<= 010", "C001", 24, "leading zeros"), ("<= 1,5", "C001", 25, "1.5"), ("≤ 40", "C001", 21, "<="),
    ("<= 40 degC", "C001", 27, "°C"), ("", "C001", 21, '"-"'), ("<=", "C001", 23, "number"),
    ("> 40 < 60", "C001", 26, "comma"), ("[18.21]", "C001", 27, ".."),
    (">= 250", "C002", 24, "-20 to 200 °C"),
    ("(5..5)", "C003", 20, "picks no value"), ("not(-20, [-20..200])", "C003", 20, "picks no value"),
    ("not applicable", "C006", 21, "not_applicable"), ("not 5", "C001", 25, "not(< 5)"),
    ("< 5,", "C001", 25, "test here"),
])
def test_a_slip_in_a_number_test_is_told_with_its_column_and_a_fix(text, code, column, said):
    problem = test_of(text)
    assert isinstance(problem, Problem)
    assert (problem.code, problem.place.column) == (code, column)
    assert said in f"{problem.message}; {problem.fix}"


def test_choices_are_picked_by_id_by_flag_and_by_exclusion():
    assert list_of("ptfe", "pfa") == Choices(("pfa", "ptfe"))
    assert list_of("ptfe", negated=True) == Choices(("pfa", "epdm"))
    assert list_of("with fluoro", "epdm") == Choices(("pfa", "ptfe", "epdm"))
    assert test_of("with fluoro", LINER) == Choices(("pfa", "ptfe"))
    assert test_of("without fluoro", LINER) == Choices(("epdm",))
    assert test_of("-", SERVICE) == Choices(("clean", "slurry", NOT_APPLICABLE))
    assert test_of("not applicable", SERVICE) == Choices((NOT_APPLICABLE,))
    assert list_of("clean", column=SERVICE, negated=True) == Choices(("slurry",))


@pytest.mark.parametrize(("cell", "code", "said"), [
    (list_of("pffa"), "C005", "`pfa`"), (list_of(), "C003", "picks nothing"),
    (list_of("pfa", "ptfe", "epdm", negated=True), "C003", "picks nothing"),
    (test_of("with floro", LINER), "C005", "fluoro"),
    (test_of("pfa", LINER), "C004", "list"), (test_of("<= 40", LINER), "C004", "list"),
    (list_of("40", column=HOT), "C004", "quotes"), (list_of("not applicable"), "C006", "not_applicable"),
])
def test_a_slip_in_a_choice_is_told_with_a_fix(cell, code, said):
    assert isinstance(cell, Problem) and cell.code == code and said in f"{cell.message}; {cell.fix}"


def test_a_range_is_read_with_its_ends():
    assert interval(Word("[0..100]", AT)) == Span(0.0, True, 100.0, True)
    assert interval(Word("(0..0.5]", AT)) == Span(0.0, False, 0.5, True)
    assert isinstance(
        interval(Word("0..100", AT)), Problem) and isinstance(interval(Word("[3..1]", AT)), Problem)


@given(st.text(alphabet="0123456789.-+<>=!,()[] notapplicbe", max_size=16))
def test_any_text_is_a_condition_or_a_problem_and_a_condition_lies_in_the_range(text):
    picked = test_of(text, DEPTH)
    if isinstance(picked, Problem):
        assert picked.code in ("C001", "C002", "C003") and str(picked).isprintable() and picked.fix
    else:
        assert isinstance(picked, Numbers) and (picked.spans or picked.absent)
        assert all(0 <= span.low <= span.high <= 10 for span in picked.spans)
