"""Gives back every fault between records: names that nobody has, that two have, and what does not fit."""

from __future__ import annotations

from collections.abc import Iterable

from generator.problems import Problem
from generator.read import (
    formula_references, medium_references, series_references, table_references, unit_references)
from generator.read.expected import Expected, ExpectedTogether
from generator.read.known import MIXED_WITH, Known, twice
from generator.read.records import Basis, Choice, Input, Item, KnowledgeBase, Word
from generator.read.shown import shown


def check_references(base: KnowledgeBase, incomplete: frozenset[str]) -> list[Problem]:
    """All cross-checks. `incomplete` names the kinds of which not every record could be read."""
    known = Known(base, incomplete)
    return [*_names_given_twice(base, known), *_spellings_given_twice(base), *_bases(base, known),
            *_states(base, known),
            *_inputs(base, known), *_mixtures(base, known), *_decisions(base, known),
            *_expectations((one for case in base.cases for one in case.expect), known),
            *(problem for case in base.cases for pair in case.selection for problem in candidate_faults(*pair, known)),
            *_expectations((one for witness in base.witnesses for one in witness.judge), known),
            *_expectations((one for several in (*base.cases, *base.witnesses) for one in several.together), known),
            *unit_references.check(base, known),
            *table_references.check(base, known), *formula_references.check(base, known),
            *_cautions(base, known),
            *medium_references.check(base, known), *series_references.check(base, known)]


def candidate_faults(decision: Word, candidate: Word, known: Known) -> list[Problem]:
    """An unknown decision, or a candidate that it does not have."""
    problems = known.unknown(decision, known.candidates, "decision", ("decisions",))
    if decision.text in known.candidates:
        problems += known.unknown(candidate, {item.id.text for item in known.candidates[decision.text]},
                                  f"candidate of '{decision}'", ("candidates",))
    return problems


# private

def _cautions(base: KnowledgeBase, known: Known) -> list[Problem]:
    """The conditions of cautions: over inputs and decisions, whose answers a result holds."""
    asked = {one.id.text for one in (*base.inputs, *base.decisions)}
    problems = []
    for cell in (cell for one in base.cautions for cell in one.when):
        unknown = known.unknown(cell.column, asked, "input or decision", ("inputs", "decisions"))
        problems += unknown or (table_references.condition(cell, known) if cell.column.text in asked else [])
    return problems


def _names_given_twice(base: KnowledgeBase, known: Known) -> list[Problem]:
    groups: list[tuple[str, Iterable[Word]]] = [
        ("quantity", (one.id for one in base.quantities)),
        # A table's column is called by the bare id, so these three share one set of names.
        ("input, decision or derived value",
         (one.id for one in (*base.inputs, *base.decisions, *base.derived, *known.figures.values()))),
        ("state", (one.id for one in base.states)),
        ("medium", (one.item.id for one in base.media)),
        ("mixture", (one.id for one in base.mixtures)),
        ("pipe size", (one.id for one in base.pipe_sizes)),
        ("table", (one.id for one in base.tables)),
        ("rule", (*(rule.id for table in base.tables for rule in table.rules),
                  *(one.rule.id for one in known.overlay_rules))),
        ("formula", (one.id for one in base.formulas)),
        ("series", (one.id for one in base.series)),
        ("source", (one.id for one in base.sources)),
        ("caution", (one.id for one in base.cautions)),
        ("reference case", (one.id for one in base.cases)),
        ("starter sheet", (one.id for one in base.starters)),
        ("witness", (one.id for one in base.witnesses)),
        *((f"{one.id}: candidate", (item.id for item in one.items)) for one in base.catalogues),
        *((f"input '{one.id}': choice", (choice.id for choice in one.choices)) for one in base.inputs),
        *((f"medium '{one.item.id}': band", (band.id for band in one.bands)) for one in base.media),
        *((f"formula '{one.id}': symbol or constant", (part.id for part in (*one.symbols, *one.constants)))
          for one in base.formulas),
        *((f"series '{one.id}': column", (column.id for column in one.columns)) for one in base.series)]
    return [problem for what, words in groups for problem in twice(words, what)]


def _spellings_given_twice(base: KnowledgeBase) -> list[Problem]:
    """An answer is understood by id, title or synonym in any capitals; each may mean one option only."""
    lists: list[tuple[Item | Choice, ...]] = [
        *(one.choices for one in base.inputs), *(one.items for one in base.catalogues), base.pipe_sizes,
        tuple(one.item for one in base.media), base.mixtures]
    problems: list[Problem] = []
    for options in lists:
        first: dict[str, tuple[str, Word]] = {}
        for option in options:
            for word in (option.id, option.title, *option.synonyms):
                text = word.text.replace("_", " ") if word is option.id else word.text
                owner, seen = first.setdefault(" ".join(text.lower().split()), (option.id.text, word))
                if owner != option.id.text:
                    problems.append(Problem(word.place, "X004",
                                            f"'{shown(word.text)}' of '{option.id}' also means '{owner}' "
                                            f"({seen.place})", "keep it with one of the two"))
    return problems


def _bases(base: KnowledgeBase, known: Known) -> list[Problem]:
    all_bases: list[Basis | None] = [
        *(item.basis for one in base.catalogues for item in one.items),
        *(one.basis for one in (*base.pipe_sizes, *base.mixtures)),
        *(one.item.basis for one in base.media), *(one.basis for one in base.cautions),
        *(rule.basis for table in base.tables for rule in table.rules),
        *(table.otherwise.basis for table in base.tables if table.otherwise is not None),
        *(one.basis for one in base.formulas), *(one.basis for one in base.series),
        *(column.basis for one in base.series for column in one.columns),
        *(part.basis for one in base.formulas for part in one.constants),
        *(one.rule.basis for one in known.overlay_rules), *(one.basis for one in known.figures.values())]
    return [problem for one in all_bases if one is not None and one.source is not None
            for problem in known.unknown(one.source, known.sources, "source", ("sources",))]


