"""Gives back the page of concessions: which rules the reference cases concede, by whom, until when and why."""

from __future__ import annotations

from dataclasses import dataclass

from markupsafe import Markup

from generator.analyse.cases import AnsweredCase
from generator.analyse.concessions import Use, conceded_rules
from generator.evaluate.conceded import conceded
from generator.render import addresses, parts, words
from generator.render.library import Library, rule_address
from generator.render.page import Heading, Page, SearchEntry
from generator.render.printing import printed

NO_DAY = ""                          # a page is read for years: it prints the last day, and does not judge it


@dataclass(frozen=True, slots=True)
class UseView:
    case: parts.Link
    candidate: parts.Link
    verdict: Markup
    approver: str
    until: str
    reason: str


@dataclass(frozen=True, slots=True)
class RuleView:
    rule: parts.Link
    because: str
    times: str
    uses: tuple[UseView, ...]


@dataclass(frozen=True, slots=True)
class ConcessionsView:
    rules: tuple[RuleView, ...]
    record: parts.Record


def concessions_pages(lib: Library, answered: tuple[AnsweredCase, ...]) -> tuple[Page, ...]:
    """One page, or none where no reference case concedes anything."""
    uses = [Use(one.case.id, use) for one in answered if one.selected is not None and one.case.concessions
            for use in conceded(one.selected, one.reading.application.concessions, NO_DAY)]
    if not uses:
        return ()
    rules = tuple(RuleView(parts.link(rule_address(lib, one.rule), one.rule), lib.rules[one.rule].because,
                           words.counted(len(one.uses), "time"), tuple(_use(lib, use) for use in one.uses))
                  for one in conceded_rules(uses))
    view = ConcessionsView(rules, parts.record(lib, None))
    return (Page(uri=addresses.uri_of(addresses.CONCESSIONS), title="Concessions", section=("Review",),
                 body=printed("concessions.html", view), headings=(Heading("rules", "By rule"),),
                 search=(SearchEntry("", "Concessions", "departure from a verdict, approved, until"),)),)


# private

def _use(lib: Library, use: Use) -> UseView:
    one = use.conceded.concession
    title = next(case.title for case in lib.texts.cases if case.id == use.where)
    return UseView(parts.link(addresses.case(use.where), title),
                   parts.link(addresses.candidate(one.decision, one.candidate), lib.items[one.decision, one.candidate].title),
                   parts.verdict_mark_of(use.conceded.verdict), one.approver, one.until, one.reason)
