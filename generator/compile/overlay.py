"""Gives back what an overlay adds beside rules: figures for pairs of candidates, the order of preference by stock and
cost, and its words for pages."""

from __future__ import annotations

from dataclasses import replace
from typing import TypeVar

from generator.boxes.sets import NumberAxis
from generator.boxes.words import AxisWords
from generator.compile.cells import ColumnDomain
from generator.compile.inputs import Column, Compiled
from generator.compile.quantities import Vocabulary, same_kind
from generator.compile.wording import basis_text, in_sentence
from generator.pack import model, texts
from generator.pack.overlay_texts import (AddedText, ChangeText, FiguresText, ForbiddenText, OverlayText, StockText)
from generator.problems import Problem
from generator.read.overlay_records import Figures, Overlay

T = TypeVar("T", model.Option, texts.ItemText)


def compile_figures(record: Figures, vocabulary: Vocabulary,
                    order: tuple[str, ...]) -> tuple[model.Figure, FiguresText, Compiled] | list[Problem]:
    """Figures as the engines read them, their two decisions in the order of the pack, or what is wrong with them."""
    problems: list[Problem] = []
    unit = None
    numbers: list[tuple[str, str, float]] = []
    swapped = order.index(record.by[0].text) > order.index(record.by[1].text)
    for outer, row in record.values:
        for inner, typed in row:
            amount = vocabulary.amount(typed)
            if isinstance(amount, Problem):
                problems.append(amount)
                continue
            if unit is None:
                known = amount.unit.quantities
                unit = vocabulary.unit_of(known[0]) if known else amount.unit
            if not same_kind(amount.unit, unit):
                problems.append(Problem(typed.place, "C008", f"'{typed}' is in {amount.unit.in_message}, but figures "
                                        f"'{record.id}' are in {unit.in_message}", f"write it in {unit.in_message}"))
                continue
            first, second = (inner, outer) if swapped else (outer, inner)
            numbers.append((first.text, second.text, amount.in_unit(unit)))
    if problems:
        return problems
    assert unit is not None, "figures without a figure are refused when they are read"
    decisions = tuple(sorted((word.text for word in record.by), key=order.index))
    figure = model.Figure(record.id.text, unit.spelling, decisions, tuple(numbers))
    text = FiguresText(
        record.id.text, record.title.text, record.about.text, (record.by[0].text, record.by[1].text),
        tuple((outer.text, inner.text, typed.text) for outer, row in record.values for inner, typed in row),
        basis_text(record.basis), record.place.file, record.place.line)
    low, high = min(number for *_, number in numbers), max(number for *_, number in numbers)
    domain = ColumnDomain(record.id.text, NumberAxis(low, high), unit.symbol)
    words = AxisWords(in_sentence(record.title.text), unit.symbol)
    return figure, text, Compiled(Column("figure", domain, words, unit, decisions), {})


def preferred(overlay: Overlay | None, decision: str, options: tuple[T, ...]) -> tuple[T, ...]:
    """The candidates: in stock first, then by cost class, then in the order of the base. A candidate of which the overlay
    says nothing is not in stock, and dearer than any class."""
    lines = {one.candidate.text: one for one in overlay.stock if one.decision.text == decision} if overlay else {}

    def rank(option: T) -> tuple[bool, float]:
        line = lines.get(option.id)
        return (True, float("inf")) if line is None else (line.in_stock.text == "no", float(line.cost_class.text))

    return tuple(sorted(options, key=rank)) if lines else options


def reordered(overlay: Overlay | None, decision: model.Decision,
              text: texts.DecisionText) -> tuple[model.Decision, texts.DecisionText]:
    """A decision with its candidates as the company prefers them."""
    return (replace(decision, candidates=preferred(overlay, decision.id, decision.candidates)),
            replace(text, items=preferred(overlay, decision.id, text.items)))


def overlay_text(overlay: Overlay, changes: tuple[ChangeText, ...],
                 figures: tuple[FiguresText, ...]) -> OverlayText:
    """The overlay in words."""
    made = {one.id.text: one.rules_of.text for one in overlay.readings}
    made |= {f"forbidden_{one.decision}": "forbidden" for one in overlay.forbidden}
    added = tuple(AddedText(name, made.get(name, "")) for name in (
        *(table.id.text for table in overlay.tables), *made))
    return OverlayText(
        overlay.id.text, overlay.title.text, overlay.about.text, overlay.notice.text, changes, added, figures,
        tuple(ForbiddenText(one.decision.text, one.candidate.text, one.reason.text, one.who.text,
                            basis_text(one.basis)) for one in overlay.forbidden),
        tuple(StockText(one.decision.text, one.candidate.text, one.in_stock.text == "yes", one.cost_class.text)
              for one in overlay.stock),
        tuple(case.id.text for case in overlay.cases),
        tuple(one.id.text for one in overlay.sources), overlay.id.place.file)
