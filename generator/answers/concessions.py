"""Gives back the concessions of an application: signed departures from a verdict, for a time.

`concessions: [{decision, candidate, reason, approver, until}]`, each perhaps with the `rule` or the `state` that it
is about. They never change a verdict. Twin of browser/engine/concessions.js.
"""

from __future__ import annotations

import re
from collections.abc import Mapping

from generator.answers import faults
from generator.answers.figures import Fault
from generator.answers.pins import instead
from generator.answers.wording import shown, squeeze
from generator.evaluate.results import Concession
from generator.pack.model import Pack

CONCESSIONS = "concessions"          # where they stand in an application, beside its states
KEYS = ("decision", "candidate", "rule", "state", "reason", "approver", "until")
NEEDED = ("decision", "candidate", "reason", "approver", "until")

_DAY = re.compile("([0-9]{4})-([0-9]{2})-([0-9]{2})")

ConcessionFault = tuple[str, str, Fault]     # `2.reason` (or `2`, or nothing), at its key or its value, what is wrong


def read_concessions(pack: Pack, given: object) -> tuple[tuple[Concession, ...], tuple[ConcessionFault, ...]]:
    """The concessions in the order given, as far as they can be read, and what is wrong with the others."""
    if not isinstance(given, list | tuple):
        return (), (("", "value", Fault(faults.WRONG_SHAPE, f"`{CONCESSIONS}` is not a list",
                                        f"write `{CONCESSIONS}: [{{{', '.join(f'{key}: ...' for key in NEEDED)}}}]`")),)
    read: list[Concession] = []
    found: list[ConcessionFault] = []
    for place, item in enumerate(given):
        wrong = _faults(pack, item)
        found += [(f"{place}.{key}" if key else str(place), part, fault) for key, part, fault in wrong]
        if not wrong:
            told = {key: squeeze(item[key]) for key in item}
            told["candidate"] = _candidate_of(pack, told["decision"], told["candidate"])
            read.append(Concession(**({"rule": "", "state": ""} | told)))
    return tuple(read), tuple(found)


def is_day(text: str) -> bool:
    """Whether the text is a day of the calendar, written 2026-12-31."""
    found = _DAY.fullmatch(text)
    if found is None:
        return False
    year, month, day = (int(part) for part in found.groups())
    leap = year % 4 == 0 and (year % 100 != 0 or year % 400 == 0)
    days = (31, 29 if leap else 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31)
    return 1 <= month <= 12 and 1 <= day <= days[month - 1]


# private

def _faults(pack: Pack, item: object) -> list[ConcessionFault]:
    if not isinstance(item, Mapping):
        return [("", "value", Fault(faults.WRONG_SHAPE, "a concession is written as keys with values",
                                    f"write `{{{', '.join(f'{key}: ...' for key in NEEDED)}}}`"))]
    found: list[ConcessionFault] = []
    for key in item:
        if key not in KEYS:
            found.append((key, "key", Fault(faults.CONCESSION, f"a concession has no key '{shown(key)}'",
                                            instead(key, list(KEYS)))))
    for key in NEEDED:
        if key not in item:
            found.append(("", "value", Fault(faults.CONCESSION, f"the concession has no `{key}`", f"add `{key}: ...`")))
    for key in KEYS:
        if key in item and not isinstance(item[key], str):
            found.append((key, "value", Fault(faults.WRONG_SHAPE, f"the `{key}` of a concession is not a text",
                                              f"write `{key}: ...`")))
        elif key in item:
            fault = _value_fault(pack, item, key, squeeze(item[key]))
            found += [(key, "value", fault)] if fault is not None else []
    return found


def _value_fault(pack: Pack, item: Mapping[str, object], key: str, text: str) -> Fault | None:
    if text == "":
        return Fault(faults.CONCESSION, f"the `{key}` of a concession is empty",
                     f"write it, or delete `{key}`" if key not in NEEDED else f"write `{key}: ...`")
    if key == "until" and not is_day(text):
        return Fault(faults.CONCESSION, f"'{shown(text)}' is not a day", "write year-month-day: 2026-12-31")
    if key in ("reason", "approver", "until"):
        return None
    known = _known(pack, item, key, text)
    if known is None or (text.lower() if key == "candidate" else text) in known:
        return None
    names = [option.id for decision in pack.decisions if decision.id == item["decision"]
             for option in decision.candidates] if key == "candidate" else known
    return Fault(faults.CONCESSION, f"'{shown(text)}' is not a {key}" + (
        f" of '{shown(str(item['decision']))}'" if key == "candidate" else " of this guide"), instead(text, names))


def _known(pack: Pack, item: Mapping[str, object], key: str, text: str) -> list[str] | None:
    """The words that a key may have; None for a candidate of a decision that there is not."""
    if key == "decision":
        return [decision.id for decision in pack.decisions]
    if key == "state":
        return [state.id for state in pack.states]
    if key == "rule":                # of thousands of rules only those of its table are worth a comparison
        tables = [table for table in pack.tables if text.startswith(f"{table.id}.")]
        rules = [row.rule for table in tables for row in table.rows] + [f"{table.id}.no_value" for table in tables]
        return list(dict.fromkeys(rules)) or [table.id for table in pack.tables]
    decisions = [decision for decision in pack.decisions if decision.id == item.get("decision")]
    return [name for decision in decisions for option in decision.candidates
            for name in (option.id, *option.spellings)] if decisions else None


def _candidate_of(pack: Pack, decision: str, text: str) -> str:
    return next(option.id for one in pack.decisions if one.id == decision for option in one.candidates
                if text.lower() in (option.id, *option.spellings))
