"""Gives back the form of each kind of record: its keys, which of them it needs, and how each value is read.

A form stands below the parts it is made of; the names without an underscore are for `knowledge_base`.
"""

from __future__ import annotations

from dataclasses import dataclass

from generator.problems import Problem
from generator.read.expected import Case, Expected, ExpectedTogether, Witness
from generator.read.records import (
    Band, Basis, Caution, Choice, Constant, Decision, Derived, Edition, Example, Formula, Input, Item,
    Medium, Otherwise, Quantity, Refusal, Rule, Source, Spelling, State, Symbol, Table, Word)
from generator.read.series_form import series_form
from generator.read.series_records import Series
from generator.read.shape import (
    MOST_DIGITS_OF_A_FIGURE, Field, Problems, Reader, day, dotted, identifier, list_of, may, must, number,
    number_with_unit, one_of, or_nothing, pairs, raw,
    read_keys, record, symbol, test, text, when, yes_no)
from generator.read.waiver_records import Waiver
from generator.read.yaml_nodes import Node

BASIS_KINDS = ("standard", "handbook", "physics", "common_practice", "company", "supplier")
_SOME_BASIS, _ONE_KIND = "{kind: ...}", f" with one of {', '.join(BASIS_KINDS)}"
CITING_KINDS = ("standard", "handbook", "company", "supplier")     # name a source, and how it was checked
CHECKED = ("read", "run", "recalled")
VERDICTS = ("suitable", "caution", "unsuitable", "open")
LETTERS = ("A", "C", "X", "O")
ADDRESSEES = ("process", "laboratory", "operations", "piping", "mechanical", "civil", "site", "electrical", "control",
              "safety", "corrosion", "commercial", "supplier")     # each is written one letter
COLLECTIONS = ("media", "mixtures", "pipe_sizes")


@dataclass(frozen=True, slots=True)
class Ordered:
    """A candidate and its place in the committee's order of preference."""

    order: Word
    item: Item


_verdict = one_of("a verdict", *VERDICTS)
_checked = one_of("a way of checking", *CHECKED)
_kind = one_of("a kind of basis", *BASIS_KINDS)
_synonyms = may(list_of(text, "synonyms"), ())
_flags = may(list_of(identifier, "flags"), ())
_notes = may(pairs(identifier, text, "notes"), ())


def _check_basis(basis: Basis, problems: Problems) -> None:
    if basis.kind.text not in CITING_KINDS:
        return
    for key, value, example in (("source", basis.source, "<id of a source>"),
                                ("checked", basis.checked, "recalled")):
        if value is None:
            problems.append(Problem(basis.place, "L011",
                                    f"a basis of kind {basis.kind.text} needs the key '{key}'",
                                    f"add `{key}: {example}`, or change the kind"))


_basis = record(Basis, "a basis", {
    "kind": must(_kind, "...", _ONE_KIND), "checked": may(_checked), "source": may(identifier),
    "clause": may(text),
    "note": may(text)}, _check_basis)
NEEDS_BASIS = _needs_basis = must(_basis, _SOME_BASIS, _ONE_KIND)


def _check_input(asked: Input, problems: Problems) -> None:
    """Each kind of input has keys of its own; the others would be read by nobody."""
    numeric = {"quantity": asked.quantity, "range": asked.range}
    choosing = {"choices": asked.choices or None, "choices_from": asked.choices_from}
    kind = asked.kind.text

    def say(place: object, message: str, fix: str) -> None:
        problems.append(Problem(place, "L012", f"input '{asked.id}' {message}", fix))

    for key, value in {**numeric, **choosing}.items():
        wanted = numeric if kind == "number" else choosing if kind == "choice" else {}
        if value is not None and key not in wanted:
            say(asked.id.place, f"is of kind {kind} and has the key '{key}'",
                f"delete `{key}`, or change the kind")
    if kind == "number":
        for key, value in numeric.items():
            if value is None:
                say(asked.id.place, f"is a number and needs the key '{key}'",
                    "add `quantity: length`" if key == "quantity" else 'add `range: "[0..100]"`')
    if kind == "choice" and sum(value is not None for value in choosing.values()) != 1:
        say(asked.id.place, "is a choice and needs either choices or choices_from",
            "keep `choices: [...]` or `choices_from: media`, not both and not neither")
    recorded = asked.recorded is not None and asked.recorded.text == "yes"
    mixed = asked.choices_from is not None and asked.choices_from.text == "mixtures"
    if recorded and (not (kind == "number" or mixed) or asked.per.text != "state" or asked.assumed is not None):
        say(asked.recorded.place, "is recorded, and only a number or a mixture of each state that is not assumed can be",
            "delete `recorded`")
    if asked.asked_with is not None and not recorded:
        say(asked.asked_with.place, "has the key 'asked_with' and is not recorded", "add `recorded: yes`")
    if asked.safety is not None and asked.safety.text == "yes" and asked.assumed is not None:
        say(asked.assumed.place, "is a safety input and may never be assumed", "delete `assumed`")


