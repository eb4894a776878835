"""Gives back a reason of an answer document as the sentence that the command and the pages print, and lines
of text."""

from __future__ import annotations

import textwrap
from collections.abc import Iterable

WIDTH = 100


def reason_sentence(reason: dict) -> str:
    """The reason with its rule, state, partner and basis: what command and worksheet say."""
    partner = " with " + ", ".join(f"{one['decision']} {one['candidate']}" for one in reason["with"])
    more = f" and {reason['others']} more" if reason["others"] else ""
    told = "" if reason["settled"] else "Not ruled out yet: "
    liquid = " and ".join(one["medium"] for one in reason["components"])
    where = reason["state"] + (f" for {liquid}" if liquid else "") + (partner if reason["with"] else "")
    return f"{told}{reason['because']} [{reason['rule']}{more}; {where}; {basis_in_words(reason['basis'])}]"


def reason_sentences(reasons: Iterable[dict]) -> list[str]:
    """A sentence per rule and partner, with every state in which it applies."""
    states: dict[str, tuple[dict, list[str]]] = {}
    for reason in reasons:
        key = f"{reason['rule']} {reason['with']} {reason['components']} {reason['settled']}"
        states.setdefault(key, (reason, []))[1].append(reason["state"])
    return [reason_sentence(reason | {"state": ", ".join(dict.fromkeys(where))}) for reason, where in states.values()]


def basis_in_words(basis: dict) -> str:
    """`standard ISO 20456 clause 4, recalled`: kind, source, clause and whether it was read, as far as
    given."""
    clause = f"clause {basis['clause']}" if basis["clause"] else ""
    parts = " ".join(part for part in (basis["kind"].replace("_", " "), basis["source"], clause) if part)
    return f"{parts}, {basis['checked']}" if basis["checked"] else parts


def in_titles(options: Iterable[tuple[str, str]], taken: str) -> str:
    """What was understood with the titles of its choices: `pfa or ptfe` becomes `PFA or PTFE`; a note behind it stays."""
    known = dict(options)
    words, blank, note = taken.partition(" (")
    return " or ".join(known.get(word, word) for word in words.split(" or ")) + blank + note


def assumed_words(assumed: list[dict]) -> str:
    """`service: clean (normal, flushing); altitude: 0 m (normal)`."""
    states: dict[str, list[str]] = {}
    for one in assumed:
        states.setdefault(f"{one['input']}: {one['taken']}", []).append(one["state"])
    return "; ".join(f"{words} ({', '.join(where)})" for words, where in states.items())


def wrapped(text: str, indent: str) -> list[str]:
    """The text in lines of a terminal's width, each with the indent."""
    return textwrap.wrap(text, WIDTH, initial_indent=indent, subsequent_indent=" " * len(indent),
                         break_long_words=False, break_on_hyphens=False)
