"""Holds the letters of the media files against recalled corrosion points, and against nothing at all beyond their bands."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache
from pathlib import Path

import pytest
import yaml

from generator.evaluate.results import Application, StateAnswers
from generator.evaluate.select import select
from tests.outside.shipped import EASY, chemistry_alone, judged, understood, whole_guide
from tests.outside.test_corrosion_points import BEST_ALLOWED, Point, asked_points, bands_of, is_inside, rank

POINTS = yaml.safe_load((Path(__file__).parent / "recalled_points.yml").read_text("utf-8"))
MEDIA = sorted(path.stem for path in (Path(__file__).resolve().parents[2] / "data" / "media").glob("*.yml") if path.stem != "unlisted")


@dataclass(frozen=True, slots=True)
class Recalled:
    """A point, the decision of its part, whether the part is in common use there, and whether heat alone destroys it."""

    decision: str
    point: Point
    everyday: bool
    by_heat: bool


def test_no_material_is_better_than_a_recalled_point() -> None:
    better = [f"{one.point.words}: the guide says {verdict}" for one in recalled()
              if rank(verdict := whole(one) if one.by_heat else chemical(one)) > rank(BEST_ALLOWED[one.point.says])]
    assert better == []


def test_an_everyday_material_is_not_refused() -> None:
    everyday = [one for one in recalled() if one.everyday]
    assert len(everyday) == 296
    assert [one.point.words for one in everyday if chemical(one) not in ("suitable", "caution")] == []


def test_the_whole_guide_is_not_better_than_chemistry_alone() -> None:
    better = [one.point.words for one in recalled()[::5]
              if rank(whole(one)) > rank(chemical(one))]
    assert better == []


def test_the_recalled_points_are_none_of_the_published_ones_and_lie_inside_the_bands() -> None:
    published = {(point.part, point.medium, point.strength, float(point.at)) for point in asked_points()}
    assert not {(one.point.part, one.point.medium, one.point.strength, one.point.at) for one in recalled()} & published
    assert all(is_inside(one.point) for one in recalled())
    assert len(recalled()) == 1022


@pytest.mark.parametrize("medium", MEDIA)
def test_every_part_is_open_just_beyond_the_bands_of_a_medium(medium: str) -> None:
    for typed in beyond(medium):
        answers = tuple((name, understood(name, text)) for name, text in ({"medium": medium} | typed).items())
        selected = select(chemistry_alone(), Application("outside", "Beyond the bands", (StateAnswers("normal", answers),)))
        said = {(one.candidate, one.verdict) for decision in selected.decisions if decision.decision in POINTS
                for one in decision.candidates if one.candidate != "no_gasket"}
        assert {verdict for _, verdict in said} == {"open"}, (typed, said)


# private

@cache
def recalled() -> tuple[Recalled, ...]:
    return tuple(as_recalled(decision, part, line) for decision, parts in POINTS.items()
                 for part, lines in parts.items() for line in lines.splitlines())


def as_recalled(decision: str, part: str, line: str) -> Recalled:
    medium, strength, at, says, *use = line.split()
    assert use in ([], ["everyday"], ["by_heat"])
    point = Point(part, medium, None if strength == "-" else float(strength), float(at), says, f"{part} in {line}")
    return Recalled(decision, point, use == ["everyday"], use == ["by_heat"])


@cache
def chemical(one: Recalled) -> str:
    return judged(chemistry_alone(), one.point.answers(), one.decision, one.point.part).verdict


@cache
def whole(one: Recalled) -> str:
    return judged(whole_guide(), EASY | one.point.answers(), one.decision, one.point.part).verdict


def beyond(medium: str) -> Iterator[dict[str, str]]:
    """Hotter than each of the strengths goes, and stronger and weaker than any."""
    bands = bands_of(medium)
    for low, high, _, _ in set(bands):
        hottest = max(band[3] for band in bands if band[:2] == (low, high))
        strength = {} if low is None else {"concentration": f"{high} mass %"}
        yield strength | {"temperature_max": f"{hottest + 0.1:.1f} degC"}
    if bands[0][0] is not None:
        strongest, weakest = max(band[1] for band in bands), min(band[0] or 0.0 for band in bands)
        if strongest < 100:
            yield {"concentration": f"{strongest + 0.01:.2f} mass %", "temperature_max": "20 degC"}
        if weakest > 0:
            yield {"concentration": f"{weakest * 0.99:.6f} mass %", "temperature_max": "20 degC"}
