"""Gives back one rule table as the engines read it, with the texts of its rules and its findings."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass

from generator.boxes.sets import AxisSet, Box, ChoiceAxis, Choices, is_empty, whole
from generator.boxes.words import describe
from generator.compile.cells import cell_set
from generator.compile.chemistry import BandSets, letter_rules
from generator.compile.completeness import OTHERWISE, Finding, Remainder, Ruled, complete
from generator.compile.inputs import Column
from generator.compile.overlay_rules import LOOSENS, Ground, lay_over, otherwise_last
from generator.compile.wording import basis_text
from generator.pack import model
from generator.pack.model import VERDICTS, ChoiceCell, Interval, NumberCell
from generator.pack.overlay_texts import ChangeText
from generator.pack.texts import BasisText, RuleText
from generator.problems import Problem
from generator.read.overlay_records import OverlayRule
from generator.read.records import Medium, Rule, Table, Word

NO_VALUE = "no_value"
MOST_DECISIONS = 3
_BUILT_IN = BasisText(
    "common_practice", note="Built into the guide: what its rules do not cover is never suitable.")


@dataclass(frozen=True, slots=True)
class CompiledTable:
    """A table without problems of its own; `findings` still have to be waived or told."""

    table: model.Table
    rules: tuple[RuleText, ...]
    findings: tuple[Finding, ...]
    changes: tuple[ChangeText, ...] = ()


def compile_table(
        record: Table, columns: Mapping[str, Column], decisions: tuple[str, ...], media: tuple[Medium, ...],
        bands: dict[str, dict[str, BandSets]], laid: tuple[OverlayRule, ...] = ()) -> CompiledTable | list[Problem]:
    """The table, complete and disjoint, or all problems of its record; `columns` has all that it reads, `laid` are an
    overlay's rules for it."""
    problems = _shape(record)
    names = tuple(name.text for name in record.inputs)
    mine = tuple(columns[name] for name in names)
    named = {decision for column in mine for decision in column.decisions}
    if len(named) > MOST_DECISIONS:
        return [Problem(
            record.inputs[0].place, "C017",
            f"table '{record.id}' needs the candidates of {len(named)} decisions, "
            "those of its derived values among them", f"at most {MOST_DECISIONS} can be judged together")]
    rows, told = _author_rules(record.id, record.rules, "author", names, mine, problems)
    if record.rules_from is not None:
        decision, choosing = next((name, column) for name, column in zip(names, mine, strict=True)
                                  if column.source == "decision")
        domains = tuple(column.domain for column in mine)
        chemical, letters = letter_rules(record.id.text, names, domains, decision, media,
                                         dict(choosing.words.titles), bands)
        rows, told = (*rows, *chemical), (*told, *letters)
    if problems:
        return problems
    axes = tuple(column.domain.axis for column in mine)
    words = tuple(column.words for column in mine)
    full, findings = complete(
        record.id.text, record.place, record.hit_policy.text, axes, rows, _remainder(record),
        lambda box: describe(axes, box, words),
        tuple(at for at, column in enumerate(mine) if column.source == "decision"))
    changes: tuple[ChangeText, ...] = ()
    if laid:
        over = _laid_over(record, laid, names, mine, full, told, lambda box: describe(axes, box, words))
        if isinstance(over, list):
            return over
        full, told, changes = over
    policy = "collect" if record.hit_policy.text == "collect" else "unique"
    table = model.Table(record.id.text, policy, record.while_.text == "always",
                        tuple(name for name in decisions if name in named), *_indexed(names, mine, full))
    return CompiledTable(table, (*told, *_built_in(record, mine, full)), findings, changes)


def cell_of(one: AxisSet) -> NumberCell | ChoiceCell:
    """A set that is not empty, as the engines read it."""
    assert not is_empty(one)
    if isinstance(one, Choices):
        return ChoiceCell(one.ids)
    return NumberCell(
        tuple(Interval(span.low, span.low_in, span.high, span.high_in) for span in one.spans), one.absent)


# private

def _shape(record: Table) -> list[Problem]:
    """What is wrong with the table as a whole."""
    problems = []
    if record.otherwise is not None and record.otherwise.verdict.text == "suitable":
        problems.append(Problem(
            record.otherwise.verdict.place, "C018", f"`otherwise` of table '{record.id}' gives suitable, "
            "but what no rule covers is never suitable",
            "write open, and a rule for what is known to be suitable"))
    return problems