def _item(node: Node, problems: Problems, name: str,
          more: dict[str, Field]) -> tuple[Item, Word | None] | None:
    found = read_keys(node, name, {**_ITEM_KEYS, **more}, problems)
    if found is None:
        return None
    order = found.pop("order", None)
    item = Item(**found, place=node.place)
    if item.numbers and item.basis is None:
        problems.append(Problem(item.numbers[0][0].place, "L004",
                                f"{name} with numbers needs the key 'basis'",
                                f"add `basis: {_SOME_BASIS}`{_ONE_KIND}"))
    return item, order


_ITEM_KEYS = {
    "id": must(identifier), "title": must(text), "about": may(text), "basis": may(_basis),
    "synonyms": _synonyms,
    "flags": _flags, "numbers": may(pairs(identifier, number_with_unit(), "numbers"), ()),
    "words": may(pairs(identifier, identifier, "words"), ())}


def _candidate(node: Node, problems: Problems) -> Ordered | None:
    found = _item(node, problems, "a candidate", {"order": must(number, "10")})
    return None if found is None else Ordered(found[1], found[0])


def _pipe_size(node: Node, problems: Problems) -> Item | None:
    found = _item(node, problems, "a pipe size", {})
    return None if found is None else found[0]


def _mixture(node: Node, problems: Problems) -> Item | None:
    found = read_keys(node, "a mixture", _MIXTURE_KEYS, problems)
    return None if found is None else Item(flags=found.pop("pair"), place=node.place, **found)


_MIXTURE_KEYS = {"id": must(identifier), "title": must(text), "about": must(text), "basis": _needs_basis,
                 "pair": may(list_of(identifier, "pair", 2, 2), ())}

_band = record(Band, "a band", {
    "id": must(identifier, "b1"), "concentration": must(test, '"-"'), "up_to": must(number, "40"),
    "letters": must(pairs(identifier, one_of("a letter of the media tables", *LETTERS), "letters"),
                    "{ pfa: A }"),
    "notes": _notes})


def _medium(node: Node, problems: Problems) -> Medium | None:
    found = read_keys(node, "a medium", _MEDIUM_KEYS, problems)
    if found is None:
        return None
    service = found["usual_service"]
    item = Item(found["id"], found["title"], node.place, found["basis"], found["about"], found["synonyms"],
                found["flags"],
                words=((Word("usual_service", service.place), service),))
    return Medium(item, found["composition"], found["cas"], found["conductivity"], found["notes"],
                  found["bands"],
                  found["permeants"])


_MEDIUM_KEYS = {
    "id": must(identifier), "title": must(text), "synonyms": _synonyms, "cas": may(text),
    "composition": must(text),
    "conductivity": may(list_of(number, "conductivity", 2, 2), ()), "flags": _flags,
    "permeants": may(list_of(text, "permeants"), ()), "usual_service": must(identifier, "clean"),
    "about": may(text),
    "basis": _needs_basis, "notes": _notes, "bands": may(list_of(_band, "bands"), ())}

def _check_rule(rule: Rule, problems: Problems) -> None:
    if rule.needs is not None and rule.then.text != "open":
        problems.append(Problem(rule.needs.place, "L012", f"rule '{rule.id}' is not open and has the key 'needs'",
                                "delete `needs`: only an open verdict waits for something"))


