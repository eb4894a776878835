"""Gives back the page of findings: what is worth a look in the tables, who waived what, how well cases pin."""

from __future__ import annotations

import re
from dataclasses import dataclass

from markupsafe import Markup

from generator.analyse.cases import AnsweredCase
from generator.analyse.finding import KIND_OF, Finding, unwaived_first
from generator.analyse.findings import findings
from generator.evaluate.prepared import prepare
from generator.problems import Place
from generator.render import addresses, parts, words
from generator.render.failing import Failing
from generator.render.library import Library, rule_address, verdict_of
from generator.render.pinned import PinningView, Record, pinning_view
from generator.render.page import Heading, Page, SearchEntry
from generator.render.printing import printed

SENTENCES = {
    "gap": "No rule covers this.",
    "contradiction": "These rules hold at once and give different verdicts.",
    "said_twice": "These rules hold at once and give the same verdict.",
    "never_matches": "Other rules come before it everywhere.",
    "overlap": "Two rows of the finished table hold at once.",
    "never_decides": "Wherever it holds, another rule has said as much, or worse.",
}


@dataclass(frozen=True, slots=True)
class WaiverView:
    approver: str
    until: str
    reason: str


@dataclass(frozen=True, slots=True)
class FindingView:
    kind: str
    sentence: str | Markup
    region: str
    rules: tuple[parts.Link, ...]
    place: str
    edit: parts.Link | None
    key: str
    waived: WaiverView | None


@dataclass(frozen=True, slots=True)
class TableFindings:
    anchor: str
    title: parts.Link
    found: tuple[FindingView, ...]


@dataclass(frozen=True, slots=True)
class UnreachedView:
    """Candidates of one decision that no case gives one verdict."""

    decision: str
    verdict: Markup
    candidates: tuple[parts.Link, ...]


@dataclass(frozen=True, slots=True)
class FindingsView:
    counted: str
    failing: str
    cases: Failing
    tables: tuple[TableFindings, ...]
    clean: tuple[parts.Link, ...]
    others: tuple[FindingView, ...]
    unreached: tuple[UnreachedView, ...]
    pinning: PinningView | None
    record: parts.Record


def findings_page(lib: Library, answered: tuple[AnsweredCase, ...], pinning: Record | None = None,
                  failed: Failing = Failing()) -> Page:
    """All findings by table. Without `pinning` the page says that its scores are not counted."""
    found = findings(lib.pack, lib.texts, prepare(lib.pack), answered)
    by_table = {table.id: tuple(one for one in found if one.table == table.id) for table in lib.pack.tables}
    tables = tuple(
        TableFindings(f"table-{name}", _table_link(lib, name), tuple(_view(lib, one) for one in unwaived_first(mine)))
        for name, mine in sorted(by_table.items(), key=lambda pair: all(one.waived for one in pair[1])) if mine)
    loose = [one for one in found if not one.table]
    candidates = [one for one in loose if one.kind == "unreached" and not one.waived]
    waived = sum(one.waived is not None for one in found)
    view = FindingsView(
        counted=f"{words.counted(len(found), 'finding')} in this edition, {waived or 'none'} of them waived",
        failing=words.joined(
            [kind.title.lower() for kind in KIND_OF.values() if kind.fails and kind.id != "overlap"], "or"),
        cases=failed,
        tables=tables,
        clean=tuple(_table_link(lib, name) for name, mine in by_table.items() if not mine),
        others=tuple(_view(lib, one) for one in unwaived_first(loose) if one not in candidates),
        unreached=_unreached(lib, candidates),
        pinning=pinning_view(lib, pinning) if pinning else None,
        record=parts.record(lib, None),
    )
    return Page(
        uri=addresses.uri_of(addresses.FINDINGS),
        title="Findings",
        section=("Review",),
        body=printed("findings.html", view),
        headings=(*((Heading("failing", "Cases that no longer hold"),) if failed.counted else ()),
                  Heading("pinning", "How well cases pin the rules"), Heading("by-table", "By table"),
                  *((Heading("others", "Inputs and candidates"),) if view.others else ()),
                  *((Heading("unreached", "Verdicts of candidates that no case reaches"),) if view.unreached else ())),
        search=(SearchEntry("", "Findings", "gaps overlaps waivers unreached verdicts pinning score unpinned rules"),
                *(SearchEntry(one.anchor, f"Findings: {one.title.text}", " ".join(each.kind for each in one.found))
                  for one in tables)),
    )


# private


def _view(lib: Library, one: Finding) -> FindingView:
    place = Place(one.file, one.line)
    waived = one.waived
    return FindingView(
        kind=KIND_OF[one.kind].title,
        sentence=_sentence(lib, one),
        region=_printed(one.region),
        rules=tuple(_rule_link(lib, rule) for rule in one.rules if rule in lib.rules),
        place=parts.place_text(one.file, one.line),
        edit=parts.record_link(lib, place),
        key=one.key,
        waived=WaiverView(waived.approver, waived.until, waived.reason) if waived else None,
    )


def _sentence(lib: Library, one: Finding) -> str | Markup:
    """What is the matter, with titles in place of ids."""
    if one.kind == "idle_column":
        what = one.message.partition(" never changes ")[2]
        reasons = ", only its reasons" if lib.tables[one.table].hit_policy == "collect" else ""
        return f"“{_title(lib, one.subject)}” never changes {what}{reasons}."
    if one.kind == "idle_input":
        return f"“{_title(lib, one.subject)}” never changes a verdict: no table listens to it."
    if one.kind == "never_suitable":
        item = lib.items[one.decision, one.subject].title
        return f"{item} cannot be suitable: {one.message.partition(': ')[2] or 'no row of this table says so'}."
    if one.kind == "unreached":
        whose = f" of {lib.items[one.decision, one.subject].title}" if one.subject else ""
        return Markup("No case reaches the verdict {}{}.").format(parts.verdict_mark_of(one.verdict), whose)
    if one.kind == "could_be_one":
        mark = parts.verdict_mark(verdict_of(lib, one.rules[0]))
        return Markup("{} for one reason, and together they are one region.").format(mark)
    return SENTENCES[one.kind]


def _printed(region: str) -> str:
    """A region with true minus signs, and units that stay with their numbers."""
    together = re.sub(r"(\d) (?=[^\s,]+(?:,|$| or ))", "\\1\u00a0", region)
    return words.capital(re.sub(r"(?<![\w.])-(?=\d)", "\u2212", together))


def _title(lib: Library, name: str) -> str:
    return lib.input_texts[name].title if name in lib.input_texts else lib.derived_texts[name].title


def _table_link(lib: Library, table: str) -> parts.Link:
    return parts.link(addresses.table(table), lib.table_texts[table].title)


def _rule_link(lib: Library, rule: str) -> parts.Link:
    return parts.link(rule_address(lib, rule), rule.removeprefix(f"{lib.rules[rule].table}."))


def _unreached(lib: Library, found: list[Finding]) -> tuple[UnreachedView, ...]:
    """By decision, then by verdict from good to bad."""
    made = []
    for decision in lib.texts.decisions:
        for verdict in reversed(parts.VERDICTS):
            mine = [one for one in found if (one.decision, one.verdict) == (decision.id, verdict)]
            if mine:
                made.append(UnreachedView(decision.title, parts.verdict_mark_of(verdict), tuple(
                    parts.link(addresses.candidate(decision.id, one.subject), lib.items[decision.id, one.subject].title)
                    for one in mine)))
    return tuple(made)
