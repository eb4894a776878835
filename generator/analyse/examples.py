"""Gives back the worked examples of formulas that do not come out: each is computed by the engine from its own text."""

from __future__ import annotations

from generator.answers.figures import with_unit
from generator.evaluate.formulas import evaluate_formula
from generator.evaluate.numbers import plain_text, round_to_12
from generator.evaluate.results import NumberSet
from generator.pack.model import Formula, Pack
from generator.pack.texts import ExampleText, FormulaText, Texts
from generator.problems import Place, Problem


def check_examples(pack: Pack, texts: Texts) -> list[Problem]:
    """R004: a worked example gives another number than it says, beyond its own tolerance, or none."""
    formulas = {formula.id: formula for formula in pack.formulas}
    return [problem for text in texts.formulas for example in text.examples
            for problem in _compare(formulas[text.id], text, example)]


# private

def _compare(formula: Formula, text: FormulaText, example: ExampleText) -> list[Problem]:
    found = evaluate_formula(formula, {name: NumberSet(((value, value),)) for name, value in example.arguments})
    if found.intervals:
        value = found.intervals[0][0]
        if abs(value - example.expected) <= float(example.tolerance) * abs(example.expected):
            return []
        says = with_unit(plain_text(round_to_12(value)), formula.unit)
    else:
        says = "no value: an argument lies outside the validity of its symbol"
    return [Problem(Place(example.file, example.line, 1), "R004",
                    f"the worked example of '{text.id}' expects {example.result}, but the formula gives {says}",
                    "mend the expression, or work the example again by hand")]
