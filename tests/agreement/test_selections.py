"""The joint choice is what looking at every combination gives, in both engines; what is settled stays so."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable
from dataclasses import replace
from random import Random

from generator.evaluate.prepared import prepare
from generator.evaluate.results import Application, Selected, Selection
from generator.evaluate.select import select
from generator.pack.model import VERDICTS, Pack
from tests.agreement import meaning
from tests.agreement.all_selections import (Everything, comes_to, conflicting_tables, highest, leading,
                                            look_at_everything, shown)
from tests.agreement.random_packs import completion, random_application, random_pack
from tests.agreement.summary import Engine, compare, document_of
from tests.agreement.test_soundness import points_of

MODELS = 1000


def drawn(number: int) -> tuple[Pack, Application]:
    """A small random pack and an application for it: half of them with sets, a third with pinned
    candidates."""
    random = Random(f"selections {number}")
    pack = random_pack(random)
    application = random_application(random, pack, 0.5 if number % 2 else 0.0)
    if number % 3 == 0:
        pinned = random.sample(pack.decisions, random.randint(1, 2))
        application = replace(application, pinned=tuple(
            (decision.id, random.choice(decision.candidates).id)
            for decision in pack.decisions if decision in pinned))
    return pack, application


def test_joint_choice_equals_brute_force_on_a_thousand_small_models(
        record_property: Callable[[str, object], None]) -> None:
    counts: Counter[str] = Counter()
    for number in range(MODELS):
        pack, application = drawn(number)
        selected, seen = select(prepare(pack), application), look_at_everything(pack, application)
        assert [_as_places(pack, one) for one in selected.selections] == leading(seen), number
        _compare_together(selected, seen)
        _compare_conflict(selected, seen)
        counts.update(one.verdict for one in selected.selections)
        counts.update(("together",) * len(selected.together))
        counts.update(("conflict",) * (selected.conflict is not None))
        counts.update(("set aside",) * (seen.choice is not seen.bounds))
    record_property("counted", f"{MODELS} models: {dict(counts)}; 0 differences")
    assert all(counts[kind] > 50 for kind in (*VERDICTS, "together", "conflict", "set aside")), counts


def test_engines_agree_on_the_selections_of_a_thousand_small_models() -> None:
    engine = Engine()
    for number in range(MODELS):
        pack, application = drawn(number)
        engine.take(pack)
        engine.ask({"applications": [document_of(application)]})
        differences, _ = compare(engine, [application], [select(prepare(pack), application)])
        assert not differences, (number, differences)
    engine.close()


def test_selection_has_the_verdict_of_the_words_when_every_answer_is_single() -> None:
    for number in range(0, MODELS, 4):
        pack, application = drawn(number)
        states = points_of(application)
        for selection in select(prepare(pack), application).selections:
            verdict = VERDICTS[meaning.selection_verdict(pack, states, _chosen(pack, selection))]
            assert (selection.best, selection.worst) == (verdict, verdict), number


def test_bounds_of_a_selection_and_of_together_hold_for_every_completion(
        record_property: Callable[[str, object], None]) -> None:
    settled = 0
    for number in range(1, MODELS, 2):
        pack, application = drawn(number)
        random = Random(number)
        selected = select(prepare(pack), replace(application, pinned=()))
        for _ in range(3):
            states = points_of(completion(random, pack, application))
            for selection in selected.selections:
                settled += selection.worst == selection.best
                verdict = meaning.selection_verdict(pack, states, _chosen(pack, selection))
                assert VERDICTS.index(selection.worst) <= verdict <= VERDICTS.index(selection.best), number
            best = meaning.best_selections(pack, states)
            for one in selected.together:
                place = _place(pack, one.decision, one.candidate)
                verdict = best[one.decision, place]
                assert VERDICTS.index(one.worst) <= verdict <= VERDICTS.index(one.best), number
            if selected.conflict is not None:
                assert max(best.values()) <= VERDICTS.index(selected.conflict.left), number
    record_property("counted", f"{settled} settled selections looked at again; 0 misses")
    assert settled > 1000


def test_limits_of_a_selection_are_rules_that_set_one_of_its_bounds_worst_first() -> None:
    limited = 0
    for number in range(200):
        pack, application = drawn(number)
        for selection in select(prepare(pack), application).selections:
            assert (selection.verdict == "suitable") == (selection.limits == ())
            ranks = [VERDICTS.index(reason.verdict) for reason in selection.limits]
            assert ranks == sorted(ranks)
            limits = {reason.verdict for reason in selection.limits}
            assert limits == {selection.worst, selection.best} - {"suitable"}
            for chosen in selection.chosen:
                assert (chosen.verdict == "suitable") == (chosen.limits == ())
                assert all((chosen.decision, chosen.candidate) in reason.partner for reason in chosen.limits)
            chosen = {(one.decision, one.candidate) for one in selection.chosen}
            assert all(set(reason.partner) <= chosen for reason in selection.limits)
            limited += len(selection.limits)
    assert limited > 100


# private

def _compare_together(selected: Selected, seen: Everything) -> None:
    told = {(one.decision, one.candidate): one for one in selected.together}
    some = any(best > 0 for _, best in seen.choice.values())
    for place, decision in enumerate(selected.decisions):
        for result in decision.candidates:
            ranks = comes_to(seen, place, _place(seen.pack, decision.decision, result.candidate))
            one = told.pop((decision.decision, result.candidate), None)
            if some and ranks is not None and shown(ranks) < VERDICTS.index(result.verdict):
                assert (one.worst, one.best, one.verdict) == \
                    (VERDICTS[ranks[0]], VERDICTS[ranks[1]], VERDICTS[shown(ranks)])
                assert one.limits
            else:
                assert one is None
    assert not told


def _compare_conflict(selected: Selected, seen: Everything) -> None:
    expected = conflicting_tables(seen)
    if expected is None:
        assert selected.conflict is None
        return
    left, tables = expected
    assert (selected.conflict.left, selected.conflict.tables) == (VERDICTS[left], tables)
    assert {reason.table for reason in selected.conflict.reasons} == set(tables)
    kept = [table for table in seen.tables if seen.pack.tables[table[1][0].table].id in tables]
    assert highest(seen, kept) <= left
    for table in kept:                           # none can be spared
        assert highest(seen, [other for other in kept if other is not table]) > left


def _as_places(pack: Pack, selection: Selection) -> tuple[tuple[int, ...], tuple[int, int]]:
    return (tuple(_chosen(pack, selection).values()),
            (VERDICTS.index(selection.worst), VERDICTS.index(selection.best)))


def _chosen(pack: Pack, selection: Selection) -> dict[str, int]:
    return {one.decision: _place(pack, one.decision, one.candidate) for one in selection.chosen}


def _place(pack: Pack, decision: str, candidate: str) -> int:
    return next([option.id for option in item.candidates].index(candidate) for item in pack.decisions
                if item.id == decision)