def _laid_over(record: Table, laid: tuple[OverlayRule, ...], names: tuple[str, ...], columns: tuple[Column, ...],
               full: tuple[Ruled, ...], told: tuple[RuleText, ...], tell: Callable[[Box], str],
               ) -> tuple[tuple[Ruled, ...], tuple[RuleText, ...], tuple[ChangeText, ...]] | list[Problem]:
    """The table's rows and texts with the overlay's, and what the overlay changes in words."""
    problems: list[Problem] = []
    rows, texts = _author_rules(record.id, tuple(one.rule for one in laid), "overlay", names, columns, problems)
    if problems:
        return problems
    bases = {one.rule: one.basis for one in told}
    if record.otherwise is not None and record.otherwise.basis is not None:
        bases[f"{record.id}.{OTHERWISE}"] = basis_text(record.otherwise.basis)
    ground = Ground(
        record.id.text, record.hit_policy.text == "collect", record.safety is not None and record.safety.text == "yes",
        tuple(column.domain.axis for column in columns), full, bases,
        frozenset(rule.id.text for rule in record.rules if rule.needs is not None), tell)
    over = lay_over(ground, tuple(zip(rows, laid, strict=True)))
    if isinstance(over, list):
        return over
    reasons = {one.rule.id.text: one.loosens.text for one in laid if one.loosens is not None}
    because = {one.rule: one.because for one in told}
    left_over = record.otherwise.because.text if record.otherwise is not None else ""
    changes = tuple(ChangeText(
        one.kind, record.id.text, one.rule, VERDICTS[one.verdict], one.base, VERDICTS[one.before],
        because.get(one.base, left_over if one.base else ""), bases.get(one.base, _BUILT_IN),
        tuple(map(tell, one.regions)), reasons.get(one.rule, "") if one.kind == LOOSENS else "",
        tuple((columns[at].domain.name, region[at].ids) for region in one.regions for at in range(len(columns))
              if columns[at].source == "decision" and isinstance(region[at], Choices))) for one in over[1])
    return otherwise_last(over[0], record.id.text), (*texts, *told), changes


def _author_rules(table: Word, rules: tuple[Rule, ...], origin: str, names: tuple[str, ...],
                  columns: tuple[Column, ...],
                  problems: list[Problem]) -> tuple[tuple[Ruled, ...], tuple[RuleText, ...]]:
    rows: list[Ruled] = []
    told: list[RuleText] = []
    for rule in rules:
        picked: dict[str, AxisSet] = {
            name: whole(column.domain.axis) for name, column in zip(names, columns, strict=True)}
        for cell in rule.when:
            found = cell_set(cell, columns[names.index(cell.column.text)].domain)
            if isinstance(found, Problem):
                problems.append(found)
            else:
                picked[cell.column.text] = found
        box: Box = tuple(picked[name] for name in names)
        rows.append(Ruled(rule.id.text, VERDICTS.index(rule.then.text), box, rule.place))
        told.append(RuleText(
            rule.id.text, table.text, origin, rule.because.text, basis_text(rule.basis),
            rule.place.file, rule.place.line))
    return tuple(rows), tuple(told)


def _remainder(record: Table) -> Remainder | None:
    if record.otherwise is None:
        return None
    return Remainder(VERDICTS.index(record.otherwise.verdict.text), record.otherwise.place)


def _built_in(record: Table, columns: tuple[Column, ...], rows: tuple[Ruled, ...]) -> tuple[RuleText, ...]:
    """The texts of `otherwise` and of a derived value without a value, where the table can come to them."""
    told: list[RuleText] = []
    name = f"{record.id}.{OTHERWISE}"
    if any(row.rule == name for row in rows):
        given = record.otherwise
        because = given.because.text if given else "No rule covers this; the gap is waived for a time."
        basis = basis_text(given.basis) if given and given.basis else _BUILT_IN
        place = given.place if given else record.place
        told.append(RuleText(name, record.id.text, OTHERWISE, because, basis, place.file, place.line))
    derived = " or the ".join(column.words.title for column in columns if column.source == "derived")
    if derived:
        told.append(RuleText(f"{record.id}.{NO_VALUE}", record.id.text, NO_VALUE,
                             f"No value for the {derived}: the answers lie outside what its formula is valid for.",
                             _BUILT_IN, record.place.file, record.place.line))
    return tuple(told)


def _indexed(names: tuple[str, ...], columns: tuple[Column, ...],
             rows: tuple[Ruled, ...]) -> tuple[tuple[model.Column, ...], tuple[model.Row, ...]]:
    """Columns with their distinct cells in order of first use, and rows that point at them; -1 is any."""
    places: list[dict[AxisSet, int]] = [{} for _ in columns]
    made: list[model.Row] = []
    for row in rows:
        cells = tuple(-1 if one == whole(column.domain.axis) else known.setdefault(one, len(known))
                      for one, column, known in zip(row.box, columns, places, strict=True))
        made.append(model.Row(row.rule, row.verdict, cells))
    indexed = tuple(
        model.Column(name, "choice" if isinstance(column.domain.axis, ChoiceAxis) else "number",
                     column.source, tuple(map(cell_of, known)))
        for name, column, known in zip(names, columns, places, strict=True))
    return indexed, tuple(made)
