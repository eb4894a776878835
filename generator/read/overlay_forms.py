"""Gives back the form of each kind of record that only an overlay has."""

from __future__ import annotations

from generator.problems import Problem
from generator.read import forms
from generator.read.forms import NEEDS_BASIS, RULE_KEYS
from generator.read.overlay_records import (Figures, Forbidden, Overlay, OverlayRule, OverlayRules,
                                            SecondReading, Stock)
from generator.read.records import Rule
from generator.read.shape import (Problems, Reader, identifier, list_of, may, must, number, number_with_unit, pairs,
                                  read_keys, record, text, yes_no)
from generator.read.yaml_nodes import Node


_RULE_KEYS = {key: field for key, field in RULE_KEYS.items() if key != "needs"}


def _rule(node: Node, problems: Problems) -> OverlayRule | None:
    found = read_keys(node, "a rule of an overlay", {**_RULE_KEYS, "loosens": may(text)}, problems)
    if found is None:
        return None
    loosens = found.pop("loosens")
    return OverlayRule(Rule(**found, place=node.place), loosens)


def _check_figures(one: Figures, problems: Problems) -> None:
    if not any(row for _, row in one.values):
        problems.append(Problem(one.place, "L016", f"figures '{one.id}' hold no figure", "add one, or delete the file"))


OVERLAY: Reader[Overlay] = record(Overlay, "an overlay", {
    "id": must(identifier), "title": must(text), "about": must(text), "notice": must(text)})

RULES: Reader[OverlayRules] = record(OverlayRules, "an overlay's rules for a table", {
    "table": must(identifier, "liner_temperature"), "rules": must(list_of(_rule, "rules", 1))})

FIGURES: Reader[Figures] = record(Figures, "figures", {
    "id": must(identifier), "title": must(text), "about": must(text),
    "by": must(list_of(identifier, "by", 2, 2), "[size, liner]"),
    "values": must(pairs(identifier, pairs(identifier, number_with_unit(), "values"), "values"),
                   "{ dn100: { pfa: 94 mm } }"),
    "basis": NEEDS_BASIS}, _check_figures)

READING: Reader[SecondReading] = record(SecondReading, "a second reading", {
    "id": must(identifier), "title": must(text), "about": must(text), "rules_of": must(identifier, "size_velocity_max"),
    "instead": must(pairs(identifier, identifier, "instead"), "{ velocity_max: true_velocity_max }"),
    "where_known": must(identifier, "true_bore"), "because": must(text), "basis": NEEDS_BASIS})

FORBIDDEN: Reader[Forbidden] = record(Forbidden, "a forbidden candidate", {
    "decision": must(identifier), "candidate": must(identifier), "reason": must(text), "who": must(text),
    "basis": NEEDS_BASIS})

STOCK: Reader[Stock] = record(Stock, "a line of stock", {
    "decision": must(identifier), "candidate": must(identifier), "in_stock": must(yes_no, "yes"),
    "cost_class": must(number, "1")})

LISTS = {"sources": forms.SOURCE, "derived": forms.DERIVED, "forbidden": FORBIDDEN, "stock": STOCK}
FOLDERS = {"rules": RULES, "figures": FIGURES, "readings": READING, "tables": forms.TABLE, "cases": forms.CASE}
