"""The two engines agree on applications drawn around the limits, on every limit, and on random
packs."""

from __future__ import annotations

import os
from collections import Counter
from collections.abc import Callable
from dataclasses import dataclass, field
from random import Random

from generator.answers.application import read_application
from generator.evaluate.prepared import prepare
from generator.evaluate.results import Application, Selected
from generator.evaluate.select import select
from generator.pack.model import VERDICTS
from tests.agreement.drawing import draw_application, has_sets, limit_applications
from tests.agreement.random_packs import random_application, random_pack
from tests.agreement.shipped import desk, share_out
from tests.agreement.summary import Engine, compare, document_of
from tests.shipped import typed_case, whole

FULL_RUN = 100_000
# The full run takes 50 times as long as the suite's part of it.
APPLICATIONS = int(os.environ.get("AGREEMENT_APPLICATIONS", 2_000))
SHARE_OF_LIMITS = 6                              # the suite takes every sixth limit, a full run all of them
PORTION, BATCH = 500, 50
LEAST_VERDICT_SHARE = 0.10                       # of all candidate verdicts, for each of the four
LEAST_DECISIONS = 20 / FULL_RUN                   # of applications in which a rule decides


@dataclass
class Counts:
    """What a run of applications was made of, and where the engines differ."""

    applications: int = 0
    with_sets: int = 0
    states: int = 0
    identical: int = 0
    verdicts: Counter[str] = field(default_factory=Counter)
    deciding: Counter[str] = field(default_factory=Counter)
    matching: Counter[str] = field(default_factory=Counter)
    differences: list[str] = field(default_factory=list)

    def add(self, other: Counts) -> None:
        self.applications += other.applications
        self.with_sets += other.with_sets
        self.states += other.states
        self.identical += other.identical
        self.verdicts += other.verdicts
        self.deciding += other.deciding
        self.matching += other.matching
        self.differences += other.differences


def test_engines_agree_on_applications_drawn_around_the_limits(
        record_property: Callable[[str, object], None]) -> None:
    counts = Counts()
    for portion in share_out(_compare_portion, APPLICATIONS, PORTION):
        counts.add(portion)
    least = LEAST_DECISIONS * counts.applications
    rules = {row.rule for table in desk().pack.tables for row in table.rows}
    deciding = {rule for rule in rules if counts.deciding[rule] >= least}
    overruled = {rule for rule in rules - deciding if counts.matching[rule] >= least}
    # A table without a condition on an answer says the same in every application: nothing can be drawn for
    # its rules.
    fixed = {row.rule for table in desk().pack.tables for row in table.rows
             if all(column.source == "decision" for column in table.columns)}
    shares = {verdict: counts.verdicts[verdict] / counts.verdicts.total() for verdict in VERDICTS}
    told = (
        f"{counts.applications} applications, {counts.states} states",
        f"with set answers {counts.with_sets / counts.applications:.1%}",
        f"{len(counts.differences)} differences",
        f"all numbers the same to the last bit in {counts.identical}",
        "candidate verdicts " + ", ".join(f"{verdict} {share:.1%}" for verdict, share in shares.items()),
        f"of {len(rules)} rules {len(deciding)} decide in at least {least:g} applications",
        f"{len(overruled)} apply as often but a worse rule overrules them",
        f"{len(fixed - deciding - overruled)} belong to tables without answers")
    record_property("counted", "; ".join(told))
    assert not counts.differences, counts.differences[:5]
    assert counts.applications == APPLICATIONS
    assert counts.with_sets * 3 >= counts.applications
    assert all(share >= LEAST_VERDICT_SHARE for share in shares.values()), shares
    if counts.applications >= FULL_RUN:              # fewer cannot meet every rule often enough
        argued = {one.rule for case in whole()[1].cases for one in (*case.expect, *case.together)}
        seldom = sorted(rules - deciding - overruled - fixed - argued)
        assert not seldom, f"{len(seldom)} rules are met too seldom to be tested: {seldom[:10]}"
        assert len(overruled) < len(rules) / 20, sorted(overruled)[:10]


