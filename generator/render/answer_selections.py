"""Gives back the block of an answer that says what to buy: the best selections, what limits them, or why
there is none."""

from __future__ import annotations

from generator.render.answer_words import assumed_words, reason_sentences, wrapped
from generator.render.concession_words import concession_sentence
from generator.render.provisional import provisional_words

INDENT = " " * 13
NONE_LEFT = {
    "unsuitable": "No selection is left. These rules leave none together; without any one of their tables one "
                  "would be left.",
    "open": "None is left without a word from the supplier or a specialist. These rules leave none together; "
            "without any one of their tables one would be left."}


def what_to_buy(application: dict, every_reason: bool) -> list[str]:
    """The lines: the best settled selection, or the best open one, with what limits it; then in what others
    differ."""
    lines = ["What to buy"]
    titles = {decision["decision"]: decision["title"] for decision in application["decisions"]}
    names = {(decision["decision"], candidate["candidate"]): candidate["title"]
             for decision in application["decisions"] for candidate in decision["candidates"]}
    if application["pinned"]:
        kept = ", ".join(f"{titles[one['decision']]} {names[one['decision'], one['candidate']]}"
                         for one in application["pinned"])
        lines += wrapped(f"Pinned: {kept}", "  ")
    if application["conflict"]:
        lines += wrapped(NONE_LEFT[application["conflict"]["left"]], "  ")
        for sentence in reason_sentences(application["conflict"]["reasons"]):
            lines += wrapped(sentence, INDENT)
    first: dict | None = None
    conceded = {(one["decision"], one["candidate"]) for one in application["concessions"]
                if one["standing"] == "holds"}
    for selection in application["selections"]:
        if first is None or (selection["verdict"] == "open") != (first["verdict"] == "open"):
            below = [] if first or not application["assumed"] else \
                wrapped(f"Assumed, not answered: {assumed_words(application['assumed'])}", INDENT)
            first = selection
            lines += _in_full(selection, application["decisions"], conceded, every_reason, below)
        else:
            differences = _differences(first, selection, titles)
            provisional = ", provisional" if selection["confirm"] else ""
            lines += wrapped(f"or with {differences}: {selection['verdict']}{provisional}", INDENT)
    if application["concessions"]:
        lines.append("  Concessions; no verdict changes by them")
    for one in application["concessions"]:
        lines += wrapped(f"{titles[one['decision']]} {one['title']}: {concession_sentence(one)}", INDENT)
    return lines


# private

def _in_full(selection: dict, decisions: list[dict], conceded: set[tuple[str, str]], every_reason: bool,
             below: list[str]) -> list[str]:
    """The candidates of a selection, one on each line, and what limits them all."""
    titles = {one["decision"]: one["title"] for one in decisions}
    missing = ", ".join(f"{one['input']} ({one['state']})" for one in selection["open_in"])
    bounds = "" if selection["best"] == selection["worst"] else \
        f"at worst {selection['worst']}, at best {selection['best']}; missing: {missing}"
    provisional = provisional_words(selection["confirm"])
    lines = wrapped(f"{selection['verdict']}, {provisional}" if provisional
                    else f"{selection['verdict']:<10} {bounds}".rstrip(), "  ") + below
    widest = max(len(titles[one["decision"]]) for one in selection["chosen"])
    for one in selection["chosen"]:
        title = _among_others(one, next(found for found in decisions if found["decision"] == one["decision"]))
        said = [one["verdict"]] * (one["verdict"] != "suitable") + ["provisional"] * bool(one["confirm"]) + \
            ["conceded"] * ((one["decision"], one["candidate"]) in conceded)
        verdict = f" ({', '.join(said)})" if said else ""
        pinned = " (pinned)" if one["pinned"] else ""
        lines.append(f"{INDENT}{titles[one['decision']]:<{widest}}  {title}{verdict}{pinned}")
    if selection["limits"]:
        lines.append(f"{INDENT}Limited by:")
    told = reason_sentences(selection["limits"])
    for sentence in told if every_reason else told[:4]:
        lines += wrapped(sentence, INDENT + "  ")
    if len(told) > 4 and not every_reason:
        lines.append(f"{INDENT}  and {len(told) - 4} more (`--reasons` prints them)")
    return lines


def _among_others(one: dict, decision: dict) -> str:
    """The candidate; where nothing tells some candidates apart yet, the first of them is no advice."""
    if one["verdict"] != "open" or one["pinned"]:
        return one["title"]
    bounds = {candidate["candidate"]: (candidate["best"], candidate["worst"]) for candidate in decision["candidates"]}
    others = sum(found == bounds[one["candidate"]] for found in bounds.values()) - 1
    if others == 0:
        return one["title"]
    return f"not settled: {one['title']} or {others} {'other' if others == 1 else 'others'}"


def _differences(first: dict, other: dict, titles: dict[str, str]) -> str:
    return ", ".join(f"{titles[one['decision']]} {one['title']}"
                     for before, one in zip(first["chosen"], other["chosen"])
                     if one["candidate"] != before["candidate"])
