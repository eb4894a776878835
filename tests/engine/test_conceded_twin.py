"""Compares how both engines set concessions beside verdicts."""

from __future__ import annotations

from collections import Counter
from random import Random

from generator.evaluate.conceded import conceded
from generator.evaluate.prepared import prepare
from generator.evaluate.results import Concession
from generator.evaluate.select import select
from tests.agreement.random_packs import random_application, random_pack
from tests.engine.twin import Twin, plain


def test_concessions_stand_alike_in_both_engines_and_a_rule_that_is_conceded_stands_against_the_candidate(
        twin: Twin) -> None:
    counts: Counter[str] = Counter()
    for number in range(150):
        random = Random(number)
        pack = random_pack(random)
        selected = select(prepare(pack), random_application(random, pack, 0.4))
        rules = [row.rule for table in pack.tables for row in table.rows]
        given = []
        for _ in range(4):
            decision = random.choice(pack.decisions)
            given.append(Concession(
                decision.id, random.choice(decision.candidates).id, "Reason.", "A. Person",
                random.choice(("2026-11-24", "2026-11-25", "2027-01-01")), random.choice(("", "", *rules)),
                random.choice(("", "", pack.states[0].id))))
        mine = conceded(selected, given, "2026-11-25")
        assert twin.call("conceded", "conceded", selected, given, "2026-11-25") == plain(mine), number
        for one in mine:
            counts[one.standing] += 1
            assert one.standing != "holds" or one.concession.until >= "2026-11-25"
            assert one.verdict != "suitable" or one.concession.rule or one.standing == "needless"
    assert all(counts[standing] > 40 for standing in ("holds", "expired", "needless")), counts
