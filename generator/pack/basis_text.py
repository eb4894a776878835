"""Gives back why a figure may be believed, in words: the one text that every other text may carry."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class BasisText:
    """`kind` standard, handbook, physics, common_practice, company, supplier; the others may be empty."""

    kind: str
    checked: str = ""
    source: str = ""                 # id of a source
    clause: str = ""
    note: str = ""
