"""Mutants: which there are, that none is dropped that changes a verdict, and that kills agree with brute
force.
"""

from __future__ import annotations

from dataclasses import replace
from itertools import product

from hypothesis import given, settings
from hypothesis import strategies as st

from generator.analyse.cases import check_cases
from generator.analyse.masks import is_masked
from generator.analyse.mutants import author_mutants, changed_regions, space_of, table_mutants
from generator.analyse.mutated import mutated_table
from generator.analyse.pinning import noticed_by, told_cases
from generator.boxes.sets import holds
from generator.evaluate.prepared import prepare
from generator.evaluate.select import select
from generator.pack.model import Pack, Table
from tests.analyse.small_tables import (
    CANDIDATES,
    COLOURS,
    CUTS,
    application,
    case,
    one_limit,
    packs,
    rule_of_one_candidate,
)

HEATS = sorted(
    {cut + step for cut in CUTS for step in (-3.0, -0.5, 0.0, 0.5, 3.0) if CUTS[0] <= cut + step <= CUTS[-1]}
)


def verdicts(pack: Pack) -> dict[tuple[float, str, str], str]:
    """The verdict of every candidate at every point of a grid that lies on, beside and between the limits."""
    prepared = prepare(pack)
    return {(heat, colour, one.candidate): one.verdict for heat, colour in product(HEATS, COLOURS)
            for one in select(prepared, application(heat, colour)).decisions[0].candidates}


def with_table(pack: Pack, place: int, table: Table) -> Pack:
    return replace(pack, tables=(*pack.tables[:place], table, *pack.tables[place + 1:]))


def all_mutants(pack: Pack, texts):
    """Every mutant, those that change nothing as well, with its table's space."""
    written = {rule.rule for rule in texts.rules}
    for place, table in enumerate(pack.tables):
        space = space_of(pack, table)
        for mutant in table_mutants(place, space, written, written, {}):
            yield space, mutant


@settings(max_examples=8, deadline=None)
@given(packs())
def test_a_mutant_that_changes_a_verdict_of_its_table_somewhere_is_never_removed_as_equivalent(drawn) -> None:
    pack, texts = drawn
    for space, mutant in all_mutants(pack, texts):
        alone = replace(pack, tables=(pack.tables[mutant.table],))
        before = verdicts(alone)
        after = verdicts(with_table(alone, 0, mutated_table(space, mutant)))
        regions = changed_regions(space, mutant)
        for point, verdict in before.items():
            heat, colour, candidate = point
            within = any(all(holds(one, value) for one, value in zip(region.box, (candidate, colour, heat)))
                         for region in regions)
            assert within == (after[point] != verdict), (mutant.what, point)


@settings(max_examples=8, deadline=None)
@given(packs())
def test_a_masked_mutant_changes_no_verdict_of_any_application(drawn) -> None:
    pack, texts = drawn
    before = verdicts(pack)
    for mutant in author_mutants(pack, texts).mutants:
        after = verdicts(
            with_table(pack, mutant.table, mutated_table(space_of(pack, pack.tables[mutant.table]), mutant))
        )
        if is_masked(pack, mutant):
            assert after == before, mutant.what


@settings(max_examples=20, deadline=None)
@given(
    packs(),
    st.lists(
        st.tuples(st.sampled_from(HEATS), st.sampled_from(COLOURS), st.booleans()), min_size=1, max_size=4
    ),
)
def test_the_mutants_that_cases_notice_agree_with_checking_every_case_against_every_mutated_pack(
    drawn, points
) -> None:
    pack, texts = drawn
    prepared = prepare(pack)
    cases = []
    for heat, colour, by_rule in points:
        found = select(prepared, application(heat, colour)).decisions[0].candidates
        cases.append(
            case(
                str(heat).removesuffix(".0"),
                colour,
                tuple(
                    (one.candidate, one.verdict, one.reasons[0].rule if by_rule and one.reasons else "")
                    for one in found
                ),
            )
        )
    assert check_cases(prepared, replace(texts, cases=tuple(cases))) == []
    told = told_cases(prepared, cases)
    for mutant in author_mutants(pack, texts).mutants:
        space = space_of(pack, pack.tables[mutant.table])
        mutated = prepare(with_table(pack, mutant.table, mutated_table(space, mutant)))
        brute = bool(check_cases(mutated, replace(texts, cases=tuple(cases))))
        assert noticed_by(prepared, space, mutant, told) == brute, mutant.what


@settings(max_examples=20, deadline=None)
@given(packs())
def test_a_mutated_unique_table_still_says_exactly_one_thing_of_every_answer(drawn) -> None:
    pack, texts = drawn
    for space, mutant in all_mutants(pack, texts):
        if space.table.hit_policy == "unique":
            boxes = space_of(pack, mutated_table(space, mutant)).boxes
            for point in product(CANDIDATES, COLOURS, HEATS):
                assert (
                    sum(all(holds(one, value) for one, value in zip(box, point)) for box in boxes) == 1
                ), mutant.what


def test_a_limit_of_two_rules_is_one_limit_and_each_rule_has_three_other_verdicts() -> None:
    pack, texts = one_limit()
    found = author_mutants(pack, texts)
    limits = {mutant.what: mutant.rules for mutant in found.mutants if mutant.kind == "limit"}
    both = ("limits.cold", "limits.hot")
    assert limits == {"heat 20 to 21": both, "heat 20 to 19": both, "heat 20 itself on the other side": both}
    assert sum(mutant.kind == "verdict" for mutant in found.mutants) == 6
    assert found.equivalent == 0


def test_two_cases_on_both_sides_of_a_limit_notice_what_one_case_within_each_rule_does_not() -> None:
    pack, texts = one_limit()
    prepared = prepare(pack)
    mutants = author_mutants(pack, texts).mutants
    space = space_of(pack, pack.tables[0])

    def missed(*cases) -> set[str]:
        told = told_cases(prepared, cases)
        return {mutant.what for mutant in mutants if not noticed_by(prepared, space, mutant, told)}

    far = (case("5", "red", (("first", "suitable", ""),)), case("35", "red", (("first", "unsuitable", ""),)))
    near = (
        case("20", "red", (("first", "suitable", ""),)),
        case("20.5", "red", (("first", "unsuitable", ""),)),
    )
    assert missed(*far) == {"heat 20 to 21", "heat 20 to 19", "heat 20 itself on the other side"}
    assert missed(*near) == set()


def test_a_rule_that_loses_its_only_candidate_is_missed_by_name_also_where_another_rule_is_as_bad() -> None:
    pack, texts = rule_of_one_candidate()
    prepared = prepare(pack)
    told = told_cases(prepared, [case("5", "red", (("first", "unsuitable", "limits.first"),))])
    lost = next(mutant for mutant in author_mutants(pack, texts).mutants if mutant.what == "part without first")
    assert noticed_by(prepared, space_of(pack, pack.tables[0]), lost, told)
