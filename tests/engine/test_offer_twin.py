"""Compares how both engines hold an offer against an application."""

from __future__ import annotations

from collections import Counter
from random import Random

from generator.evaluate.offer import Offer, compare_offer
from tests.agreement.random_packs import random_application, random_pack
from tests.agreement.summary import document_of
from tests.engine.twin import Twin, plain


def test_offers_are_compared_alike_in_both_engines_and_nothing_unsuitable_is_ever_accepted(twin: Twin) -> None:
    counts: Counter[str] = Counter()
    for number in range(120):
        random = Random(number)
        pack = random_pack(random)
        application = random_application(random, pack, 0.3)
        chosen = tuple((decision.id, random.choice(decision.candidates).id) for decision in pack.decisions
                       if random.random() < 0.8)
        offer = Offer(chosen, (("flow", 2.0),), None)
        mine = compare_offer(pack, application, offer)
        assert twin.call("offer", "compareOffer", pack, document_of(application), offer) == plain(mine), number
        for one in mine.candidates:
            counts[one.standing] += 1
            assert one.standing == "open" or one.verdict in ("suitable", "caution") or one.standing == "deviation"
            assert bool(one.offered) or one.standing == "open"
    assert all(counts[standing] > 15 for standing in ("as_required", "accepted", "deviation", "open")), counts
