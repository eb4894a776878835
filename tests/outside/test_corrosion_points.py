"""Holds the letters of the media files against published corrosion points: stricter may be, better never."""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from typing import Any

import yaml

from generator.pack.model import VERDICTS
from tests.outside.shipped import DATA, EASY, chemistry_alone, judged, shipped_pack, whole_guide

POINTS = yaml.safe_load((Path(__file__).parent / "corrosion_points.yml").read_text("utf-8"))
BEST_ALLOWED = {"resists": "suitable", "limited": "caution", "attacked": "open"}
COUNTS = {"not asked": 5, "of a later edition": 7, "unlisted": 14, "outside its bands": 78, "inside": 102}


@dataclass(frozen=True, slots=True)
class Point:
    """A published statement about one material; `medium` and `strength` are already the guide's."""

    part: str
    medium: str
    strength: float | None
    at: float
    says: str
    words: str

    def answers(self) -> dict[str, str]:
        typed = {"medium": self.medium, "temperature_max": f"{self.at} degC"}
        return typed if self.strength is None else typed | {"concentration": f"{self.strength} mass %"}


def test_no_material_is_better_than_a_published_point_when_chemistry_alone_decides() -> None:
    better = [f"{point.words}: the guide says {verdict}" for point in asked_points()
              if rank(verdict := chemical_verdict(point)) > rank(BEST_ALLOWED[point.says])]
    assert better == []


def test_no_material_is_better_than_a_published_point_when_the_whole_guide_decides() -> None:
    better, verdicts = [], set()
    for point in asked_points():
        verdict = judged(whole_guide(), EASY | point.answers(), decision_of(point.part), point.part).verdict
        verdicts.add(verdict)
        if rank(verdict) > min(rank(BEST_ALLOWED[point.says]), rank(chemical_verdict(point))):
            better.append(f"{point.words}: the guide says {verdict}")
    assert better == []
    assert verdicts == set(VERDICTS)


def test_a_point_is_open_when_it_lies_outside_the_bands_of_its_medium() -> None:
    outside = [point for point in asked_points() if not is_inside(point)]
    assert [f"{point.words}: the guide says {verdict}" for point in outside
            if (verdict := chemical_verdict(point)) != "open"] == []


def test_chemistry_says_the_same_as_every_third_point_when_they_lie_inside_its_bands() -> None:
    """A table that was open everywhere would pass the tests above; this one counts what it dares to say."""
    inside = [point for point in asked_points() if is_inside(point)]
    same = Counter(point.says for point in inside if chemical_verdict(point) == SAME[point.says])
    assert 3 * sum(same.values()) >= len(inside)
    assert set(same) == set(SAME)


def test_every_published_point_is_counted_when_some_cannot_be_asked() -> None:
    counts: Counter[str] = Counter()
    for raw in raw_points():
        if raw["part"] in POINTS["parts_of_later_editions"]:
            counts["of a later edition"] += 1
        elif raw["medium"] in POINTS["not_asked"]:
            counts["not asked"] += 1
        else:
            point = as_point(raw)
            counts["unlisted" if point.medium == "unlisted" else place_of(point)] += 1
    assert counts == COUNTS
    assert sum(counts.values()) == 206


# private

SAME = {"resists": "suitable", "limited": "caution", "attacked": "unsuitable"}


def rank(verdict: str) -> int:
    return VERDICTS.index(verdict)


def raw_points() -> list[dict[str, Any]]:
    return [point for source in POINTS["sources"] for point in source["points"]]


def as_point(raw: dict[str, Any]) -> Point:
    ours = POINTS["media"][raw["medium"]]
    strength = ours.get("strength", raw.get("strength"))
    strong = f" of {raw['strength']} mass %" if "strength" in raw else ""
    words = f"{raw['part']} in {raw['medium']}{strong} at {raw['at']} °C, {raw['says']}: {raw['figure']}"
    return Point(raw["part"], ours["id"], strength, raw["at"], raw["says"], words)


@cache
def asked_points() -> tuple[Point, ...]:
    skipped = POINTS["parts_of_later_editions"]
    return tuple(as_point(raw) for raw in raw_points()
                 if raw["part"] not in skipped and raw["medium"] not in POINTS["not_asked"])


def decision_of(part: str) -> str:
    candidates = {decision.id: {item.id for item in decision.candidates} for decision in shipped_pack().decisions}
    return next(name for name in ("electrode_material", "liner") if part in candidates[name])


@cache
def chemical_verdict(point: Point) -> str:
    return judged(chemistry_alone(), point.answers(), decision_of(point.part), point.part).verdict


@cache
def bands_of(medium: str) -> tuple[tuple[float | None, float, bool, float], ...]:
    """Of each band: lowest and highest strength (None: any), whether the lowest belongs, hottest."""
    read = yaml.safe_load((DATA / "media" / f"{medium}.yml").read_text("utf-8"))["bands"]
    bands = []
    for band in read:
        text = band["concentration"]
        low, high = (None, 0.0) if text == "-" else (float(end) for end in text[1:-1].split(".."))
        bands.append((low, high, text.startswith("["), float(band["up_to"])))
    return tuple(bands)


def is_inside(point: Point) -> bool:
    """Whether a band of the medium holds the point; one without a strength only if it holds every strength."""
    return any(point.at <= hottest and (low is None or is_between(point.strength, low, high, with_low))
               for low, high, with_low, hottest in bands_of(point.medium))


def is_between(strength: float | None, low: float, high: float, with_low: bool) -> bool:
    return strength is not None and (low <= strength if with_low else low < strength) and strength <= high


def place_of(point: Point) -> str:
    return "inside" if is_inside(point) else "outside its bands"
