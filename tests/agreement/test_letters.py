"""The two engines write the same letters, word for word, and every open input stands in exactly one of them."""

from __future__ import annotations

import pytest

from generator.answers.application import read_application
from generator.evaluate.letters import letters
from generator.evaluate.select import select
from generator.render.answer_document import Understood
from generator.render.letter_words import letter_text
from tests import shipped
from tests.engine.twin import Twin

POINTS = {
    "blank": {"id": "blank", "title": "", "normal": {}},
    "brine": {"id": "brine_line", "title": "Brine to the cells",
              "normal": {"medium": "sodium_chloride_brine", "temperature_max": "60 to 120 degC", "pipe_size": "dn100"},
              "cleaning": {"medium": "drinking_water", "temperature_max": "40 degC"}, "steaming": "none"},
    "mixture": {"id": "mixed", "title": "Mixed", "normal": {
        "medium": "seawater", "mixed_with": "citric acid", "flow_max": "450 gpm", "pipe_size": "dn100 or dn150"}},
}


@pytest.fixture(scope="module")
def twin():
    with Twin() as engine:
        yield engine
''' if False else '''
