"""Gives back a company's overlay from its folder, and the knowledge base joined with it.

Joining is done on records: forbidden candidates and second readings become rule tables like any other, which can only
take away; rules for tables of the base wait for the compiler, which cuts the base's boxes. The base's witnesses pin the
base and are left out.
"""

from __future__ import annotations

import re
from collections.abc import Mapping as Files
from dataclasses import replace
from functools import lru_cache

from generator.problems import Place, Problem
from generator.read.overlay_forms import FOLDERS, LISTS, OVERLAY
from generator.read.overlay_records import Figures, Forbidden, Overlay, SecondReading
from generator.read.records import Cell, KnowledgeBase, Rule, Table, Word
from generator.read.shape import Reader, list_of
from generator.read.shown import instead
from generator.read.yaml_nodes import compose


def read_overlay(files: Files[str, bytes], prefix: str) -> tuple[Overlay | None, list[Problem]]:
    """The overlay of a folder; `files` maps a path below it to its bytes. Nothing where there is a problem."""
    problems: list[Problem] = []
    parts: dict[str, list[object]] = {name: [] for name in (*LISTS, *FOLDERS)}
    head: Overlay | None = None
    if "overlay.yml" not in files:
        problems.append(Problem(Place(f"{prefix}/overlay.yml"), "L002", "the file is missing",
                                "add it with id, title, about and notice"))
    for name in sorted(files):
        folder, slash, file = name.partition("/")
        kind = folder if slash else name.removesuffix(".yml")
        if name == "overlay.yml":
            kind = "overlay"
        elif not name.endswith(".yml") or kind not in (FOLDERS if slash else LISTS) or "/" in file:
            known = ["overlay.yml", *(f"{one}.yml" for one in LISTS), *(f"{one}/<id>.yml" for one in FOLDERS)]
            problems.append(Problem(Place(f"{prefix}/{name}"), "L001", "no record of an overlay is kept in a file of "
                                    "this name", instead(name, known, "file")))
            continue
        made, found = _read_file(kind, f"{prefix}/{name}", files[name])
        problems += found
        if kind == "overlay":
            head = made
        elif made is not None:
            parts[kind] += made if isinstance(made, tuple) else (made,)
    if problems or head is None:
        return None, sorted(set(problems))
    return replace(head, **{kind: tuple(found) for kind, found in parts.items()}), []


def joined(base: KnowledgeBase, overlay: Overlay) -> KnowledgeBase:
    """Base and overlay as one knowledge base, to be cross-checked and compiled like any other."""
    tables = {table.id.text: table for table in base.tables}
    figures = {one.id.text: one for one in overlay.figures}
    made = [_second_reading(one, tables[one.rules_of.text], figures[one.where_known.text]) for one in overlay.readings
            if one.rules_of.text in tables and one.where_known.text in figures
            and tables[one.rules_of.text].rules_from is None]
    return replace(
        base, sources=(*base.sources, *overlay.sources), derived=(*base.derived, *overlay.derived),
        tables=(*base.tables, *overlay.tables, *made, *_forbidden_tables(overlay)),
        cases=(*base.cases, *overlay.cases), witnesses=(), overlay=overlay)


# private

@lru_cache(maxsize=256)
def _read_file(kind: str, path: str, data: bytes) -> tuple[object | None, tuple[Problem, ...]]:
    node, faults = compose(path, data)
    if node is None:
        return None, tuple(faults)
    problems: list[Problem] = []
    reader: Reader[object] = (OVERLAY if kind == "overlay" else list_of(LISTS[kind], f"{kind}.yml") if kind in LISTS
                              else FOLDERS[kind])
    made = reader(node, problems)
    named = {fault.place for fault in faults}
    return made, (*faults, *(problem for problem in problems if problem.place not in named))


def _forbidden_tables(overlay: Overlay) -> list[Table]:
    """A table per decision of which the company forbids candidates, with a rule for each."""
    by_decision: dict[str, list[Forbidden]] = {}
    for one in overlay.forbidden:
        by_decision.setdefault(one.decision.text, []).append(one)
    made = []
    for decision, several in by_decision.items():
        at = several[0].place
        name = f"forbidden_{decision}"
        rules = tuple(Rule(
            Word(f"{name}.{one.candidate}", one.candidate.place), one.place,
            (Cell(one.decision, one.place, items=(one.candidate,)),), Word("unsuitable", one.place),
            replace(one.reason, text=f"{one.reason} Forbidden by {one.who}."), one.basis) for one in several)
        made.append(Table(
            Word(name, at), at, Word(f"Forbidden by {overlay.title}: {decision.replace('_', ' ')}", at),
            Word("The company does not buy these candidates, whatever the point.", at), Word("collect", at),
            Word("always", at), (several[0].decision,), rules))
    return made


def _second_reading(one: SecondReading, table: Table, figures: Figures) -> Table:
    """The base table's rules that are less than suitable, on other columns, once for each set of sizes that some
    candidates share: only pairs with a figure are read."""
    columns = {old.text: new for old, new in one.instead}
    pairs: dict[tuple[Word, ...], list[Word]] = {}
    inner: dict[str, list[Word]] = {}
    words: dict[str, Word] = {}
    for outer, row in figures.values:
        for candidate, _ in row:
            inner.setdefault(candidate.text, []).append(outer)
            words.setdefault(candidate.text, candidate)
    for candidate, outers in inner.items():
        pairs.setdefault(tuple(outers), []).append(words[candidate])
    first, second = figures.by
    at = one.place
    inputs = [columns.get(word.text, word) for word in table.inputs]
    inputs = [*(word for word in (first, second) if word.text not in {each.text for each in inputs}), *inputs]
    rules = []
    for rule in table.rules:
        if rule.then.text == "suitable":
            continue
        reason = rule.id.text.partition(".")[2]
        cells = tuple(replace(cell, column=replace(columns[cell.column.text], place=cell.column.place))
                      if cell.column.text in columns else cell for cell in rule.when)
        for outers, candidates in pairs.items():
            known = tuple(Cell(word, at, items=tuple(names)) for word, names in ((first, outers), (second, candidates)))
            group = ".".join(("", *(["_".join(word.text for word in candidates)] if len(pairs) > 1 else [])))
            name = f"{one.id}.{reason}{group.rstrip('.')}"
            rules.append(Rule(Word(name, rule.id.place), at, (*known, *cells), rule.then,
                              replace(one.because, text=f"{one.because} {rule.because}"), one.basis))
    return Table(one.id, at, one.title, one.about, Word("collect", at), table.while_, tuple(inputs), tuple(rules),
                 safety=table.safety)
