"""Gives back the blocks of the page that explains how the guide decides: small rule tables with a drawing of their
boxes, and applications with what the engine says of them.

The tables and applications are a small knowledge base of its own beside the page. They are compiled and decided
like the guide's own, so the page cannot say what the engine does not do. Nothing in a block leads anywhere: its
rules have no pages.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

from markupsafe import Markup

from generator.analyse.cases import answer_case
from generator.answers.application import ReadApplication
from generator.evaluate.margins import margins
from generator.evaluate.next_question import next_question
from generator.evaluate.prepared import prepare
from generator.evaluate.results import CandidateResult, Reason, Selected
from generator.evaluate.situation import situation_of
from generator.pack.model import Row, Table
from generator.pack.texts import CaseText, FormulaText
from generator.render import parts
from generator.render.component_words import component_names
from generator.render.formulas import equation
from generator.render.library import Library, column_title, row_conditions
from generator.render.margin_words import margin_line, margin_records
from generator.render.map_nodes import Node, svg_text
from generator.render.map_picture import picture_of
from generator.render.map_scene import scene_of
from generator.render.map_sheet import sheet_of
from generator.render.map_view import default_view
from generator.render.printing import printed
from generator.render.question_words import question_record, question_sentence
from generator.render.words import interval_text, number_text

FOLDER = "examples/how_it_decides"               # below guide/
KINDS = {"unique": "First kind: exactly one row meets any answer.", "collect": "Second kind: it only takes away."}


@dataclass(frozen=True, slots=True)
class WorkedRow:
    """A row of the table: its rule, its conditions in words, what it says, and why."""

    rule: str
    cells: tuple[str, ...]
    verdict: Markup
    because: str


@dataclass(frozen=True, slots=True)
class WorkedTable:
    title: str
    about: str
    kind: str
    columns: tuple[str, ...]
    rows: tuple[WorkedRow, ...]
    drawing: Markup


@dataclass(frozen=True, slots=True)
class WorkedVerdict:
    """What the engine says of one candidate: `rule` decides, `more` tells bounds, partner and missing answers; `argued`
    is what a person expected before."""

    candidate: str
    verdict: Markup
    rule: str
    more: str
    argued: str


@dataclass(frozen=True, slots=True)
class WorkedAnswer:
    """`given` are all answers, and what is not answered; `folded` keeps the verdicts behind a summary until the reader has
    made up his mind."""

    story: str
    given: tuple[str, ...]
    asked: str
    folded: bool
    verdicts: tuple[WorkedVerdict, ...]
    selection: str


def worked_table(lib: Library, table: Table) -> Markup:
    """The rows of a table and the drawing of its boxes."""
    sheet = sheet_of(lib, table)
    drawing = scene_of(sheet, (view := default_view(sheet)), picture_of(sheet, view, ()))
    return printed("parts/worked_table.html", WorkedTable(
        title=lib.table_texts[table.id].title,
        about=lib.table_texts[table.id].about,
        kind=KINDS[table.hit_policy],
        columns=tuple(column_title(lib, column) for column in table.columns),
        rows=tuple(_row(lib, table, row) for row in table.rows),
        drawing=svg_text(_without_links(drawing))))


def worked_answer(lib: Library, case: CaseText, folded: bool) -> Markup:
    """An application with the engine's verdicts on the candidates that the case names."""
    answered = answer_case(prepare(lib.pack), case)
    selected = answered.selected
    found = {(decision.decision, one.candidate): one for decision in (selected.decisions if selected else ())
             for one in decision.candidates}
    named = [(one, found[one.decision, one.candidate]) for one in case.expect
             if (one.decision, one.candidate) in found]
    return printed("parts/worked_answer.html", WorkedAnswer(
        story=case.story,
        given=_given(lib, answered.reading),
        asked=" and ".join(dict.fromkeys(lib.items[one.decision, one.candidate].title for one, _ in named)),
        folded=folded,
        verdicts=tuple(WorkedVerdict(lib.items[one.decision, one.candidate].title, parts.verdict_mark_of(result.verdict),
                                     _deciding(result).rule if result.reasons else "", _more(lib, result), one.because)
                       for one, result in named),
        selection=_leading(lib, selected) if case.selection or answered.reading.application.pinned else ""))


def worked_formula(lib: Library, text: FormulaText) -> Markup:
    """A formula, where it holds, and the numbers of the candidates that it is computed for."""
    valid = {symbol.id: symbol.valid for symbol in next(one for one in lib.pack.formulas if one.id == text.id).symbols}
    holds = [f"{symbol.title.lower()} {interval_text(valid[symbol.id], float('-inf'), float('inf'), symbol.unit_symbol)}"
             for symbol in text.symbols]
    units = {symbol.id: symbol.unit_symbol for symbol in text.symbols}
    facts = [f"{lib.items[decision.id, candidate.id].title}: {name} {number_text(number, units.get(name, ''))}" for decision in lib.pack.decisions
             for candidate in decision.candidates for name, number in candidate.numbers]
    return Markup("{}<p class=\"g-small\">It holds for {}. {}.</p>").format(equation(text), " and ".join(holds), "; ".join(facts))


