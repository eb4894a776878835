"""Gives back the records of a company's overlay as they were typed: what it adds to the base, and what it changes.

Sources, derived values, tables and reference cases of an overlay have the forms of the base (`records`); here stand the
records that only an overlay has.
"""

from __future__ import annotations

from dataclasses import dataclass

from generator.problems import Place
from generator.read.expected import Case
from generator.read.records import Basis, Derived, Rule, Source, Table, Word


@dataclass(frozen=True, slots=True)
class OverlayRule:
    """A rule that wins over the base's in its box. `loosens` is the reason why it may be better than they are."""

    rule: Rule
    loosens: Word | None = None


@dataclass(frozen=True, slots=True)
class OverlayRules:
    """Rules for one table of the base (rules/<file>.yml)."""

    table: Word
    place: Place
    rules: tuple[OverlayRule, ...]


@dataclass(frozen=True, slots=True)
class Figures:
    """A number for each pair of candidates of two decisions (figures/<id>.yml), such as the true bore by size and
    liner. A pair that is not named has no figure."""

    id: Word
    place: Place
    title: Word
    about: Word
    by: tuple[Word, ...]             # two decisions: the outer and the inner keys of `values`
    values: tuple[tuple[Word, tuple[tuple[Word, Word], ...]], ...]
    basis: Basis


@dataclass(frozen=True, slots=True)
class SecondReading:
    """The rules of a base table read a second time with other columns (readings/<id>.yml), for the pairs that have the
    figures `where_known`. It becomes a table of its own, which only takes away."""

    id: Word
    place: Place
    title: Word
    about: Word
    rules_of: Word
    instead: tuple[tuple[Word, Word], ...]      # column of the base table -> derived value
    where_known: Word
    because: Word                    # said before the base rule's own reason
    basis: Basis


@dataclass(frozen=True, slots=True)
class Forbidden:
    """A candidate that the company does not buy."""

    place: Place
    decision: Word
    candidate: Word
    reason: Word
    who: Word
    basis: Basis


@dataclass(frozen=True, slots=True)
class Stock:
    """Whether the company keeps a candidate, and its cost class: 1 is the cheapest."""

    place: Place
    decision: Word
    candidate: Word
    in_stock: Word                   # yes or no
    cost_class: Word


@dataclass(frozen=True, slots=True)
class Overlay:
    """One company's folder. `tables` are the author's own; those made of `forbidden` and `readings` are not among
    them."""

    id: Word
    title: Word
    about: Word
    notice: Word                     # e.g. that the company and its figures are invented
    sources: tuple[Source, ...] = ()
    derived: tuple[Derived, ...] = ()
    forbidden: tuple[Forbidden, ...] = ()
    stock: tuple[Stock, ...] = ()
    rules: tuple[OverlayRules, ...] = ()
    figures: tuple[Figures, ...] = ()
    readings: tuple[SecondReading, ...] = ()
    tables: tuple[Table, ...] = ()
    cases: tuple[Case, ...] = ()
