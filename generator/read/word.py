"""Gives back what every record is made of: a scalar as typed, with its place."""

from __future__ import annotations

from dataclasses import dataclass

from generator.problems import Place


@dataclass(frozen=True, slots=True)
class Word:
    """A scalar as typed, and where it stands."""

    text: str
    place: Place
    quoted: bool = False

    def __str__(self) -> str:
        return self.text
