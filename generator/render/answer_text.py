"""Gives back an answer document as lines for a terminal: decision by decision, best candidate first, with reasons."""

from __future__ import annotations

from itertools import groupby

from generator.render.answer_selections import what_to_buy
from generator.render.answer_words import reason_sentences, wrapped
from generator.render.concession_words import concession_sentence
from generator.render.margin_words import margin_lines
from generator.render.provisional import provisional_words
from generator.render.question_words import question_sentence

MAY = "May apply, an answer is open: "


def answer_lines(document: dict, every_reason: bool) -> list[str]:
    """The lines of `guide select`. Only the reasons that set a verdict, unless `every_reason`."""
    lines = []
    for application in document["applications"]:
        lines += [f"{application['title']} ({application['id']})",
                  f"{document['company']}, {document['edition']}", ""]
        lines += wrapped(document["notice"], "")
        overlay = document["overlay"]
        lines += [f"Judged with the base and the overlay of {overlay['title']}" if overlay else
                  "Judged with the base alone, without any company's overlay", ""]
        assumed = {(one["state"], one["input"]) for one in application["assumed"]}
        lines += ["Understood"] + [_understood(answer, assumed) for answer in application["understood"]]
        if application["open_points"]:
            lines += ["", "Open points"] + [line for point in application["open_points"]
                                            for line in wrapped(point, "  ")]
        if application["next_question"]:
            lines += ["", *wrapped(f"Next question: {question_sentence(application['next_question'])}", "")]
        lines += ["", *what_to_buy(application, every_reason), *margin_lines(application, every_reason)]
        comes_to = {(one["decision"], one["candidate"]): one["verdict"] for one in _tells_apart(application)}
        for decision in application["decisions"]:
            lines += ["", decision["title"] + ("" if decision["in_play"] else ": no candidate is left")]
            candidates = [candidate | {
                "comes_to": comes_to.get((decision["decision"], candidate["candidate"]), ""),
                "conceded": [concession_sentence(one) for one in application["concessions"]
                             if (one["decision"], one["candidate"]) == (decision["decision"], candidate["candidate"])]}
                for candidate in decision["candidates"]]
            for alike in _alike(candidates, every_reason):
                lines += alike
        for title, key in (("Cautions", "cautions"), ("To hand over with the sensor", "hand_over")):
            lines += ["", title] + [line for one in application[key]
                                    for line in wrapped(("" if one["certain"] else MAY) + one["text"], "  - ")]
        lines.append("")
    return lines


# private

def _tells_apart(application: dict) -> list[dict]:
    """What candidates come to in a selection, without what is only as open as the best selection of all."""
    best = next(iter(application["selections"]), {"best": "", "worst": ""})
    return [one for one in application["together"]
            if one["verdict"] != "open" or (one["best"], one["worst"]) != (best["best"], best["worst"])]


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
        lines = wrapped(f"{verdict:<10} {names}{bounds}", "  ")
        for sentence in reasons:
            lines += wrapped(sentence, " " * 13)
        blocks.append(lines)
    return blocks


def _said(candidate: dict, every_reason: bool) -> tuple[str, ...]:
    """What is printed of a candidate, beside its name: verdict, bounds, and a sentence per rule that decides."""
    reasons = candidate["reasons"]
    shown = reasons if every_reason else _deciding(candidate)
    return (candidate["verdict"], _bounds(candidate),
            *(sentence[:1].upper() + sentence[1:] + "." for sentence in candidate["conceded"]),
            *reason_sentences(shown if every_reason or candidate["verdict"] != "suitable" else shown[:1]))


def _deciding(candidate: dict) -> list[dict]:
    """The reasons of the worst verdict. Where some of them hold whatever the open answers become, only those: what a
    missing answer may yet lead to is no reason of a verdict that stands without it."""
    worst = [reason for reason in candidate["reasons"] if reason["verdict"] == candidate["worst"]]
    settled = [reason for reason in worst if reason["settled"]]
    return settled or worst or candidate["reasons"][:1]


def _bounds(candidate: dict) -> str:
    together = f"; in any selection {candidate['comes_to']}" if candidate["comes_to"] else ""
    if candidate["best"] == candidate["worst"]:
        provisional = provisional_words(candidate["confirm"])
        return (f"; {provisional}" if provisional else "") + together
    needs = ", ".join(f"{one['input']} ({one['state']})" for one in candidate["open_in"])
    return f": at worst {candidate['worst']}, at best {candidate['best']}; missing: {needs}{together}"
