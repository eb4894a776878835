"""Gives back the pinning scores: counted as a record that can be kept, and as the page of findings shows them.

Counting takes as long as making all pages, so whoever makes them often keeps the record under the name that
`name_of` gives.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from hashlib import sha256

from generator.analyse.pinning import CountedLimit, Score, pinning_scores
from generator.evaluate.prepared import prepare
from generator.pack.model import Table
from generator.render import addresses, parts, words
from generator.render.library import Library, rule_address

AIMS = (60, 95)                      # percent, of hand-written cases alone and of all
Record = dict[str, list]


@dataclass(frozen=True, slots=True)
class ScoreView:
    title: str
    percent: str
    counted: str
    aim: str


@dataclass(frozen=True, slots=True)
class UnpinnedView:
    table: parts.Link
    rules: tuple[parts.Link, ...]


@dataclass(frozen=True, slots=True)
class PinningView:
    scores: tuple[ScoreView, ...]
    kinds: str
    left_out: str
    letters: str
    unpinned_count: str
    unpinned: tuple[UnpinnedView, ...]


def count(lib: Library) -> Record:
    """The scores as lists of texts and numbers: [noticed, of], the rules that nothing pins, what was left out; and
    the limits, each with the ways it could move unnoticed.
    """
    found = pinning_scores(prepare(lib.pack), lib.texts)
    return {"hand_written": _pair(found.hand_written), "with_witnesses": _pair(found.with_witnesses),
            "by_kind": [[kind, *_pair(score)] for kind, score in found.by_kind], "unpinned": list(found.unpinned),
            "left_out": [found.equivalent, found.masked], "letters": _pair(found.letters),
            "limits": [[one.table, one.column, one.number, one.below_in, list(one.rules), list(one.unnoticed)]
                       for one in found.limits]}


def counted_limits(record: Record, tables: Iterable[Table]) -> dict[str, tuple[CountedLimit, ...]]:
    """The limits of the record by table, for those of its tables."""
    found: dict[str, list[CountedLimit]] = {table.id: [] for table in tables}
    for table, column, number, below_in, rules, unnoticed in record["limits"]:
        if table in found:
            found[table].append(CountedLimit(table, column, number, below_in, tuple(rules), tuple(unnoticed)))
    return {table: tuple(several) for table, several in found.items()}


def name_of(lib: Library, program: bytes) -> str:
    """A name for the scores of exactly these rules, cases and witnesses, counted by this program."""
    return sha256(repr((lib.pack, lib.texts)).encode() + program).hexdigest()[:24]


def pinning_view(lib: Library, record: Record) -> PinningView:
    """The record in words, with links."""
    tables: dict[str, list[str]] = {}
    for rule in record["unpinned"]:
        tables.setdefault(lib.rules[rule].table, []).append(rule)
    equivalent, masked = record["left_out"]
    return PinningView(
        scores=(_score("Reference cases that people wrote", record["hand_written"], AIMS[0]),
                _score("Together with approved witnesses", record["with_witnesses"], AIMS[1])),
        kinds=words.joined(
            [f"{kind}s {_percent(noticed, of)} of {of}" for kind, noticed, of in record["by_kind"]], "and"),
        left_out=f"{words.counted(equivalent, 'change')} that alter no verdict of their table, and {masked} that "
        "another rule always hides, are left out",
        letters=f"{record['letters'][0]} of {words.counted(record['letters'][1], 'letter')}",
        unpinned_count=words.counted(len(record["unpinned"]), "rule"),
        unpinned=tuple(UnpinnedView(
            parts.link(addresses.table(table), lib.table_texts[table].title),
            tuple(parts.link(rule_address(lib, rule), rule.removeprefix(f"{table}.")) for rule in rules))
            for table, rules in tables.items()),
    )


# private


def _pair(score: Score) -> list[int]:
    return [score.noticed, score.mutants]


def _score(title: str, pair: list[int], aim: int) -> ScoreView:
    noticed, of = pair
    return ScoreView(title, _percent(noticed, of), f"{noticed} of {of} changes noticed", f"{aim} %")


def _percent(noticed: int, of: int) -> str:
    """Rounded down, so that nothing looks reached that is not."""
    return f"{(1000 * noticed // of if of else 1000) / 10:.1f} %"