def worked_margins(lib: Library, case: CaseText) -> Markup:
    """How far each number may move before a verdict of the case's candidates changes, a line each."""
    prepared = prepare(lib.pack)
    answered = answer_case(prepared, case)
    application = answered.reading.application
    found = margins(situation_of(prepared, application), answered.selected) if answered.selected else ()
    named = {(one.decision, one.candidate) for one in case.expect}
    titles = {decision.id: decision.title for decision in lib.texts.decisions}
    lines = [margin_line(titles, record) for record in margin_records(lib.texts, component_names(lib.texts, application), found)
             if (record["decision"], record["candidate"]) in named]
    return Markup("<ul>{}</ul>").format(Markup("").join(Markup("<li>{}</li>").format(line) for line in lines))


def worked_next(lib: Library, case: CaseText) -> Markup:
    """The question that comes next in the case."""
    selected = answer_case(prepare(lib.pack), case).selected
    record = question_record(lib.texts, next_question(lib.pack, selected) if selected else None)
    said = f"Next question: {question_sentence(record)}." if record else "No verdict waits for an answer."
    return Markup("<p>{}</p>").format(said)


# private

def _row(lib: Library, table: Table, row: Row) -> WorkedRow:
    return WorkedRow(row.rule, row_conditions(lib, table, row), parts.verdict_mark(row.verdict),
                     lib.rules[row.rule].because)


def _given(lib: Library, reading: ReadApplication) -> tuple[str, ...]:
    """A line per state: each question with its answer, so that nobody has to guess what an example takes for granted."""
    lines = []
    typed = {(one.state, one.input): one.understood for one in reading.understood}
    for place, state in enumerate(lib.pack.states):
        if state.id in reading.application.ruled_out:
            lines.append(f"{_state(lib, state.id).capitalize()}: does not occur.")
            continue
        asked = [item for item in lib.pack.inputs if item.per_state or place == 0]
        said = [f"{lib.input_texts[item.id].title.lower()} {typed.get((state.id, item.id), 'not answered')}" for item in asked]
        lines.append(f"{_state(lib, state.id).capitalize()}: {', '.join(said)}.")
    lines += [f"Pinned: {lib.items[pair].title}." for pair in reading.application.pinned]
    return tuple(lines)


def _without_links(one: Node) -> Node:
    """Links become plain groups: the rules of an example have no page to lead to."""
    children = tuple(child if isinstance(child, str) else _without_links(child) for child in one.children)
    if one.tag != "a":
        return replace(one, children=children)
    kept = tuple((name, text) for name, text in one.attributes if name not in ("href", "tabindex"))
    return Node("g", kept, children)


def _deciding(result: CandidateResult) -> Reason:
    """The first reason that gives the verdict shown; of an open one the first that could be worst."""
    return next((reason for reason in result.reasons if reason.verdict == result.verdict), result.reasons[0])


def _more(lib: Library, result: CandidateResult) -> str:
    said = []
    if result.worst != result.best:
        said.append(f"at worst {result.worst}, at best {result.best}")
    states = list(dict.fromkeys(state for state, _ in result.open_inputs))
    for state in states:
        missing = ", ".join(lib.input_texts[name].title.lower() for at, name in result.open_inputs if at == state)
        said.append(f"missing: {missing} ({_state(lib, state)})")
    if result.reasons and result.worst == result.best:
        deciding = _deciding(result)
        partners = [(decision, candidate) for decision, candidate in deciding.partner]
        if partners:
            said.append("with " + ", ".join(lib.items[pair].title for pair in partners))
        if deciding.state != "normal":
            said.append(f"in the state {_state(lib, deciding.state)}")
    return "; ".join(said)


def _state(lib: Library, state: str) -> str:
    return next(text.title for text in lib.texts.states if text.id == state).lower()


def _leading(lib: Library, selected: Selected | None) -> str:
    if selected is None or not selected.selections:
        tables = dict.fromkeys(reason.table for reason in (selected.conflict.reasons if selected and selected.conflict else ()))
        return "none is left; " + " and ".join(lib.table_texts[table].title for table in tables) + " cannot all be met"
    return ", ".join(f"{lib.decision_texts[one.decision].title}: {lib.items[one.decision, one.candidate].title}"
                     for one in selected.selections[0].chosen)
