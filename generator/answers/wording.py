"""Gives back typed texts as they are compared and shown, and the known word most like a mistyped one.

Twin of browser/engine/wording.js: the same words in both, whatever sign a reader types.
"""

from __future__ import annotations

import re

LONGEST = 60                         # signs of a typed text that a message repeats

_SPACES = re.compile("[ \t\r\n\u00a0\u2007\u2009\u202f]+")
_FIGURES = re.compile("[0-9]+(?:[.,/][0-9]+)*")
_UNPRINTABLE = re.compile("[\x00-\x1f\x7f-\x9f\u2028\u2029\ufeff\ud800-\udfff]")


def squeeze(text: str) -> str:
    """The text with single spaces and none at its ends; a true minus sign becomes a hyphen."""
    return _SPACES.sub(" ", text).strip(" ").replace("\u2212", "-")


def shown(text: str) -> str:
    """The text as a message may repeat it: on one line, printable, cut where it is long."""
    signs = list(squeeze(_UNPRINTABLE.sub(" ", text)))
    return "".join(signs) if len(signs) <= LONGEST else "".join(signs[:LONGEST - 3]) + "..."


def nearest(text: str, known: list[str]) -> str | None:
    """The known word that takes fewest changes from `text`, the earliest of equals; None if none is near.

    A word with other numbers than `text` is never near: a slip of the pen may not become another size.
    """
    typed = text.lower()
    best, fewest = None, len(typed) // 3 + 1
    if len(typed) > LONGEST:
        return None
    figures = _figures(text)
    for word in known:
        signs = word.lower()
        if abs(len(signs) - len(typed)) >= fewest or _figures(word) != figures:
            continue
        changes = _changes(typed, signs, fewest)
        if changes < fewest:
            best, fewest = word, changes
    return best


def longest_within(text: str, known: list[str]) -> str | None:
    """The longest known word that stands in the text between blanks, the earliest of equals: `nitric acid` in
    `nitric acid 30 %`; None if none does."""
    typed = f" {text.lower()} "
    return max((word for word in known if f" {word.lower()} " in typed), key=len, default=None)


# private

def _figures(text: str) -> list[str]:
    """The numbers in a text, a decimal comma as a point."""
    return [figure.replace(",", ".") for figure in _FIGURES.findall(text)]


def _changes(one: str, other: str, enough: int) -> int:
    """How many signs must be added, taken away or replaced to make `other` of `one`; `enough` stands for all that
    are as many."""
    before = list(range(len(other) + 1))
    for i, sign in enumerate(one, 1):
        row = [i]
        for j, mark in enumerate(other, 1):
            row.append(min(before[j] + 1, row[j - 1] + 1, before[j - 1] + (sign != mark)))
        if min(row) >= enough:                       # it only grows from row to row
            return enough
        before = row
    return before[-1]
