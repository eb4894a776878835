"""Gives back faults of rule tables: columns, conditions and rule ids that do not fit what the table reads."""

from __future__ import annotations

from generator.problems import Problem
from generator.read.known import BUILT_IN_RULES, MIXED_WITH, NOT_APPLICABLE, Known, Options, twice
from generator.read.records import Cell, KnowledgeBase, Rule, Table, Word
from generator.read.shown import instead, nearest, shown

MOST_DECISIONS = 3
_COLUMN_KINDS = ("inputs", "decisions", "derived")
_CHEMISTRY = ("medium", "concentration", "temperature_max")     # what the bands of a medium are about
_ANY = "-"


def check(base: KnowledgeBase, known: Known) -> list[Problem]:
    """All tables, each with its rules and their conditions."""
    return [problem for table in base.tables for problem in (
        *_table(table, known), *(fault for rule in table.rules for fault in rule_faults(table, rule, known)))]


def rule_faults(table: Table, rule: Rule, known: Known) -> list[Problem]:
    """What does not fit between one rule and the table that it is for."""
    problems = _rule_id(table, rule)
    if table.hit_policy.text == "collect" and rule.then.text == "suitable":
        problems.append(Problem(rule.then.place, "X011",
                                f"rule '{rule.id}' of a collect table gives suitable",
                                "write caution, unsuitable or open; a collect table only takes away"))
    return [*problems, *(problem for cell in rule.when for problem in _cell(table, cell, known))]


def condition(cell: Cell, known: Known) -> list[Problem]:
    """What is wrong with one condition on a column that there is."""
    options = known.options(cell.column.text)
    return _number_cell(cell, known) if options is None else _choice_cell(cell, options, known)


# private

def _table(table: Table, known: Known) -> list[Problem]:
    names = [word.text for word in table.inputs]
    problems = twice(table.inputs, f"table '{table.id}': column")
    for word in table.inputs:
        problems += known.unknown(word, known.columns(), "input, decision or derived value", _COLUMN_KINDS)
    chosen = [name for name in names if name in known.candidates]
    if not 1 <= len(chosen) <= MOST_DECISIONS and not known.incomplete.intersection(_COLUMN_KINDS):
        problems.append(Problem((*table.inputs, table.id)[0].place, "X010",
                                f"table '{table.id}' names {len(chosen)} decisions",
                                f"name 1 to {MOST_DECISIONS} decisions among its inputs, such as liner"))
    if table.hit_policy.text == "collect" and table.otherwise is not None:
        problems.append(Problem(table.otherwise.place, "X011",
                                f"table '{table.id}' collects and has `otherwise`",
                                "delete `otherwise`; a collect table has no effect where no rule matches"))
    for word in table.inputs:
        asked = known.inputs.get(word.text)
        if asked is not None and asked.recorded is not None and asked.recorded.text == "yes" \
                and table.hit_policy.text != "collect":
            problems.append(Problem(word.place, "X024",
                                    f"table '{table.id}' reads '{word}', which a medium's record may say, and "
                                    f"its hit policy is {table.hit_policy}",
                                    "write hit_policy: collect; a blank then has no effect where the record says it"))
    alone = next((word for word in table.inputs if word.text in _CHEMISTRY[:2]), None)
    if MIXED_WITH in names and alone is not None:
        problems.append(Problem(alone.place, "X027",
                                f"table '{table.id}' reads a pair of components, and '{alone}' of one of them",
                                f"take {alone} out, or make two tables of it"))
    if not table.rules and table.rules_from is None and "tables" not in known.incomplete:
        problems.append(Problem(table.id.place, "X013", f"table '{table.id}' has no rules",
                                "add `rules:` with one rule or more"))
    if table.rules_from is not None:
        problems += _chemistry(table, table.rules_from, names, chosen, known)
    return problems


def _chemistry(table: Table, asked: Word, names: list[str], chosen: list[str], known: Known) -> list[Problem]:
    missing = [name for name in _CHEMISTRY if name not in names]
    problems = [Problem(asked.place, "X012",
                        f"table '{table.id}' takes rules of the media and has no column '{name}'",
                        f"add {name} to its inputs") for name in missing]
    if len(chosen) > 1:
        problems.append(Problem(asked.place, "X012",
                                f"table '{table.id}' takes rules of the media and names {len(chosen)} decisions",
                                "keep one decision; a letter belongs to one material"))
    return problems


def _rule_id(table: Table, rule: Rule) -> list[Problem]:
    prefix, _, reason = rule.id.text.partition(".")
    if prefix != table.id.text:
        return [Problem(rule.id.place, "X005",
                        f"the rule id '{shown(rule.id.text)}' does not begin with its table's id",
                        f"write {table.id}.{reason}")]
    if reason in BUILT_IN_RULES:
        return [Problem(rule.id.place, "X006",
                        f"the rule id '{shown(rule.id.text)}' is one that the compiler gives",
                        "name the rule for its reason")]
    return []


def _cell(table: Table, cell: Cell, known: Known) -> list[Problem]:
    column = cell.column.text
    names = [word.text for word in table.inputs]
    if column not in names:
        near = nearest(column, names)
        fix = f"did you mean '{near}'?" if near else f"add {shown(column)} to the inputs, or delete this condition"
        return [Problem(cell.column.place, "X007", f"'{shown(column)}' is not an input of table '{table.id}'",
                        fix)]
    if column not in known.columns():
        return []                    # said once, where the table lists its inputs
    return condition(cell, known)


def _number_cell(cell: Cell, known: Known) -> list[Problem]:
    if cell.items is not None:
        return [Problem(cell.place, "X008", f"'{cell.column}' is a number and has a list here",
                        'write a test in double quotes: "<= 40"')]
    return _not_applicable(cell.test, cell,
                           known) if cell.test is not None and cell.test.text == NOT_APPLICABLE else []


def _choice_cell(cell: Cell, options: Options, known: Known) -> list[Problem]:
    if cell.items is not None:
        problems = twice(cell.items, f"'{cell.column}': choice")
        return problems + [problem for word in cell.items for problem in _choice(word, cell, options, known)]
    word = cell.test
    if word is None or word.text == _ANY:
        return []
    problems = _choice(word, cell, options, known)
    if problems or word.text == NOT_APPLICABLE or _flag(word.text) is not None:
        return problems
    return [Problem(word.place, "X008", f"'{cell.column}' is a choice and has no list here",
                    f"write [{shown(word.text)}]")]


def _choice(word: Word, cell: Cell, options: Options, known: Known) -> list[Problem]:
    if word.text == NOT_APPLICABLE:
        return _not_applicable(word, cell, known)
    flag = _flag(word.text)
    if flag is None:
        return known.unknown(word, options.ids, f"choice of '{cell.column}'", options.kinds)
    if flag in options.flags or known.incomplete.intersection(options.kinds):
        return []
    return [Problem(word.place, "X003", f"no choice of '{cell.column}' has the flag '{shown(flag)}'",
                    instead(flag, options.flags, "flag"))]


def _flag(text: str) -> str | None:
    """The flag in `with flag` or `without flag`."""
    before, space, flag = text.partition(" ")
    return flag if space and before in ("with", "without") else None


def _not_applicable(word: Word, cell: Cell, known: Known) -> list[Problem]:
    asked = known.inputs.get(cell.column.text)
    if asked is not None and asked.not_applicable is not None and asked.not_applicable.text == "yes":
        return []
    return [Problem(word.place, "X009", f"'{cell.column}' can never be answered with `not applicable`",
                    "delete the condition, or write not_applicable: yes at the input")]
