"""Gives back the names that one record may use of another: inputs, candidates, formulas, units, rules."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from functools import cached_property

from generator.problems import Problem
from generator.read.overlay_records import Figures
from generator.read.records import Choice, Derived, Formula, Input, Item, KnowledgeBase, Source, Table, Word
from generator.read.shown import instead, shown

NOT_APPLICABLE = "not applicable"
MIXED_WITH = "mixed_with"            # the input that takes the components of a mixture
BUILT_IN_RULES = ("otherwise", "no_value")


class Known:
    """Looks names up in a knowledge base; where a kind could not be read whole, nothing of it is unknown."""

    def __init__(self, base: KnowledgeBase, incomplete: frozenset[str]) -> None:
        self.base = base
        self.inputs: dict[str, Input] = {one.id.text: one for one in base.inputs}
        self.derived: dict[str, Derived] = {one.id.text: one for one in base.derived}
        self.formulas: dict[str, Formula] = {one.id.text: one for one in base.formulas}
        self.sources: dict[str, Source] = {one.id.text: one for one in base.sources}
        self.tables: dict[str, Table] = {one.id.text: one for one in base.tables}
        overlay = base.overlay
        self.overlay_rules = tuple(rule for one in overlay.rules for rule in one.rules) if overlay else ()
        self.figures: dict[str, Figures] = {one.id.text: one for one in overlay.figures} if overlay else {}
        catalogues = {one.id.text: one.items for one in base.catalogues}
        self.catalogues = catalogues
        self.candidates: dict[str, tuple[Item, ...]] = {
            one.id.text: catalogues.get(one.catalogue.text, ()) for one in base.decisions}
        # A typing mistake in the name of one catalogue must not make every candidate in it unknown.
        unsure = incomplete.intersection(("decisions", "catalogues")) or any(
            one.catalogue.text not in catalogues for one in base.decisions)
        self.incomplete = incomplete | {"candidates"} if unsure else incomplete
        self.units = {spelling.text.text for one in base.quantities for spelling in one.spellings}

    def columns(self) -> set[str]:
        """The names that a table's column may have."""
        return {*self.inputs, *self.candidates, *self.derived}

    def options(self, column: str) -> Options | None:
        """What can be chosen in a choice column; None for a number column and for an unknown one."""
        if column in self.candidates:
            return Options.of_items(self.candidates[column], ("candidates",))
        asked = self.inputs.get(column)
        if asked is None or asked.kind.text == "number":
            return None
        if asked.kind.text == "yes_no":
            return Options(frozenset(("yes", "no")), frozenset(), ("inputs",))
        if asked.choices_from is None:
            return Options(frozenset(choice.id.text for choice in asked.choices), frozenset(), ("inputs",))
        if asked.choices_from.text == "media":
            return Options.of_items(tuple(one.item for one in self.base.media), ("media",))
        if asked.choices_from.text == "mixtures":
            return Options(frozenset(one.id.text for one in self.base.mixtures), frozenset(), ("mixtures",))
        return Options.of_items(self.base.pipe_sizes, ("pipe_sizes",))

    def items(self, owner: str) -> tuple[Item, ...]:
        """The items behind a name with properties: a decision's candidates, or what an input chooses from."""
        if owner in self.candidates:
            return self.candidates[owner]
        asked = self.inputs.get(owner)
        source = asked.choices_from.text if asked is not None and asked.choices_from is not None else ""
        if source == "media":
            return tuple(one.item for one in self.base.media)
        return self.base.pipe_sizes if source == "pipe_sizes" else ()

    def worded(self, owner: str) -> tuple[Item | Choice, ...]:
        """As `items`, and the choices that an input lists itself."""
        asked = self.inputs.get(owner)
        return self.items(owner) or (asked.choices if asked is not None else ())

    @cached_property
    def rules(self) -> frozenset[str]:
        """Every rule id that a verdict can name, those that the compiler makes among them."""
        found = {one.rule.id.text for one in self.overlay_rules}
        for table in self.base.tables:
            found.update(rule.id.text for rule in table.rules)
            found.update(f"{table.id}.{word}" for word in BUILT_IN_RULES)
            if table.rules_from is not None:
                found.update(f"{table.id}.{medium.item.id}.{band.id}.{material}" for medium in self.base.media
                             for band in medium.bands for column in table.inputs
                             for material in (item.id.text for item in self.candidates.get(column.text, ())))
        return frozenset(found)

    def unknown(self, word: Word, names: Iterable[str], what: str, kinds: Iterable[str]) -> list[Problem]:
        """A problem when `word` is none of `names`, unless one of `kinds`, where they stand, is incomplete."""
        names = names if isinstance(names, (set, frozenset, dict)) else frozenset(names)
        if word.text in names or self.incomplete.intersection(kinds):
            return []
        return [Problem(word.place, "X003", f"'{shown(word.text)}' is no {what}",
                        instead(word.text, names, what))]


@dataclass(frozen=True, slots=True)
class Options:
    """The ids and flags of a choice column, and the kinds of records that they come from."""

    ids: frozenset[str]
    flags: frozenset[str]
    kinds: tuple[str, ...]

    @classmethod
    def of_items(cls, items: tuple[Item, ...], kinds: tuple[str, ...]) -> Options:
        """The options that items give."""
        return cls(frozenset(item.id.text for item in items),
                   frozenset(flag.text for item in items for flag in item.flags), kinds)


def twice(words: Iterable[Word], what: str, code: str = "X001") -> list[Problem]:
    """A problem for each word that stood before, with the place where it stood first."""
    first: dict[str, Word] = {}
    problems: list[Problem] = []
    for word in words:
        seen = first.setdefault(word.text, word)
        if seen is not word:
            problems.append(Problem(word.place, code,
                                    f"{what} '{shown(word.text)}' is given twice (first at {seen.place})",
                                    "rename one of the two, or delete it"))
    return problems
