"""The two engines give the same margins, to the last bit, and the same ranked questions, on drawn applications, mixtures
among them, and on random packs; and what a margin tells holds when its one column is moved through the engine."""

from __future__ import annotations

import json
import os
from collections.abc import Callable
from dataclasses import asdict
from random import Random

from generator.evaluate.margins import margins, nearest_margin
from generator.evaluate.next_question import ranked_questions
from generator.evaluate.prepared import Prepared, prepare
from generator.evaluate.results import Application, Margin
from generator.evaluate.select import select
from generator.evaluate.situation import situation_of
from tests.agreement.drawing import draw_application
from tests.agreement.moved import confirm
from tests.agreement.random_packs import random_application, random_pack
from tests.agreement.shipped import desk
from tests.agreement.summary import Engine, document_of

APPLICATIONS = max(18, int(os.environ.get("AGREEMENT_APPLICATIONS", 20_000)) // 200)
MOVED = 8                                        # margins moved of each application


def test_engines_give_the_same_margins_on_drawn_applications(record_property: Callable[[str, object], None]) -> None:
    place = desk()
    applications = [draw_application(place.limits, number) for number in range(APPLICATIONS)]
    count = _compare(place.engine, place.prepared, applications)
    record_property("counted", f"{count} margins of {APPLICATIONS} applications: 0 differences")
    assert count > 10 * APPLICATIONS


def test_a_margin_holds_on_both_sides_when_its_column_is_moved_through_the_engine(
        record_property: Callable[[str, object], None]) -> None:
    place = desk()
    applications = [draw_application(place.limits, number) for number in range(max(8, APPLICATIONS // 6))]
    count = sum(confirm(place.prepared, application, MOVED) for application in applications)
    record_property("counted", f"up to {MOVED} of the margins of each of {len(applications)} applications moved: 0 misses")
    assert count > 10 * len(applications)
    assert any(state.components for application in applications for state in application.states)


def test_engines_give_the_same_margins_on_random_packs(record_property: Callable[[str, object], None]) -> None:
    engine, count = Engine(), 0
    for number in range(100):
        random = Random(number)
        pack = random_pack(random)
        engine.take(pack)
        count += _compare(engine, prepare(pack), [random_application(random, pack, share)
                                                  for share in (0.0, 0.0, 0.2, 0.2, 0.5)])
    engine.close()
    record_property("counted", f"{count} margins of 100 random packs: 0 differences")
    assert count > 300


# private

def _compare(engine: Engine, prepared: Prepared, applications: list[Application]) -> int:
    engine.ask({"applications": [document_of(one) for one in applications], "margins": True})
    count = 0
    for application, (theirs, nearest, questions) in zip(applications, engine.listen(), strict=True):
        selected = select(prepared, application)
        ours = margins(situation_of(prepared, application), selected)
        assert [_plain(one) for one in ours] == theirs, application.id
        mine = nearest_margin(ours)
        assert (mine and _plain(mine)) == nearest, application.id
        assert json.loads(json.dumps([asdict(one) for one in ranked_questions(prepared.pack, selected)])) == questions
        count += len(ours)
    return count


def _plain(margin: Margin) -> dict:
    return asdict(margin) | {"components": list(margin.components)}
