"""Gives back the records of series as the author typed them; they stand beside those of `records`."""

from __future__ import annotations

from dataclasses import dataclass

from generator.problems import Place
from generator.read.records import Basis, Word


@dataclass(frozen=True, slots=True)
class Axis:
    """What the rows of a series stand for. With a unit they are numbers, and the figures between two rows lie on a
    straight line; without one they are names."""

    id: Word
    title: Word
    unit: Word | None = None


@dataclass(frozen=True, slots=True)
class SeriesColumn:
    id: Word
    title: Word
    unit: Word
    basis: Basis | None = None       # where it is not that of the whole series


@dataclass(frozen=True, slots=True)
class SeriesRow:
    at: Word                         # a number of the axis, or a name
    figures: tuple[Word, ...]        # one for each column; `none` where there is no figure


@dataclass(frozen=True, slots=True)
class Series:
    """A table of figures: sizes, ratings, properties against temperature (data/series)."""

    id: Word
    place: Place
    title: Word
    about: Word
    axis: Axis
    columns: tuple[SeriesColumn, ...]
    rows: tuple[SeriesRow, ...]
    trap: Word
    basis: Basis
