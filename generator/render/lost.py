"""Gives back what stands where no page is: that there is none, and where to go from there."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from markupsafe import Markup

from generator.render import addresses
from generator.render.parts import Link
from generator.render.printing import printed

_WAYS = (
    ("", "The worksheet", "describe a measuring point and read the verdicts"),
    (addresses.INPUTS, "The data sheet", "every question, its units and who knows the answer"),
    (addresses.MEDIA, "Media", "what stands in the pipe, by name"),
    (addresses.TABLES, "Rule tables", "all that verdicts come from"),
    (addresses.FORMULAS, "Formulas", "equations that calculate in the page"),
    (addresses.CASES, "Reference cases", "measuring points argued by hand"),
    (addresses.RULES, "Rule register", "every rule by its id"),
)


@dataclass(frozen=True, slots=True)
class Way:
    link: Link
    about: str


@dataclass(frozen=True, slots=True)
class LostView:
    ways: tuple[Way, ...]


def lost_body(address_of: Callable[[str], str]) -> Markup:
    """The body; `address_of` gives the address of a page from wherever the reader is."""
    return printed("lost.html", LostView(tuple(Way(Link(address_of(page), title), about) for page, title, about in _WAYS)))
