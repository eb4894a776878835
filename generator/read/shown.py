"""Gives back a typed text as it may stand in a message: on one line, printable, of bearable length."""

from __future__ import annotations

import re
from collections.abc import Iterable
from difflib import get_close_matches

LONGEST = 60
_FIGURES = re.compile(r"[0-9]+")


def shown(text: str) -> str:
    """`text` on one line; the end of a long one is cut and marked."""
    line = "".join(sign if sign.isprintable() else " " for sign in text)
    return line if len(line) <= LONGEST else line[:LONGEST - 3] + "..."


def nearest(text: str, known: Iterable[str]) -> str | None:
    """The known word most like `text`, or None when none is near; the order of `known` does not matter.

    A word with other numbers than `text` is never near: dn70 is not a slip for dn10.
    """
    words = sorted(word for word in set(known) if _FIGURES.findall(word) in ([], _FIGURES.findall(text)))
    if len(text) > LONGEST:
        return None
    plain = {word.lower(): word for word in words}
    if text.lower() in plain:
        return plain[text.lower()]
    close = get_close_matches(text.lower(), sorted(plain), n=1, cutoff=0.6)
    return plain[close[0]] if close else None


def instead(text: str, known: Iterable[str], what: str) -> str:
    """What to type instead of an unknown word: the nearest, else the first eight, else a new record."""
    words = sorted(set(known))
    near = nearest(text, words)
    if near is not None:
        return f"did you mean '{shown(near)}'?"
    if not words:
        return f"there is no {what} yet; add one, or delete this"
    listed = ", ".join(shown(word) for word in words[:8]) + (", ..." if len(words) > 8 else "")
    return f"use one of: {listed}"
