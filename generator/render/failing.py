"""Gives back the reference cases and witnesses that the rules no longer meet, for the pages that must say so."""

from __future__ import annotations

from dataclasses import dataclass

from markupsafe import Markup

from generator.analyse.approvals import check_witnesses
from generator.analyse.cases import AnsweredCase, Departure, departures, failing_cases
from generator.evaluate.prepared import prepare
from generator.pack.texts import CaseText
from generator.render import addresses, parts, words
from generator.render.library import Library, rule_address

NAMED = 5                            # failing cases in the line of the start page; all of them stand among the findings


@dataclass(frozen=True, slots=True)
class FailingLine:
    """One expectation: of what, what was expected, what the rules say now and by which. A `message` where no answer of
    the case could be read."""

    about: str
    expected: Markup
    by: parts.Link | None
    says: Markup
    rules: tuple[parts.Link, ...]
    message: str


@dataclass(frozen=True, slots=True)
class FailingCase:
    id: str
    case: parts.Link
    place: str
    lines: tuple[FailingLine, ...]


@dataclass(frozen=True, slots=True)
class Failing:
    """`cases` in the order of the data, `witnesses` as `guide check` tells them; `counted` is empty where none fails.
    `says` are other verdicts than expected, as (case, decision, candidate, verdict)."""

    counted: str = ""
    cases: tuple[FailingCase, ...] = ()
    witnesses: tuple[str, ...] = ()
    all: parts.Link | None = None
    says: tuple[tuple[str, str, str, str], ...] = ()

    def says_of(self, case: str) -> dict[tuple[str, str], str]:
        """What the rules that a case was argued for say now, where that is not the verdict that it expects."""
        return {(decision, candidate): verdict for name, decision, candidate, verdict in self.says if name == case}

    @property
    def named(self) -> tuple[FailingCase, ...]:
        return self.cases[:NAMED]

    @property
    def more(self) -> str:
        return f"and {len(self.cases) - NAMED} more" if len(self.cases) > NAMED else ""


def failing(lib: Library, answered: tuple[AnsweredCase, ...], base: Library | None = None) -> Failing:
    """What the rules of today do not meet. A case is held against the rules that it was argued for: those of the `base`
    alone, or of base and overlay together."""
    own, prepared = lib, prepare(lib.pack)
    overlay = lib.texts.overlay
    found = {one.case.id: (one.case, departures(prepared, one)) for one in answered
             if overlay is None or one.case.id in overlay.cases}
    if overlay is not None and base is not None:
        own, prepared = base, prepare(base.pack)
        found |= {case.id: (case, parted) for case, parted in failing_cases(prepared, base.texts)}
    cases = tuple(_case(lib, *found[one.case.id]) for one in answered if found.get(one.case.id, (None, ()))[1])
    witnesses = tuple(str(one) for one in check_witnesses(prepared, own.texts))
    counts = [f"reference cases that no longer hold: {len(cases)} of {len(answered)}"] if cases else []
    counts += [f"judgements of witnesses that no longer hold: {len(witnesses)}"] if witnesses else []
    return Failing(words.capital("; ".join(counts)), cases, witnesses,
                   parts.link(f"{addresses.FINDINGS}#failing", "what each expects and what the rules say now"),
                   tuple((case.id, *one.keep[0], one.says) for case, parted in found.values() for one in parted
                         if one.code == "R002"))


# private


def _case(lib: Library, case: CaseText, found: tuple[Departure, ...]) -> FailingCase:
    return FailingCase(case.id, parts.link(addresses.case(case.id), case.title), parts.place_text(case.file, found[0].at[0]),
                       tuple(_line(lib, one) for one in found))


def _line(lib: Library, one: Departure) -> FailingLine:
    if not one.keep:
        return FailingLine("", Markup(), None, Markup(), (), f"{words.capital(one.message)}; {one.fix}.")
    decisions = [lib.decision_texts[decision].title for decision, _ in one.keep]
    titles = [_title(lib, decision, candidate) for decision, candidate in one.keep]
    if one.code == "R007":
        (decision, _), = one.keep
        says = f"{_title(lib, decision, one.says)} leads" if one.says else "no selection is left"
        return FailingLine(f"What to buy first, {decisions[0]}", Markup.escape(titles[0]), None, Markup.escape(says), (), "")
    about = " with ".join(f"{title} ({decision})" for title, decision in zip(titles, decisions, strict=True))
    return FailingLine(about, parts.verdict_mark_of(one.expected), _rule(lib, one.rule) if one.rule else None,
                       parts.verdict_mark_of(one.says), tuple(_rule(lib, rule) for rule in one.rules), "")


def _title(lib: Library, decision: str, candidate: str) -> str:
    item = lib.items.get((decision, candidate))
    return item.title if item else lib.decision_texts[decision].title


def _rule(lib: Library, rule: str) -> parts.Link:
    """A rule of the base that the overlay leaves no row has no place of its own to go to."""
    return parts.link(rule_address(lib, rule) if rule in lib.rules else addresses.RULES, rule)
