"""Gives back an answer document as lines for a terminal: decision by decision, best candidate first, with reasons."""

from __future__ import annotations

import textwrap

WIDTH = 100


def answer_lines(document: dict, every_reason: bool) -> list[str]:
    """The lines of `guide select`. Only the reasons that set a verdict, unless `every_reason`."""
    lines = []
    for application in document["applications"]:
        lines += [f"{application['title']} ({application['id']})",
                  f"{document['company']}, {document['edition']}", ""]
        lines += _wrapped(document["notice"], "") + [""]
        lines += ["Understood"] + [_understood(answer) for answer in application["understood"]]
        lines += [f"  {one['state']}  {one['input']}: assumed, not answered" for one in application["assumed"]]
        if application["open_points"]:
            lines += ["", "Open points"] + [line for point in application["open_points"]
                                            for line in _wrapped(point, "  ")]
        for decision in application["decisions"]:
            lines += ["", decision["title"] + ("" if decision["in_play"] else ": no candidate is left")]
            for candidate in decision["candidates"]:
                lines += _candidate(candidate, every_reason)
        lines += ["", "Cautions"] + [line for caution in application["cautions"]
                                     for line in _wrapped(caution["text"], "  - ")] + [""]
    return lines


# private

def _understood(answer: dict) -> str:
    taken = "" if answer["typed"] == answer["taken"] else f" -> {answer['taken']}"
    return f"  {answer['state']}  {answer['input']}: {answer['typed']}{taken}"


def _candidate(candidate: dict, every_reason: bool) -> list[str]:
    lines = [f"  {candidate['verdict']:<10} {candidate['title']}{_bounds(candidate)}"]
    reasons = candidate["reasons"]
    shown = reasons if every_reason else [reason for reason in reasons if reason["verdict"] == reasons[0]["verdict"]]
    for reason in shown if every_reason or candidate["verdict"] != "suitable" else shown[:1]:
        lines += _wrapped(_sentence(reason), " " * 13)
    return lines


def _bounds(candidate: dict) -> str:
    if candidate["best"] == candidate["worst"]:
        return ""
    needs = ", ".join(f"{one['input']} ({one['state']})" for one in candidate["open_in"])
    return f": at worst {candidate['worst']}, at best {candidate['best']}; missing: {needs}"


def _sentence(reason: dict) -> str:
    partner = " with " + ", ".join(f"{one['decision']} {one['candidate']}" for one in reason["with"])
    more = f" and {reason['others']} more" if reason["others"] else ""
    return (f"{reason['because']} [{reason['rule']}{more}; {reason['state']}{partner if reason['with'] else ''}; "
            f"{basis_in_words(reason['basis'])}]")


def basis_in_words(basis: dict) -> str:
    """`standard ISO 20456 clause 4, recalled`: kind, source, clause and whether it was read, as far as given."""
    clause = f"clause {basis['clause']}" if basis["clause"] else ""
    parts = " ".join(part for part in (basis["kind"].replace("_", " "), basis["source"], clause) if part)
    return f"{parts}, {basis['checked']}" if basis["checked"] else parts


def _wrapped(text: str, indent: str) -> list[str]:
    return textwrap.wrap(text, WIDTH, initial_indent=indent, subsequent_indent=" " * len(indent),
                         break_long_words=False, break_on_hyphens=False)
