"""Whatever the author's rules leave over or say twice, a table is complete and disjoint in the end."""

from __future__ import annotations

from hypothesis import given, settings, strategies as st

from generator.boxes.sets import ChoiceAxis, Choices, NumberAxis, Numbers, Span
from generator.boxes.words import AxisWords, describe
from generator.compile.completeness import Remainder, Ruled, complete
from generator.problems import Place
from tests.boxes.random_tables import in_box, points, tables

AT = Place("data/tables/t.yml", 1, 1)
POLICIES = ("unique", "any", "first", "priority")


def completed(chosen, boxes, verdicts, policy, otherwise=True):
    words = tuple(AxisWords(f"axis {place}") for place in range(len(chosen)))
    rows = tuple(Ruled(f"t.r{at}", verdict, box, Place(AT.file, 2 + at, 1))
                 for at, (box, verdict) in enumerate(zip(boxes, verdicts, strict=False)))
    return complete("t", AT, policy, chosen, rows, Remainder(2, AT) if otherwise else None,
                    lambda box: describe(chosen, box, words))


@given(
    tables(), st.lists(st.integers(0, 3), min_size=6, max_size=6), st.sampled_from(POLICIES), st.booleans())
@settings(max_examples=400, deadline=None)
def test_every_point_of_a_table_lies_in_exactly_one_row_whose_verdict_the_hit_policy_wants(
        table, verdicts, policy, otherwise):
    chosen, boxes = table
    rows, _ = completed(chosen, boxes, verdicts, policy, otherwise)
    for point in points(chosen):
        holding = [row for row in rows if in_box(row.box, point)]
        assert len(holding) == 1, point
        said = [verdicts[at] for at, box in enumerate(boxes) if in_box(box, point)]
        if not said:
            assert (holding[0].rule, holding[0].verdict) == ("t.otherwise", 2 if otherwise else 1)
        else:
            assert holding[0].verdict == (said[0] if policy == "first" else min(said))


@given(tables(), st.lists(st.integers(0, 3), min_size=6, max_size=6), st.sampled_from(POLICIES))
@settings(max_examples=400, deadline=None)
def test_findings_are_exactly_what_counting_the_points_finds(table, verdicts, policy):
    chosen, boxes = table
    _, findings = completed(chosen, boxes, verdicts, policy, otherwise=False)
    found = {
        code: [f for f in findings if f.problem.code == code] for code in ("G001", "G002", "G003", "G004")}
    space = points(chosen)
    holders = {point: [at for at, box in enumerate(boxes) if in_box(box, point)] for point in space}
    for point in space:
        assert sum(in_box(f.regions[0], point) for f in found["G001"]) == (0 if holders[point] else 1)
    pairs = {(i, j) for held in holders.values() for i in held for j in held if i < j}
    apart = {pair for pair in pairs if verdicts[pair[0]] != verdicts[pair[1]]}
    assert len(found["G002"]) == (len(apart) if policy in ("unique", "any") else 0)
    assert len(found["G003"]) == (len(pairs - apart) if policy == "unique" else 0)
    if policy in ("first", "priority"):
        rank = (lambda at: at) if policy == "first" else (lambda at: (verdicts[at], at))
        winners = {min(held, key=rank) for held in holders.values() if held}
        # A box without any point is refused when its cell is read, so it is not called hidden here.
        real = {at for held in holders.values() for at in held}
        assert {f.key for f in found["G004"]} == {f"G004 t r{at}" for at in real - winners}


@given(tables(), st.lists(st.integers(0, 3), min_size=6, max_size=6))
@settings(max_examples=100, deadline=None)
def test_a_collect_table_keeps_its_rules_and_has_no_findings(table, verdicts):
    chosen, boxes = table
    rows, findings = completed(chosen, boxes, verdicts, "collect", otherwise=False)
    assert [row.box for row in rows] == list(boxes) and findings == ()


def test_an_overlap_names_both_rules_their_places_and_the_region_with_its_unit():
    chosen = (ChoiceAxis(("pfa", "epdm")), NumberAxis(0.0, 200.0))
    words = (AxisWords(
        "liner", titles={"pfa": "PFA", "epdm": "EPDM"}), AxisWords("highest temperature", "°C"))
    warm = (Choices(("pfa", "epdm")), Numbers((Span(0.0, True, 80.0, True),)))
    hot = (Choices(("epdm",)), Numbers((Span(60.0, False, 200.0, True),)))
    rows = (Ruled("t.warm", 3, warm, Place("t.yml", 9, 5)), Ruled("t.hot", 0, hot, Place("t.yml", 14, 5)))
    _, findings = complete("t", AT, "unique", chosen, rows, None, lambda box: describe(chosen, box, words))
    assert str(findings[0].problem) == (
        "t.yml:14:5: G002: 't.warm' and 't.hot' say suitable and unsuitable for liner EPDM, highest temperature "
        "above 60 up to 80 °C (the other rule stands at t.yml:9:5); fix: take this region out of one of them, "
        "or waive `G002 t warm hot`")
    assert findings[1].key == "G001 t liner PFA, highest temperature above 80 °C"
