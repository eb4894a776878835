"""A line in another size keeps its velocities, and its flows as far as nobody knows them."""

from __future__ import annotations

from types import SimpleNamespace

import pytest

from generator.analyse.placing import resized

FLOWS = SimpleNamespace(pack=SimpleNamespace(inputs=tuple(map(
    lambda name: SimpleNamespace(id=name), ("medium", "flow_min", "flow_normal", "flow_max")))))
BORES = {"dn100": 0.1, "dn200": 0.2}


def test_twice_the_bore_carries_four_times_the_flow() -> None:
    made = resized(FLOWS, {"medium": "milk", "pipe_size": "dn100", "flow_normal": "50 m3/h"}, "dn200", BORES)
    assert made == {"medium": "milk", "pipe_size": "dn200", "flow_normal": "200 m3/h"}


@pytest.mark.parametrize("flow", ["not answered", "20 to 30 m3/h", "not applicable"])
def test_a_flow_that_nobody_knows_exactly_stays_as_it_was_typed(flow: str) -> None:
    made = resized(FLOWS, {"pipe_size": "dn100", "flow_min": flow, "flow_max": "80 m3/h"}, "dn200", BORES)
    assert made == {"pipe_size": "dn200", "flow_min": flow, "flow_max": "320 m3/h"}


def test_a_line_without_a_known_bore_stays_as_it_is() -> None:
    typed = {"pipe_size": "dn15", "flow_min": "1 m3/h"}
    assert resized(FLOWS, typed, "dn200", BORES) == typed and resized(FLOWS, {}, "dn200", BORES) == {}
