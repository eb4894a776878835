"""Gives back the pages of the formulas: equation, limits, trap, worked examples and calculator."""

from __future__ import annotations

from dataclasses import dataclass

from markupsafe import Markup

from generator.pack.texts import BasisText, FormulaText
from generator.problems import Place
from generator.render import addresses, parts, words
from generator.render.library import Library
from generator.render.mathml import formula_mathml, letter_mathml
from generator.render.page import Heading, Page, SearchEntry
from generator.render.printing import printed


@dataclass(frozen=True, slots=True)
class SymbolLine:
    letter: Markup
    title: str
    unit: str
    valid: str


@dataclass(frozen=True, slots=True)
class ConstantLine:
    letter: Markup
    title: str
    value: str
    basis: Markup


@dataclass(frozen=True, slots=True)
class ExampleView:
    given: tuple[parts.Fact, ...]
    result: str
    tolerance: str
    source: str
    worked: str


@dataclass(frozen=True, slots=True)
class FormulaView:
    id: str
    title: str
    index: parts.Link
    about: str
    equation: Markup
    result_letter: Markup
    unit: str
    typed: str
    calculator: bool
    symbols: tuple[SymbolLine, ...]
    constants: tuple[ConstantLine, ...]
    validity: str
    accuracy: str
    trap: str
    basis: Markup
    examples: tuple[ExampleView, ...]
    pack: str
    texts: str
    root: str
    script: str
    values: tuple[str, ...]
    tables: tuple[parts.Link, ...]
    record: parts.Record


@dataclass(frozen=True, slots=True)
class EquationBlock:
    title: parts.Link
    equation: Markup


def formula_pages(lib: Library) -> tuple[Page, ...]:
    """A page per formula, in the order of the data."""
    return tuple(_formula_page(lib, formula) for formula in lib.texts.formulas)


def formula_block(lib: Library, identifier: str) -> Markup:
    """The equation with a link to its page, to stand in prose."""
    text = lib.formula_texts[identifier]
    return printed(
        "parts/equation_block.html",
        EquationBlock(parts.link(addresses.formula(identifier), text.title), equation(text)),
    )


def equation(text: FormulaText) -> Markup:
    """A formula as a displayed equation."""
    letters = {symbol.id: symbol.letter for symbol in (*text.symbols, *text.constants)}
    return formula_mathml(text.letter, text.printed, letters)


# private


def _formula_page(lib: Library, text: FormulaText) -> Page:
    uses = [derived for derived in lib.texts.derived if derived.formula == text.id]
    names = {derived.id for derived in uses}
    tables = [table.id for table in lib.pack.tables if any(column.name in names for column in table.columns)]
    place = Place(text.file, text.line)
    view = FormulaView(
        id=text.id,
        title=text.title,
        index=parts.link(addresses.FORMULAS, "Formulas"),
        about=text.about,
        equation=equation(text),
        result_letter=letter_mathml(text.letter),
        unit=_unit(text.unit_symbol),
        typed=text.expression,
        calculator=text.calculator,
        symbols=_symbols(lib, text),
        constants=tuple(
            ConstantLine(
                letter_mathml(constant.letter),
                constant.title,
                constant.value,
                parts.basis_line(lib, constant.basis),
            )
            for constant in text.constants
        ),
        validity=text.validity,
        accuracy=text.accuracy,
        trap=text.trap,
        basis=parts.basis_line(lib, text.basis),
        examples=_examples(text),
        pack=addresses.target(addresses.PACK_FILE),
        texts=addresses.target(addresses.TEXTS_FILE),
        root=addresses.target(""),
        script=addresses.target("assets/calculators.js"),
        values=tuple(derived.title for derived in uses),
        tables=tuple(parts.link(addresses.table(name), lib.table_texts[name].title) for name in tables),
        record=parts.record(lib, place),
    )
    return Page(
        uri=addresses.uri_of(addresses.formula(text.id)),
        title=text.title,
        section=("Look up", "Formulas"),
        body=printed("formula.html", view),
        source=place,
        headings=(
            *((Heading("calculator", "Calculate"),) if text.calculator else ()),
            Heading("letters", "Letters and limits"),
            Heading("trap", "The trap"),
            Heading("examples", "Worked examples"),
        ),
        search=(SearchEntry("", text.title, f"{text.about} {text.trap}"),),
    )


def _symbols(lib: Library, text: FormulaText) -> tuple[SymbolLine, ...]:
    valid = {symbol.id: symbol.valid for symbol in lib.formulas[text.id].symbols}
    infinite = float("inf")
    return tuple(
        SymbolLine(
            letter=letter_mathml(symbol.letter),
            title=symbol.title,
            unit=_unit(symbol.unit_symbol),
            valid=words.interval_text(valid[symbol.id], -infinite, infinite, symbol.unit_symbol),
        )
        for symbol in text.symbols
    )


def _examples(text: FormulaText) -> tuple[ExampleView, ...]:
    titles = {symbol.id: symbol.title for symbol in text.symbols}
    return tuple(
        ExampleView(
            given=tuple(parts.Fact(titles.get(name, name), value) for name, value in example.given),
            result=example.result,
            tolerance=example.tolerance,
            source=example.source,
            worked=example.worked,
        )
        for example in text.examples
    )


def _unit(symbol: str) -> str:
    return "no unit" if symbol in ("", "1") else symbol


def bases_of(text: FormulaText) -> tuple[BasisText, ...]:
    """Every basis a formula rests on: its own and those of its constants."""
    return (text.basis, *(constant.basis for constant in text.constants))