def test_engines_agree_on_limits_and_on_their_neighbours(
        record_property: Callable[[str, object], None]) -> None:
    place = desk()
    every = list(limit_applications(place.limits))
    assert len(every) > 1000
    applications = every if APPLICATIONS >= FULL_RUN else Random(0).sample(every, len(every) // SHARE_OF_LIMITS)
    differences, _ = _compare_batches(applications, [select(place.prepared, one) for one in applications])
    record_property("counted", f"{len(applications)} of {len(every)} applications on limits and their "
                               f"12-digit neighbours; {len(differences)} differences")
    assert not differences, differences[:5]


def test_engines_agree_on_every_reference_case(record_property: Callable[[str, object], None]) -> None:
    cases = len(whole()[1].cases)
    differences = [line for found in share_out(_compare_cases, cases, BATCH) for line in found]
    record_property("counted", f"{cases} reference cases; {len(differences)} differences")
    assert not differences, differences[:5]


def test_engines_agree_on_random_packs(record_property: Callable[[str, object], None]) -> None:
    engine = Engine()
    compared = 0
    for number in range(150):
        random = Random(number)
        pack = random_pack(random)
        prepared = prepare(pack)
        applications = [random_application(random, pack, 0.4) for _ in range(10)]
        engine.take(pack)
        engine.ask({"applications": [document_of(one) for one in applications]})
        differences, _ = compare(engine, applications, [select(prepared, one) for one in applications])
        assert not differences, (number, differences)
        compared += len(applications)
    engine.close()
    record_property("counted", f"{compared} applications of 150 random packs; 0 differences")


# private

def _compare_portion(numbers: range) -> Counts:
    place = desk()
    applications = [draw_application(place.limits, number) for number in numbers]
    counts = Counts(len(applications), sum(map(has_sets, applications)),
                    sum(len(one.states) for one in applications))
    for start in range(0, len(applications), BATCH):
        batch = applications[start:start + BATCH]
        place.engine.ask({"applications": [document_of(one) for one in batch]})     # it works while we do
        ours = [select(place.prepared, one) for one in batch]
        differences, identical = compare(place.engine, batch, ours)
        counts.differences += differences
        counts.identical += identical
        for selected in ours:
            _count(counts, selected)
    return counts


def _compare_cases(numbers: range) -> list[str]:
    """The differences over the reference cases of these numbers."""
    cases = whole()[1].cases
    readings = [read_application(desk().pack, typed_case(cases[number])) for number in numbers]
    assert not [problem for reading in readings for problem in reading.problems]
    applications = [reading.application for reading in readings]
    desk().engine.ask({"applications": [document_of(one) for one in applications]})
    return compare(desk().engine, applications, [select(desk().prepared, one) for one in applications])[0]


def _compare_batches(applications: list[Application], ours: list[Selected]) -> tuple[list[str], int]:
    engine, found, identical = desk().engine, [], 0
    for start in range(0, len(applications), BATCH):
        engine.ask({"applications": [document_of(one) for one in applications[start:start + BATCH]]})
        differences, same = compare(engine, applications[start:start + BATCH], ours[start:start + BATCH])
        found += differences
        identical += same
    return found, identical


def _count(counts: Counts, selected: Selected) -> None:
    deciding, matching = set(), set()
    for decision in selected.decisions:
        for one in decision.candidates:
            counts.verdicts[one.verdict] += 1
            for reason in one.reasons:
                matching.add(reason.rule)
                if reason.verdict == one.verdict:
                    deciding.add(reason.rule)
    for one in selected.selections[:1]:                # what limits a kept pair is not hidden by a better partner
        deciding.update(reason.rule for chosen in one.chosen for reason in chosen.limits)
    counts.deciding.update(deciding)
    counts.matching.update(matching)
