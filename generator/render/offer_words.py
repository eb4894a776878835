"""Gives back an offer compared with what is required, as a document and as lines."""

from __future__ import annotations

from collections.abc import Iterable

from generator.evaluate.numbers import plain_text
from generator.evaluate.offer import ACCEPTED, AS_REQUIRED, DEVIATION, OPEN, Comparison
from generator.evaluate.results import Advised, Application
from generator.pack.texts import Texts
from generator.render.answer_document import reason_record
from generator.render.answer_words import reason_sentences, wrapped
from generator.render.component_words import component_names

STANDINGS = {AS_REQUIRED: "as required", ACCEPTED: "accepted, no worse than required", DEVIATION: "deviation", OPEN: "open"}
DEFERS = ("The comparison screens the offer by the rules of this guide. Local codes, the owner's corrosion engineer and "
          "licensed practice decide; the supplier answers for the figures given.")


def offer_document(texts: Texts, application: Application, supplier: str, comparison: Comparison, documents: tuple[str, ...],
                   advice: Iterable[Advised]) -> dict:
    """Every requirement with what is offered, how it stands, and why; in the order of decisions, figures, documents."""
    names = component_names(texts, application)
    rules = {rule.rule: rule for rule in texts.rules}
    titles = {(decision.id, item.id): item.title for decision in texts.decisions for item in decision.items}
    decisions = {decision.id: decision.title for decision in texts.decisions}
    inputs = {one.id: one for one in texts.inputs}
    told = {one.id: one for one in texts.cautions}
    lines = [{"subject": decisions[one.decision], "required": titles.get((one.decision, one.required), "none is left"),
              "offered": titles.get((one.decision, one.offered), "not stated"), "standing": one.standing,
              "verdict": one.verdict, "reasons": [reason_record(rules, names, reason) for reason in one.reasons]}
             for one in comparison.candidates]
    lines += [{"subject": inputs[one.input].title, "required": _amount(one.required, inputs[one.input].unit_symbol),
               "offered": "not stated" if one.offered is None else _amount(one.offered, inputs[one.input].unit_symbol),
               "standing": one.standing, "verdict": "", "reasons": []} for one in comparison.figures]
    lines += [{"subject": "Document", "required": told[one.id].text,
               "offered": "stated" if one.id in documents else "not stated",
               "standing": AS_REQUIRED if one.id in documents else OPEN, "verdict": "", "reasons": []}
              for one in advice if told[one.id].kind == "hand_over"]
    counts = {standing: sum(line["standing"] == standing for line in lines) for standing in STANDINGS}
    return {"supplier": supplier, "lines": lines, "counts": counts, "defers": DEFERS,
            "cautions": [told[one.id].text for one in advice if told[one.id].kind == "caution"]}


def offer_lines(document: dict) -> list[str]:
    """The lines for a terminal: deviations first, then what is open, then what is in order."""
    counts = ", ".join(f"{document['counts'][standing]} {words.partition(',')[0]}" for standing, words in STANDINGS.items())
    lines = [f"Offer of {document['supplier']}: {counts}"]
    for standing in (DEVIATION, OPEN, ACCEPTED, AS_REQUIRED):
        found = [line for line in document["lines"] if line["standing"] == standing]
        if found:
            lines += ["", STANDINGS[standing][:1].upper() + STANDINGS[standing][1:]]
        for line in found:
            verdict = f"; {line['verdict']}" if line["verdict"] else ""
            lines += wrapped(f"{line['subject']}: {line['required']} required, {line['offered']} offered{verdict}"
                             if line["subject"] != "Document" else f"{line['required']} ({line['offered']})", "  ")
            for reason in reason_sentences(line["reasons"]):
                lines += wrapped(reason, " " * 6)
    lines += ["", "Cautions"] + [each for text in document["cautions"] for each in wrapped(text, "  - ")]
    return [*lines, "", *wrapped(document["defers"], "")]


# private

def _amount(number: float, unit: str) -> str:
    """With six digits, which are enough to know it by; compared are the full figures."""
    text = plain_text(float(f"{number:.6g}"))
    return text if unit in ("", "1") else f"{text} {unit}"
