"""Gives back every fault between an overlay and the base that it is joined to, beside those of any knowledge base."""

from __future__ import annotations

from generator.problems import Problem
from generator.read.known import Known, twice
from generator.read.overlay_records import Figures, Overlay, OverlayRules, SecondReading
from generator.read.records import KnowledgeBase, Word
from generator.read.references import candidate_faults
from generator.read.shown import instead, shown
from generator.read.table_references import rule_faults


def check_overlay(base: KnowledgeBase, whole: KnowledgeBase, overlay: Overlay) -> list[Problem]:
    """`whole` is the base joined with the overlay. Names that are unknown have X codes, what an overlay may not do V."""
    known = Known(whole, frozenset())
    problems = [problem for one in overlay.rules for problem in _rules(one, base, known)]
    problems += [problem for one in overlay.figures for problem in _figures(one, known)]
    problems += [problem for one in overlay.readings for problem in _reading(one, base, known)]
    problems += [problem for one in overlay.stock for problem in candidate_faults(one.decision, one.candidate, known)]
    problems += twice((Word(f"{one.decision} {one.candidate}", one.candidate.place) for one in overlay.stock),
                      "line of stock")
    return problems              # a forbidden candidate has become a rule, and is looked up like any rule's


# private

def _rules(one: OverlayRules, base: KnowledgeBase, known: Known) -> list[Problem]:
    tables = {table.id.text: table for table in base.tables}
    if one.table.text not in tables:
        return known.unknown(one.table, tables, "rule table of the base", ())
    table = tables[one.table.text]
    if table.rules_from is not None:
        return [Problem(one.table.place, "V007", f"the rules of table '{table.id}' come from the letters of the media",
                        "mend the medium's record, or tighten with a table of the overlay's own")]
    return [problem for each in one.rules for problem in rule_faults(table, each.rule, known)]


def _figures(one: Figures, known: Known) -> list[Problem]:
    first, second = one.by
    problems = [problem for word in one.by
                for problem in known.unknown(word, known.candidates, "decision", ())]
    if not problems and first.text == second.text:
        problems = twice(one.by, f"figures '{one.id}': decision")
    if problems:
        return problems
    for outer, row in one.values:
        problems += candidate_faults(first, outer, known)
        problems += [problem for inner, _ in row for problem in candidate_faults(second, inner, known)]
    return problems


def _reading(one: SecondReading, base: KnowledgeBase, known: Known) -> list[Problem]:
    tables = {table.id.text: table for table in base.tables}
    problems = [*known.unknown(one.rules_of, tables, "rule table of the base", ()),
                *known.unknown(one.where_known, known.figures, "record of figures", ())]
    table = tables.get(one.rules_of.text)
    if table is None:
        return problems
    if table.hit_policy.text not in ("unique", "any", "collect") or table.rules_from is not None:
        problems.append(Problem(one.rules_of.place, "V008", f"the rules of table '{table.id}' do not stand for "
                                "themselves: their order or a medium's letters decide", "read another table"))
    pairs = {word.text for each in known.figures.values() if each.id.text == one.where_known.text for word in each.by}
    problems += [Problem(one.rules_of.place, "V008", f"rule '{rule.id}' asks for '{cell.column}' itself, of which the "
                         "figures speak", "read another table")
                 for rule in table.rules for cell in rule.when if cell.column.text in pairs]
    names = [word.text for word in table.inputs]
    for old, new in one.instead:
        if old.text not in names:
            problems.append(Problem(old.place, "X007", f"'{shown(old.text)}' is not an input of table '{table.id}'",
                                    instead(old.text, names, "column")))
        problems += known.unknown(new, known.derived, "derived value", ())
    return problems