RULE_KEYS = {
    "id": must(dotted), "when": must(when, '{ temperature_max: "<= 40" }'),
    "then": must(_verdict, "unsuitable"),
    "because": must(text), "basis": _needs_basis, "needs": may(one_of("what an open verdict waits for", "supplier_data"))}
_rule = record(Rule, "a rule", RULE_KEYS, _check_rule)

_otherwise = record(Otherwise, "`otherwise`", {
    "verdict": must(_verdict, "open"), "because": must(text), "basis": may(_basis)})

_symbol = record(Symbol, "a symbol", {
    "id": must(identifier), "title": must(text), "letter": must(text), "unit": must(text, "m/s"),
    "range": must(test, '"[0..100]"')})

_constant = record(Constant, "a constant", {
    "id": must(identifier), "title": must(text), "letter": must(text),
    "value": must(number_with_unit(), "25 degC"),
    "basis": _needs_basis})

_example = record(Example, "an example", {
    "given": must(pairs(identifier, number_with_unit(), "given"), "{ flow: 36 m3/h }"),
    "result": must(number_with_unit(MOST_DIGITS_OF_A_FIGURE), "1.27 m/s"),
    "tolerance": must(number, "1e-6"), "source": must(text), "worked": must(text)})

_expected = record(Expected, "an expectation", {
    "decision": must(identifier), "candidate": must(identifier), "verdict": must(_verdict, "unsuitable"),
    "rule": may(dotted), "because": may(text)})


def _check_kept(together: ExpectedTogether, problems: Problems) -> None:
    if not together.keep:
        problems.append(Problem(together.place, "L016", "`keep` needs 1 or more members, but has 0",
                                "write keep: {decision: candidate, ...}, or delete this expectation"))


_keep = must(pairs(identifier, identifier, "keep"), "{ electrode_material: titanium, ring_material: titanium }")
_together = record(ExpectedTogether, "an expectation of candidates together", {
    "keep": _keep, "verdict": must(_verdict, "unsuitable"), "rule": may(dotted), "because": may(text)}, _check_kept)

EDITION: Reader[Edition] = record(Edition, "the edition", {
    "company": must(text), "title": must(text), "edition": must(text), "notice": must(text),
    "repository": may(text), "overlay": may(text)})

QUANTITY: Reader[Quantity] = record(Quantity, "a quantity", {
    "id": must(identifier), "title": must(text), "unit": must(text, "mm"), "symbol": must(symbol, "mm"),
    "spellings": must(list_of(record(Spelling, "a spelling", {
        "text": must(text, "mm"), "pint": must(text, "millimeter"), "note": may(text)}), "spellings", 1),
        "[{ text: mm, pint: millimeter }]"),
    "refused": may(list_of(record(Refusal, "a refused spelling", {
        "text": must(text), "ask": must(text)}), "refused"), ())})

INPUT: Reader[Input] = record(Input, "an input", {
    "id": must(identifier), "title": must(text),
    "kind": must(one_of("a kind of input", "number", "choice", "yes_no"), "number"),
    "per": must(one_of("application or state", "application", "state"), "state"), "group": must(text),
    "help": must(text),
    "asked_of": must(one_of("one of those who are asked", *ADDRESSEES), "process"), "blank": must(text), "quantity": may(identifier),
    "range": may(test),
    "choices": may(list_of(record(Choice, "a choice", {
        "id": must(identifier), "title": must(text), "synonyms": _synonyms,
        "words": may(pairs(identifier, identifier, "words"), ())}), "choices", 1), ()),
    "choices_from": may(one_of("a collection that can be chosen from", *COLLECTIONS)),
    "not_applicable": may(yes_no),
    "safety": may(yes_no), "assumed": may(text), "recorded": may(yes_no),
    "asked_with": may(identifier), "first": may(yes_no)}, _check_input)

STATE: Reader[State] = record(State, "a state", {
    "id": must(identifier), "title": must(text), "measuring": must(yes_no, "no"), "help": must(text)})

