"""Gives back an answer document as lines for a terminal: decision by decision, best candidate first, with reasons."""

from __future__ import annotations

import textwrap
from itertools import groupby

WIDTH = 100


def answer_lines(document: dict, every_reason: bool) -> list[str]:
    """The lines of `guide select`. Only the reasons that set a verdict, unless `every_reason`."""
    lines = []
    for application in document["applications"]:
        lines += [f"{application['title']} ({application['id']})",
                  f"{document['company']}, {document['edition']}", ""]
        lines += _wrapped(document["notice"], "") + [""]
        assumed = {(one["state"], one["input"]) for one in application["assumed"]}
        lines += ["Understood"] + [_understood(answer, assumed) for answer in application["understood"]]
        if application["open_points"]:
            lines += ["", "Open points"] + [line for point in application["open_points"]
                                            for line in _wrapped(point, "  ")]
        for decision in application["decisions"]:
            lines += ["", decision["title"] + ("" if decision["in_play"] else ": no candidate is left")]
            for alike in _alike(decision["candidates"], every_reason):
                lines += alike
        lines += ["", "Cautions"] + [line for caution in application["cautions"]
                                     for line in _wrapped(caution["text"], "  - ")] + [""]
    return lines


# private

def _understood(answer: dict, assumed: set[tuple[str, str]]) -> str:
    name = f"  {answer['state']}  {answer['input']}: "
    if (answer["state"], answer["input"]) in assumed:
        return f"{name}{answer['taken']} (assumed, not answered)"
    return name + answer["typed"] + ("" if answer["typed"] == answer["taken"] else f" -> {answer['taken']}")


def _alike(candidates: list[dict], every_reason: bool) -> list[list[str]]:
    """Blocks of lines; candidates in a row that have the same verdict for the same reasons share one."""
    blocks = []
    for (verdict, bounds, *reasons), group in groupby(candidates, key=lambda one: _said(one, every_reason)):
        names = ", ".join(candidate["title"] for candidate in group)
        lines = _wrapped(f"{verdict:<10} {names}{bounds}", "  ")
        for sentence in reasons:
            lines += _wrapped(sentence, " " * 13)
        blocks.append(lines)
    return blocks


def _said(candidate: dict, every_reason: bool) -> tuple[str, ...]:
    """What is printed of a candidate, beside its name: verdict, bounds, and a sentence per rule that decides."""
    reasons = candidate["reasons"]
    shown = reasons if every_reason else _deciding(candidate)
    states: dict[str, tuple[dict, list[str]]] = {}
    for reason in shown if every_reason or candidate["verdict"] != "suitable" else shown[:1]:
        states.setdefault(f"{reason['rule']} {reason['with']}", (reason, []))[1].append(reason["state"])
    return (candidate["verdict"], _bounds(candidate),
            *(reason_sentence(reason | {"state": ", ".join(where)}) for reason, where in states.values()))


def _deciding(candidate: dict) -> list[dict]:
    """The reasons of the worst verdict. Where some of them hold whatever the open answers become, only those: what a
    missing answer may yet lead to is no reason of a verdict that stands without it."""
    worst = [reason for reason in candidate["reasons"] if reason["verdict"] == candidate["worst"]]
    settled = [reason for reason in worst if reason["settled"]]
    return settled or worst or candidate["reasons"][:1]


def _bounds(candidate: dict) -> str:
    if candidate["best"] == candidate["worst"]:
        return ""
    needs = ", ".join(f"{one['input']} ({one['state']})" for one in candidate["open_in"])
    return f": at worst {candidate['worst']}, at best {candidate['best']}; missing: {needs}"


def reason_sentence(reason: dict) -> str:
    """The reason with its rule, state, partner and basis: what command and worksheet say."""
    partner = " with " + ", ".join(f"{one['decision']} {one['candidate']}" for one in reason["with"])
    more = f" and {reason['others']} more" if reason["others"] else ""
    told = "" if reason["settled"] else "Not ruled out yet: "
    return (f"{told}{reason['because']} [{reason['rule']}{more}; {reason['state']}{partner if reason['with'] else ''}; "
            f"{basis_in_words(reason['basis'])}]")


def basis_in_words(basis: dict) -> str:
    """`standard ISO 20456 clause 4, recalled`: kind, source, clause and whether it was read, as far as given."""
    clause = f"clause {basis['clause']}" if basis["clause"] else ""
    parts = " ".join(part for part in (basis["kind"].replace("_", " "), basis["source"], clause) if part)
    return f"{parts}, {basis['checked']}" if basis["checked"] else parts


def _wrapped(text: str, indent: str) -> list[str]:
    return textwrap.wrap(text, WIDTH, initial_indent=indent, subsequent_indent=" " * len(indent),
                         break_long_words=False, break_on_hyphens=False)
