"""A verdict that rests on a figure quoted from memory is provisional, and one that stands without it is not."""

from __future__ import annotations

from dataclasses import replace
from random import Random

from hypothesis import given, settings
from hypothesis import strategies as st

from generator.evaluate.prepared import prepare
from generator.evaluate.results import Application
from generator.evaluate.select import select
from generator.pack.model import Pack
from tests.agreement import meaning
from tests.agreement.random_packs import completion, random_application, random_pack
from tests.agreement.test_soundness import points_of

SEEDS = st.integers(0, 2 ** 32)


@settings(deadline=None, max_examples=200)
@given(SEEDS)
def test_a_selection_rests_on_every_recalled_row_that_holds_and_an_unsuitable_one_only_where_no_other_row_fails_it(
        seed: int) -> None:
    pack, application = _all_pinned(seed, 0.0)
    states = points_of(application)
    chosen = {name: next(place for place, option in enumerate(decision.candidates) if option.id == candidate)
              for (name, candidate), decision in zip(application.pinned, pack.decisions)}
    for selection in select(prepare(pack), application).selections:
        holding = {recalled for table in pack.tables for state, answers in states.items()
                   if meaning.applies(pack, table, state)
                   for said in [meaning.table_says(pack, table, answers, chosen)] if said
                   for place, _ in said.rows if place < len(table.rows)
                   for recalled in table.rows[place].recalled}
        if selection.verdict == "open":
            assert selection.confirm == ()
        elif selection.verdict == "unsuitable":
            stands = meaning.selection_verdict(_without_recalled(pack), states, chosen) == 0
            assert (selection.confirm == ()) == stands
            assert set(selection.confirm) <= holding
        else:
            assert selection.confirm == tuple(sorted(holding))


@settings(deadline=None, max_examples=200)
@given(SEEDS)
def test_a_candidate_is_unsuitable_without_provision_where_its_own_rules_say_so_without_a_recalled_figure(
        seed: int) -> None:
    random = Random(seed)
    pack = random_pack(random)
    application = random_application(random, pack, 0.0)
    states = points_of(application)
    own, firm = (meaning.own_verdicts(one, states) for one in (pack, _without_recalled(pack)))
    for decision in select(prepare(pack), application).decisions:
        places = {option.id: place for one in pack.decisions if one.id == decision.decision
                  for place, option in enumerate(one.candidates)}
        for result in decision.candidates:
            place = places[result.candidate]
            if firm[decision.decision][place] == 0:
                assert result.verdict == "unsuitable" and result.confirm == ()
            elif own[decision.decision][place] == 0 and not meaning.groups_with(pack, states, decision.decision):
                assert result.confirm != ()
            if result.verdict == "open":
                assert result.confirm == ()


@settings(deadline=None, max_examples=200)
@given(SEEDS)
def test_what_a_settled_verdict_of_open_answers_rests_on_holds_what_every_completion_rests_on(seed: int) -> None:
    pack, application = _all_pinned(seed, 0.6)
    random = Random(seed)
    for selection in select(prepare(pack), application).selections:
        if selection.verdict in ("suitable", "caution"):
            for _ in range(5):
                one = completion(random, pack, application)
                found = select(prepare(pack), replace(one, pinned=application.pinned)).selections[0]
                assert set(found.confirm) <= set(selection.confirm)


# private

def _all_pinned(seed: int, open_share: float) -> tuple[Pack, Application]:
    random = Random(seed)
    pack = random_pack(random)
    pinned = tuple((decision.id, random.choice(decision.candidates).id) for decision in pack.decisions)
    return pack, replace(random_application(random, pack, open_share), pinned=pinned)


def _without_recalled(pack: Pack) -> Pack:
    """The pack in which every row that rests on memory takes nothing away."""
    return replace(pack, tables=tuple(
        replace(table, rows=tuple(replace(row, verdict=3) if row.recalled else row for row in table.rows))
        for table in pack.tables))
