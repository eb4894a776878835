"""Gives back faults of formulas' examples and of derived values: symbols, where they come from, circles."""

from __future__ import annotations

from collections.abc import Iterable

from generator.problems import Problem
from generator.read.known import Known
from generator.read.records import Derived, Formula, KnowledgeBase, Word
from generator.read.shown import instead, shown

_OWNER_KINDS = ("inputs", "candidates", "pipe_sizes", "media")


def check(base: KnowledgeBase, known: Known) -> list[Problem]:
    """All formulas and all derived values."""
    problems = [problem for one in base.formulas for problem in _examples(one)]
    for one in base.derived:
        problems += known.unknown(one.formula, known.formulas, "formula", ("formulas",))
        formula = known.formulas.get(one.formula.text)
        if formula is not None:
            problems += _symbols(formula, one.with_, f"derived value '{one.id}'", one.id)
        for _, source in one.with_:
            problems += _source(source, known)
    return [*problems, *_circles(base.derived)]


# private

def _examples(formula: Formula) -> list[Problem]:
    return [problem for number, one in enumerate(formula.examples, 1)
            for problem in _symbols(formula, one.given, f"example {number} of formula '{formula.id}'",
                                    one.result)]


def _symbols(formula: Formula, given: tuple[tuple[Word, Word], ...], who: str, at: Word) -> list[Problem]:
    """Every symbol of the formula is given, and no other."""
    wanted = [symbol.id.text for symbol in formula.symbols]
    named = {word.text for word, _ in given}
    problems = [Problem(word.place, "X003", f"formula '{formula.id}' has no symbol '{shown(word.text)}'",
                        instead(word.text, wanted, "symbol"))
                for word, _ in given if word.text not in wanted]
    return problems + [Problem(at.place, "X015", f"{who} does not say what the symbol '{name}' is",
                               f"add `{name}: ...`")
                       for name in wanted if name not in named]


def _source(source: Word, known: Known) -> list[Problem]:
    owner, dot, name = source.text.partition(".")
    if not dot:
        if source.text in known.inputs and known.inputs[source.text].kind.text != "number":
            return [Problem(source.place, "X018", f"input '{source}' is not a number",
                            "name a number, or a number of what is chosen: size.nominal_bore")]
        return known.unknown(source, {*known.inputs, *known.derived, *known.figures}, "input or derived value",
                             ("inputs", "derived"))
    if known.incomplete.intersection(_OWNER_KINDS):
        return []
    items = known.worded(owner) if any(name == one.id.text for one in known.base.series) else known.items(owner)
    if not items:
        owners = {one for one in (*known.candidates, *known.inputs) if known.items(one)}
        return known.unknown(Word(owner, source.place), owners, "decision or choice with records", ())
    if any(name == one.id.text for one in known.base.series):
        named = {word.text for item in items for word, _ in item.words}
        return [] if name in named else [Problem(
            source.place, "X003", f"'{owner}' has no word '{shown(name)}'",
            f"say in its records which column of the series holds: words: {{{name}: ...}}")]
    names = {word.text for item in items for word, _ in item.numbers}
    if name not in names:
        return [Problem(source.place, "X003", f"'{owner}' has no number '{shown(name)}'",
                        instead(name, names, "number"))]
    return [Problem(item.id.place, "X018",
                    f"'{item.id}' has no number '{name}', which {source.place} asks for",
                    f"add it to its numbers: {name}: ...")
            for item in items if all(word.text != name for word, _ in item.numbers)]


def _circles(derived: tuple[Derived, ...]) -> list[Problem]:
    """One problem for each circle of derived values, at its first member in the order of the file."""
    needs = {one.id.text: [source for _, source in one.with_] for one in derived}
    state: dict[str, int] = {}       # 1: on the way to here, 2: done
    problems: list[Problem] = []
    for start in needs:
        trail: list[str] = []
        ahead: list[tuple[str, Iterable[Word]]] = []
        if start not in state:
            state[start] = 1
            trail.append(start)
            ahead.append((start, iter(needs[start])))
        while ahead:
            name, sources = ahead[-1]
            source = next(iter(sources), None)
            if source is None:
                state[name] = 2
                ahead.pop()
                trail.pop()
            elif state.get(source.text) == 1:
                circle = [*trail[trail.index(source.text):], source.text]
                way = shown(" -> ".join(circle))
                problems.append(Problem(source.place, "X014", f"derived values need each other in a circle: {way}",
                                        "let one of them come from inputs alone"))
            elif source.text in needs and source.text not in state:
                state[source.text] = 1
                trail.append(source.text)
                ahead.append((source.text, iter(needs[source.text])))
    return problems
