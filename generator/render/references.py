"""Gives back what a reference in prose stands for: `{{ title liner.pfa }}`, `{{ table <id> }}`.

A resolver takes the library and the words after the reference's name. It returns Markdown (HTML for blocks)
or raises `Unknown` with what is wrong and what to type instead.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass
from difflib import get_close_matches

from markupsafe import Markup

from generator.pack.model import Column, NumberCell, Row
from generator.pack.texts import CaseText, DecisionText
from generator.render import addresses, parts, words
from generator.render.formulas import formula_block
from generator.render.library import Library, column_range, condition_text, rule_address
from generator.render.printing import printed
from generator.render.start import cautions_block
from generator.render.tables import table_block
from generator.render.worked import FOLDER, worked_answer, worked_formula, worked_margins, worked_next, worked_table


class Unknown(Exception):
    """A reference that leads nowhere: `message` says why, `fix` what to type instead."""

    def __init__(self, message: str, fix: str) -> None:
        super().__init__(message)
        self.message, self.fix = message, fix


@dataclass(frozen=True, slots=True)
class Reference:
    """`form` is how it is typed, `block` whether it must stand alone on its line."""

    form: str
    words: int
    block: bool
    resolve: Callable[..., str]


@dataclass(frozen=True, slots=True)
class CandidateLine:
    title: parts.Link
    about: str
    facts: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class CandidatesBlock:
    title: str
    fact_names: tuple[str, ...]
    candidates: tuple[CandidateLine, ...]


PAGES = {
    "worksheet": ("", "worksheet"),
    "inputs": (addresses.INPUTS, "data sheet"),
    "rules": (addresses.RULES, "rule register"),
    "basis": (addresses.BASIS, "what the rules rest on"),
    "findings": (addresses.FINDINGS, "findings"),
    "media": (addresses.MEDIA, "media"),
    "tables": (addresses.TABLES, "rule tables"),
    "formulas": (addresses.FORMULAS, "formulas"),
    "figures": (addresses.SERIES, "tables of figures"),
    "sources": (addresses.SOURCES, "sources"),
    "cases": (addresses.CASES, "reference cases"),
    "reading": ("reading/", "how to read this guide"),
    "about": ("about/", "about this guide"),
}


def resolve(lib: Library, typed: list[str]) -> str:
    """What the words between the braces stand for. Raises `Unknown`."""
    name, *arguments = typed
    known = REFERENCES.get(name)
    if known is None:
        raise Unknown(
            f"there is no reference called '{name}'",
            f"type one of {', '.join(sorted(REFERENCES))}{_hint(name, REFERENCES)}",
        )
    if len(arguments) != known.words:
        raise Unknown(
            f"'{name}' takes {words.counted(known.words, 'word')}, here are {len(arguments)}",
            f"type {{{{ {known.form} }}}}",
        )
    return known.resolve(lib, *arguments)


# private


def _hint(typed: str, known: Iterable[str]) -> str:
    close = get_close_matches(typed, list(known), n=1, cutoff=0.6)
    return f"; did you mean '{close[0]}'?" if close else ""


def _unknown(what: str, typed: str, known: Iterable[str]) -> Unknown:
    found = list(known)
    close = get_close_matches(typed, found, n=1, cutoff=0.6)
    fix = (
        f"type '{close[0]}'"
        if close
        else f"type one of {', '.join(found[:8])}{' ...' if len(found) > 8 else ''}"
    )
    return Unknown(f"there is no {what} '{typed}'", fix)


def _named(lib: Library, name: str) -> tuple[str, str]:
    """Address and title of a record: `liner.pfa`, `medium.seawater`, `table.x`, `rule.x.y`, `page.inputs`."""
    kind, _, rest = name.partition(".")
    if (kind, rest) in lib.items:
        return addresses.candidate(kind, rest), lib.items[kind, rest].title
    kinds: dict[str, dict[str, tuple[str, str]]] = {
        "medium": {key: (addresses.medium(key), record.item.title) for key, record in lib.media.items()},
        "table": {key: (addresses.table(key), record.title) for key, record in lib.table_texts.items()},
        "formula": {key: (addresses.formula(key), record.title) for key, record in lib.formula_texts.items()},
        "series": {record.id: (addresses.series(record.id), record.title) for record in lib.texts.series},
        "source": {key: (addresses.source(key), record.title) for key, record in lib.sources.items()},
        "input": {key: (addresses.input_line(key), record.title) for key, record in lib.input_texts.items()},
        "decision": {
            key: (addresses.guidance(key), record.title) for key, record in lib.decision_texts.items()
        },
        "catalogue": {
            key: (addresses.decision_index(key), record.title) for key, record in lib.decision_texts.items()
        },
        "case": {record.id: (addresses.case(record.id), record.title) for record in lib.texts.cases},
        "state": {record.id: (f"{addresses.INPUTS}#states", record.title) for record in lib.texts.states},
        "page": PAGES,
    }
    if kind == "rule":
        if rest in lib.rules:
            return rule_address(lib, rest), rest
        raise _unknown("rule", rest, lib.rules)
    if kind in lib.decision_texts:
        raise _unknown(f"candidate of '{kind}'", rest, [item.id for item in lib.decision_texts[kind].items])
    if kind not in kinds:
        raise _unknown("kind of record", kind, ["rule", *kinds, *lib.decision_texts])
    if rest not in kinds[kind]:
        raise _unknown(kind, rest, kinds[kind])
    return kinds[kind][rest]


def _title(lib: Library, name: str) -> str:
    return _named(lib, name)[1]


def _link(lib: Library, name: str) -> str:
    address, title = _named(lib, name)
    return f"[{title}]({addresses.target(address)})"


def _rule_cell(lib: Library, rule: str, name: str) -> tuple[Column, NumberCell]:
    """The one condition that a rule sets on a number. Raises `Unknown` where it sets none, or more than one.
    """
    if rule not in lib.rules:
        raise _unknown("rule", rule, lib.rules)
    table = lib.tables[lib.rules[rule].table]
    columns = {column.name: column for column in table.columns}
    if name not in columns:
        raise _unknown(f"column of table '{table.id}'", name, columns)
    column, number = columns[name], list(columns).index(name)
    rows: tuple[Row, ...] = lib.rows.get(rule, ())
    cells = {row.cells[number] for row in rows}
    if column.kind != "number" or len(cells) != 1 or cells == {-1}:
        raise Unknown(
            f"rule '{rule}' sets no single condition on the number '{name}'",
            "name a column in which the rule has one number condition",
        )
    return column, column.cells[cells.pop()]


def _limit(lib: Library, rule: str, name: str) -> str:
    column, cell = _rule_cell(lib, rule, name)
    low, high, symbol = column_range(lib, column)
    ends = words.limits(cell, low, high)
    if len(ends) != 1:
        raise Unknown(
            f"rule '{rule}' has {len(ends)} limits on '{name}', not one",
            f"type {{{{ condition {rule} {name} }}}} for the whole condition",
        )
    return f"[{words.number_text(ends[0], symbol)}]({addresses.target(rule_address(lib, rule))})"


def _condition(lib: Library, rule: str, name: str) -> str:
    column, cell = _rule_cell(lib, rule, name)
    return f"[{condition_text(lib, column, cell)}]({addresses.target(rule_address(lib, rule))})"


def _because(lib: Library, rule: str) -> str:
    if rule not in lib.rules:
        raise _unknown("rule", rule, lib.rules)
    return lib.rules[rule].because


def _value(lib: Library, name: str) -> str:
    owner, _, fact = name.rpartition(".")
    kind, _, identifier = owner.partition(".")
    item = lib.items.get((kind, identifier))
    facts = dict(item.facts) if item else {}
    if kind == "medium" and identifier in lib.media:
        facts = {"conductivity": lib.media[identifier].conductivity, **dict(lib.media[identifier].item.facts)}
    elif item is None:
        raise _unknown("record", owner, [".".join(key) for key in lib.items])
    if fact not in facts:
        raise (
            _unknown(f"fact of '{owner}'", fact, facts)
            if facts
            else Unknown(f"'{owner}' has no facts", "take the reference out, or add the fact to its record")
        )
    return facts[fact]


def _count(lib: Library, name: str) -> str:
    counts = {
        "media": len(lib.texts.media),
        "tables": len(lib.texts.tables),
        "cases": len(lib.texts.cases),
        "formulas": len(lib.texts.formulas),
        **{decision.id: len(decision.items) for decision in lib.texts.decisions},
    }
    if name not in counts:
        raise _unknown("collection", name, counts)
    return str(counts[name])


def _table(lib: Library, identifier: str) -> Markup:
    if identifier not in lib.tables:
        raise _unknown("table", identifier, lib.tables)
    return table_block(lib, identifier)


def _formula(lib: Library, identifier: str) -> Markup:
    if identifier not in lib.formula_texts:
        raise _unknown("formula", identifier, lib.formula_texts)
    return formula_block(lib, identifier)


def _candidates(lib: Library, name: str) -> Markup:
    if name not in lib.decision_texts:
        raise _unknown("decision", name, lib.decision_texts)
    decision: DecisionText = lib.decision_texts[name]
    names = tuple(dict.fromkeys(fact for item in decision.items for fact, _ in item.facts))
    return printed(
        "parts/candidates_block.html",
        CandidatesBlock(
            title=decision.title,
            fact_names=tuple(words.capital(words.spelled(fact)) for fact in names),
            candidates=tuple(
                CandidateLine(
                    parts.link(addresses.candidate(name, item.id), item.title),
                    item.about,
                    tuple(dict(item.facts).get(fact, "") for fact in names),
                )
                for item in decision.items
            ),
        ),
    )


def _cautions(lib: Library) -> Markup:
    return cautions_block(lib)


def _worked(lib: Library) -> Library:
    if lib.worked is None:
        raise Unknown(f"the folder guide/{FOLDER} is missing", "add it, or take the reference out")
    return lib.worked


def _worked_table(lib: Library, identifier: str) -> Markup:
    small = _worked(lib)
    if identifier not in small.tables:
        raise _unknown("example table", identifier, small.tables)
    return worked_table(small, small.tables[identifier])


def _worked_formula(lib: Library, identifier: str) -> Markup:
    small = _worked(lib)
    if identifier not in small.formula_texts:
        raise _unknown("example formula", identifier, small.formula_texts)
    return worked_formula(small, small.formula_texts[identifier])


def _worked_case(lib: Library, identifier: str) -> tuple[Library, CaseText]:
    small = _worked(lib)
    cases = {case.id: case for case in small.texts.cases}
    if identifier not in cases:
        raise _unknown("example", identifier, cases)
    return small, cases[identifier]


def _worked_answer(lib: Library, identifier: str, folded: bool = False) -> Markup:
    return worked_answer(*_worked_case(lib, identifier), folded)


def _worked_margins(lib: Library, identifier: str) -> Markup:
    return worked_margins(*_worked_case(lib, identifier))


def _worked_next(lib: Library, identifier: str) -> Markup:
    return worked_next(*_worked_case(lib, identifier))


def _worked_question(lib: Library, identifier: str) -> Markup:
    return _worked_answer(lib, identifier, folded=True)


def _worked_patterns(lib: Library) -> Markup:
    return printed("parts/map_patterns.html", None)


REFERENCES = {
    "title": Reference("title liner.pfa", 1, False, _title),
    "link": Reference("link liner.pfa", 1, False, _link),
    "limit": Reference("limit <rule> <column>", 2, False, _limit),
    "condition": Reference("condition <rule> <column>", 2, False, _condition),
    "because": Reference("because <rule>", 1, False, _because),
    "value": Reference("value size.dn100.nominal_bore", 1, False, _value),
    "count": Reference("count liner", 1, False, _count),
    "table": Reference("table <id>", 1, True, _table),
    "formula": Reference("formula <id>", 1, True, _formula),
    "candidates": Reference("candidates liner", 1, True, _candidates),
    "cautions": Reference("cautions", 0, True, _cautions),
    "worked_patterns": Reference("worked_patterns", 0, True, _worked_patterns),
    "worked_table": Reference("worked_table heat", 1, True, _worked_table),
    "worked_formula": Reference("worked_formula velocity", 1, True, _worked_formula),
    "worked_answer": Reference("worked_answer blank", 1, True, _worked_answer),
    "worked_margins": Reference("worked_margins too_fast_for_small", 1, True, _worked_margins),
    "worked_next": Reference("worked_next next_question", 1, True, _worked_next),
    "worked_question": Reference("worked_question try_first", 1, True, _worked_question),
}
