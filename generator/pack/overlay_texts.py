"""Gives back what pages show of a company's overlay: what it adds to the base, and what it changes, beside the base."""

from __future__ import annotations

from dataclasses import dataclass

from generator.pack.basis_text import BasisText


@dataclass(frozen=True, slots=True)
class ChangeText:
    """What an overlay's rule says where a base rule said something else. `kind` is tightens, fills or loosens; `base` is
    empty where no rule of the base spoke. `regions` are in words, `candidates` (decision, ids) those they speak of."""

    kind: str
    table: str
    rule: str
    verdict: str
    base: str
    base_verdict: str
    base_because: str
    base_basis: BasisText
    regions: tuple[str, ...]
    reason: str                      # why it may be looser; empty for the other kinds
    candidates: tuple[tuple[str, tuple[str, ...]], ...] = ()


@dataclass(frozen=True, slots=True)
class FiguresText:
    """`values` are (first candidate, second candidate, as typed)."""

    id: str
    title: str
    about: str
    decisions: tuple[str, str]
    values: tuple[tuple[str, str, str], ...]
    basis: BasisText
    file: str
    line: int


@dataclass(frozen=True, slots=True)
class AddedText:
    """A table that the overlay adds. `made_of` is empty, forbidden, or the base table that it reads a second time."""

    table: str
    made_of: str


@dataclass(frozen=True, slots=True)
class ForbiddenText:
    decision: str
    candidate: str
    reason: str
    who: str
    basis: BasisText


@dataclass(frozen=True, slots=True)
class StockText:
    decision: str
    candidate: str
    in_stock: bool
    cost_class: str


@dataclass(frozen=True, slots=True)
class OverlayText:
    """A company's overlay in words."""

    id: str
    title: str
    about: str
    notice: str
    changes: tuple[ChangeText, ...]
    added: tuple[AddedText, ...]
    figures: tuple[FiguresText, ...]
    forbidden: tuple[ForbiddenText, ...]
    stock: tuple[StockText, ...]
    cases: tuple[str, ...]           # the overlay's own
    sources: tuple[str, ...]
    file: str
