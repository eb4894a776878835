"""Gives back a requisition: what is required of a sensor, not which product, drawn from the record of a selection."""

from __future__ import annotations

from dataclasses import dataclass

from markupsafe import Markup

from generator.evaluate.offer import required_figures
from generator.evaluate.results import Application
from generator.pack.model import Pack
from generator.pack.texts import Texts
from generator.render.answer_words import in_titles
from generator.render.offer_words import DEFERS
from generator.render.printing import printed
from generator.render.provisional import provisional_words
from generator.render.words import number_text


@dataclass(frozen=True, slots=True)
class RequiredView:
    """One decision: what is asked for, what is as good, what may be offered only with the supplier's word, and what is
    refused, with the reason."""

    decision: str
    required: str
    verdict: str
    limited: str                     # the verdict, where it is not suitable
    also: str
    with_data: str
    refused: str


@dataclass(frozen=True, slots=True)
class FigureView:
    title: str
    words: str


@dataclass(frozen=True, slots=True)
class RequisitionView:
    title: str
    id: str
    company: str
    edition: str
    rules: str
    made: str
    provisional: str
    required: tuple[RequiredView, ...]
    figures: tuple[FigureView, ...]
    conditions: tuple[str, ...]
    documents: tuple[str, ...]
    data: tuple[str, ...]
    cautions: tuple[str, ...]
    defers: str
    notice: str
    style: Markup


NOTHING = "nothing"
SUPPLIER_DATA = (
    "The true bore under the offered liner, and the velocities in it.",
    "The lowest pressure that the liner bears at the highest temperature, in this size.",
    "The highest and lowest temperature of the lined sensor, and the highest rate of change.",
    "Any departure from this requisition, line by line; what is not stated counts as open.")


def requisition_view(pack: Pack, texts: Texts, application: Application, record: dict, style: Markup = Markup()) -> RequisitionView:
    """The texts of the page; `record` as `record_document` gives it."""
    answer = record["answer"]
    best = answer["selections"][0] if answer["selections"] else None
    symbols = {one.id: (one.title, one.unit_symbol) for one in texts.inputs}
    options = {one.id: one.options for one in texts.inputs}
    states = {one.id: one.title for one in texts.states}
    return RequisitionView(
        answer["title"], answer["id"], record["company"], record["edition"], record["rules"], record["made"],
        provisional_words(best["confirm"]) if best else "",
        tuple(_required(decision, best) for decision in answer["decisions"]),
        tuple(FigureView(symbols[name][0], ("at least " if name.endswith("_max") else "down to ")
                         + number_text(float(f"{value:.6g}"), symbols[name][1]))
              for name, value in required_figures(pack, application)),
        tuple(f"{symbols[one['input']][0]} ({states[one['state']]}): {in_titles(options[one['input']], one['taken'])}"
              for one in answer["understood"]
              if one["input"] in symbols and not one["input"].endswith(("_min", "_max"))),
        tuple(("" if one["certain"] else "If it applies: ") + one["text"] for one in answer["hand_over"]),
        SUPPLIER_DATA, tuple(one["text"] for one in answer["cautions"]), DEFERS, record["notice"], style)


def requisition_page(view: RequisitionView) -> str:
    """The whole HTML document, with its style inside and nothing to load."""
    return printed("requisition.html", view) + "\n"


def requisition_yaml(pack: Pack, texts: Texts, application: Application, record: dict) -> str:
    """The same as YAML, and below it the form of an offer to fill in: what is left blank counts as not stated."""
    view = requisition_view(pack, texts, application, record)
    hand_over = [one["id"] for one in record["answer"]["hand_over"]]
    lines = [f"# Requisition for {view.title} ({view.id}); {view.edition}, rules {view.rules}, {view.made}",
             *(f"# {one.decision}: {one.required} ({one.verdict})"
               + ("" if one.also == NOTHING else f"; may be offered instead: {one.also}") for one in view.required),
             *(f"# {one.title}: {one.words}" for one in view.figures), *(f"# {line}" for line in view.data),
             f"# {view.defers}", 'supplier: ""', "offered:",
             *(f'  {decision.id}: ""' for decision in pack.decisions), "figures:",
             *(f'  {name}: ""' for name, _ in required_figures(pack, application)), '  true_bore: ""',
             f"documents: []                    # of {', '.join(hand_over)}"]
    return "\n".join(lines) + "\n"


# private

def _required(decision: dict, best: dict | None) -> RequiredView:
    chosen = next((one for one in best["chosen"] if one["decision"] == decision["decision"]), None) if best else None
    others = [one for one in decision["candidates"] if chosen is None or one["candidate"] != chosen["candidate"]]
    refused: dict[str, list[str]] = {}
    for one in others:
        if one["verdict"] == "unsuitable":
            refused.setdefault(one["reasons"][0]["because"] if one["reasons"] else "", []).append(one["title"])
    verdict = chosen["verdict"] if chosen else "open"
    return RequiredView(
        decision["title"], chosen["title"] if chosen else "none is left by these rules",
        verdict, "" if verdict == "suitable" else verdict,
        ", ".join(one["title"] + ("" if one["verdict"] == "suitable" else " (caution)") for one in others
                  if one["verdict"] in ("suitable", "caution")) or NOTHING,
        ", ".join(one["title"] for one in others if one["verdict"] == "open"),
        " ".join(f"{', '.join(titles)}: {because}" for because, titles in refused.items()))