DECISION: Reader[Decision] = record(Decision, "a decision", {
    "id": must(identifier), "title": must(text), "catalogue": must(identifier, "liners"),
    "question": must(text),
    "about": must(text)})

CANDIDATE: Reader[Ordered] = _candidate

PIPE_SIZE: Reader[Item] = _pipe_size

MEDIUM: Reader[Medium] = _medium

MIXTURE: Reader[Item] = _mixture

TABLE: Reader[Table] = record(Table, "a rule table", {
    "id": must(identifier), "title": must(text), "about": must(text),
    "hit_policy": must(one_of("a hit policy", "unique", "any", "first", "priority", "collect"), "unique"),
    "while": must(one_of("always or measuring", "always", "measuring"), "always"),
    "inputs": must(list_of(identifier, "inputs", 1), "[liner, temperature_max]"),
    "rules": may(list_of(_rule, "rules"), ()), "rules_from": may(one_of("a source of rules", "media")),
    "otherwise": may(_otherwise), "safety": may(yes_no)})

FORMULA: Reader[Formula] = record(Formula, "a formula", {
    "id": must(identifier), "title": must(text), "about": must(text), "letter": must(text),
    "unit": must(text, "m/s"),
    "symbols": must(list_of(_symbol, "symbols", 1)), "constants": may(list_of(_constant, "constants"), ()),
    "expression": must(text), "validity": must(text), "accuracy": must(text), "trap": must(text),
    "basis": _needs_basis,
    "examples": must(list_of(_example, "examples", 1)), "subject": may(text), "calculator": may(yes_no)})

SERIES: Reader[Series] = series_form(_basis, _needs_basis)

DERIVED: Reader[Derived] = record(Derived, "a derived value", {
    "id": must(identifier), "title": must(text), "formula": must(identifier),
    "with": must(pairs(identifier, text, "with"), "{ flow: flow_max }"), "range": must(test, '"[0..100]"')})

SOURCE: Reader[Source] = record(Source, "a source", {
    "id": must(identifier), "title": must(text), "kind": must(_kind, "handbook"), "edition": must(text),
    "checked": must(_checked, "recalled"), "about": must(text)})

CAUTION: Reader[Caution] = record(Caution, "a caution",
                                  {"id": must(identifier), "text": must(text), "basis": _needs_basis,
                                   "kind": may(one_of("a kind of caution", "caution", "hand_over")),
                                   "when": may(when, ())})

CASE: Reader[Case] = record(Case, "a reference case", {
    "id": must(identifier), "title": must(text), "story": must(text),
    "application": must(pairs(identifier, raw, "application"), "{ normal: { medium: seawater } }"),
    "expect": must(list_of(_expected, "expect", 1)),
    "selection": may(pairs(identifier, identifier, "selection"), ()),
    "together": may(list_of(_together, "together", 1), ())})

STARTER: Reader[Case] = record(Case, "a starter sheet", {
    "id": must(identifier), "title": must(text), "story": must(text),
    "application": must(pairs(identifier, raw, "application"), "{ normal: { medium: seawater } }")})

_judgement = record(Expected, "a judgement", {
    "decision": must(identifier), "candidate": must(identifier),
    "verdict": must(or_nothing(_verdict), "unsuitable"), "because": must(or_nothing(text)), "rule": may(dotted)})
_judged_together = record(ExpectedTogether, "a judgement of candidates together", {
    "keep": _keep, "verdict": must(or_nothing(_verdict), "unsuitable"), "because": must(or_nothing(text)),
    "rule": may(dotted)}, _check_kept)

WITNESS: Reader[Witness] = record(Witness, "a witness", {
    "id": must(identifier), "title": must(text),
    "application": must(pairs(identifier, raw, "application"), "{ normal: { medium: seawater } }"),
    "judge": may(list_of(_judgement, "judge", 1), ()), "approver": must(or_nothing(text)),
    "together": may(list_of(_judged_together, "together", 1), ())})

WAIVER: Reader[Waiver] = record(Waiver, "a waiver", {
    "finding": must(text), "reason": must(text), "approver": must(text), "until": must(day, "2026-12-31")})