def _states(base: KnowledgeBase, known: Known) -> list[Problem]:
    normal = next((one for one in base.states if one.id.text == "normal"), None)
    if "states" in known.incomplete or not base.states:
        return []
    if normal is None:
        return [Problem(base.states[0].id.place, "X019", "there is no state 'normal'",
                        "add it with measuring: yes; answers for the whole measuring point stand under it")]
    if normal.measuring.text != "yes":
        return [Problem(normal.measuring.place, "X019", "the state 'normal' does not measure",
                        "write measuring: yes")]
    return []


def _inputs(base: KnowledgeBase, known: Known) -> list[Problem]:
    quantities = {one.id.text for one in base.quantities}
    problems: list[Problem] = []
    for asked in base.inputs:
        if asked.quantity is not None:
            problems += known.unknown(asked.quantity, quantities, "quantity", ("quantities",))
        if asked.assumed is not None:
            problems += _assumed(asked, asked.assumed, known)
        if asked.recorded is not None and asked.recorded.text == "yes":
            problems += _recorded(asked, known)
        problems += _mixed(asked, known)
    return problems


def _recorded(asked: Input, known: Known) -> list[Problem]:
    """What the media's records say needs an input that asks for the medium, and a flag that some of them bear."""
    medium = known.inputs.get("medium")
    if medium is None or medium.choices_from is None or medium.choices_from.text != "media":
        return [] if "inputs" in known.incomplete else [Problem(
            asked.recorded.place, "X023", f"'{asked.id}' is recorded, and no input 'medium' chooses from media",
            "add the input `medium` with choices_from: media, or delete `recorded`")]
    if asked.asked_with is None:
        return []
    flags = {flag.text for medium in known.base.media for flag in medium.item.flags}
    return known.unknown(asked.asked_with, flags, "flag of a medium", ("media",))


def _mixed(asked: Input, known: Known) -> list[Problem]:
    """One input alone takes the components of a mixture, and its blank is a medium by itself."""
    mixed = asked.choices_from is not None and asked.choices_from.text == "mixtures"
    wanted = mixed and asked.id.text == MIXED_WITH and asked.recorded is not None \
        and asked.not_applicable is not None
    if wanted and not known.base.mixtures and "mixtures" not in known.incomplete:
        return [Problem(asked.id.place, "X026", f"'{asked.id}' has no kinds of mixture to choose from",
                        "add a file to mixtures/, one without `pair` among them")]
    if (not mixed and asked.id.text != MIXED_WITH) or wanted:
        return []
    return [Problem(asked.id.place, "X025", f"'{asked.id}' is not written as the line for the components of a mixture",
                    f"name it {MIXED_WITH}, with choices_from: mixtures, not_applicable: yes and recorded: yes")]


def _mixtures(base: KnowledgeBase, known: Known) -> list[Problem]:
    """Each kind names two flags of media; one kind without flags is that of all other pairs."""
    flags = {flag.text for medium in base.media for flag in medium.item.flags}
    problems = [problem for kind in base.mixtures for flag in kind.flags
                for problem in known.unknown(flag, flags, "flag of a medium", ("media",))]
    others = [kind.id for kind in base.mixtures if not kind.flags]
    if base.mixtures and len(others) != 1 and "mixtures" not in known.incomplete:
        problems.append(Problem((*others[1:], base.mixtures[0].id)[0].place, "X026",
                                f"{len(others)} kinds of mixture have no `pair`",
                                "keep one without `pair`, which is the kind of every pair that no other covers"))
    return problems


def _assumed(asked: Input, assumed: Word, known: Known) -> list[Problem]:
    options = known.options(asked.id.text)
    if options is None:
        return []
    owner, dot, word = assumed.text.partition(".")
    if not dot:
        return known.unknown(assumed, options.ids, f"choice of input '{asked.id}'", options.kinds)
    words = {name.text for item in known.items(owner) for name, _ in item.words}
    return known.unknown(assumed, {f"{owner}.{name}" for name in words}, "word of a record",
                         ("inputs", "media", "candidates", "pipe_sizes"))


def _decisions(base: KnowledgeBase, known: Known) -> list[Problem]:
    problems = [problem for one in base.decisions
                for problem in known.unknown(one.catalogue, known.catalogues, "catalogue", ("catalogues",))]
    used = {one.catalogue.text for one in base.decisions}
    if not problems and "decisions" not in known.incomplete:
        problems += [Problem(one.id.place, "X020", f"no decision chooses from the catalogue '{one.id}'",
                             "name it in decisions.yml, or delete the folder") for one in base.catalogues
                     if one.id.text not in used]
    return problems


def _expectations(expectations: Iterable[Expected | ExpectedTogether], known: Known) -> list[Problem]:
    problems: list[Problem] = []
    # A rule id that does not begin with its table's id is said there; a case that names it well is right.
    misnamed = {table.id.text for table in known.base.tables for rule in table.rules
                if rule.id.text.partition(".")[0] != table.id.text}
    for expected in expectations:
        pairs = expected.keep if isinstance(expected, ExpectedTogether) else (
            (expected.decision, expected.candidate),)
        problems += [problem for pair in pairs for problem in candidate_faults(*pair, known)]
        if expected.rule is not None and expected.rule.text.partition(".")[0] not in misnamed:
            problems += known.unknown(expected.rule, known.rules, "rule", ("tables", "media", "candidates"))
    return problems
