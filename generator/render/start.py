"""Gives back the start page: the worksheet's place, three doors into the guide, the lasting cautions."""

from __future__ import annotations

from dataclasses import dataclass

from markupsafe import Markup

from generator.pack.texts import Texts
from generator.render import addresses, parts, words
from generator.render.failing import Failing
from generator.render.library import Library
from generator.render.page import Heading, Page, SearchEntry
from generator.render.printing import printed

GUIDE_READING = "reading/"
GUIDE_DECIDES = "how-it-decides/"
GUIDE_ABOUT = "about/"


@dataclass(frozen=True, slots=True)
class CautionView:
    text: str
    where: str
    basis: Markup


@dataclass(frozen=True, slots=True)
class DoorView:
    title: str
    about: str
    links: tuple[parts.Link, ...]


@dataclass(frozen=True, slots=True)
class WayView:
    before: str                      # the words before the link
    link: parts.Link


@dataclass(frozen=True, slots=True)
class StartView:
    title: str
    company: str
    notice: str
    overlay: parts.Link | None       # whose data the worksheet judges with, beside the base
    pack: str
    texts: str
    root: str
    script: str
    tables: parts.Link
    inputs: parts.Link
    ways: tuple[WayView, ...]        # for those who did not come to fill in the worksheet
    doors: tuple[DoorView, ...]
    cautions: tuple[CautionView, ...]
    failing: Failing
    record: parts.Record


@dataclass(frozen=True, slots=True)
class CautionsBlock:
    cautions: tuple[CautionView, ...]


def start_page(lib: Library, failed: Failing = Failing()) -> Page:
    """The page at the root of the site."""
    edition = lib.texts.edition
    view = StartView(
        title=edition.title,
        company=edition.company,
        notice=edition.notice,
        overlay=parts.link(addresses.COMPANY, lib.texts.overlay.title) if lib.texts.overlay else None,
        pack=addresses.target(addresses.PACK_FILE),
        texts=addresses.target(addresses.TEXTS_FILE),
        root=addresses.target(""),
        script=addresses.target("assets/worksheet.js"),
        tables=parts.link(addresses.TABLES, "rule tables"),
        inputs=parts.link(addresses.INPUTS, "data sheet"),
        ways=_ways(lib),
        doors=_doors(lib),
        cautions=_cautions(lib),
        failing=failed,
        record=parts.record(lib, None),
    )
    return Page(
        uri="index.md",
        title="Worksheet",
        section=(),
        body=printed("start.html", view),
        wide=True,
        headings=(
            Heading("worksheet-heading", "Worksheet"),
            Heading("doors", "Ways in"),
            Heading("cautions", "Always"),
        ),
        search=(SearchEntry("", edition.title, "worksheet select start cautions"),),
    )


def cautions_block(lib: Library) -> Markup:
    """The cautions as HTML, to stand on the pages of the decisions."""
    return printed("parts/cautions.html", CautionsBlock(_cautions(lib)))


# private


def _cautions(lib: Library) -> tuple[CautionView, ...]:
    return tuple(
        CautionView(caution.text, caution.where, parts.basis_line(lib, caution.basis))
        for caution in lib.texts.cautions if caution.kind == "caution"
    )


def _ways(lib: Library) -> tuple[WayView, ...]:
    """What a new hire reads first, and what a committee looks at."""
    first = lib.texts.decisions[0]
    return (
        WayView("New here? Read ", parts.link(GUIDE_READING, "how to read a verdict")),
        WayView(", ", parts.link(GUIDE_DECIDES, "how it decides")),
        WayView(", ", parts.link(addresses.guidance(first.id), "what each decision is for")),
        WayView(" and ", parts.link(addresses.CASES, "how other lines were argued")),
        WayView(". Changing a rule? See the ", parts.link(addresses.FINDINGS, "findings")),
        WayView(", the ", parts.link(addresses.RULES, "rule register")),
        WayView(" and ", parts.link(addresses.BASIS, "what the rules rest on")))


def _doors(lib: Library) -> tuple[DoorView, ...]:
    select = tuple(
        parts.link(addresses.guidance(decision.id), decision.title) for decision in lib.texts.decisions
    )
    look_up = tuple(
        parts.link(addresses.decision_index(decision.id), _counted(lib.texts, decision.id))
        for decision in lib.texts.decisions
    )
    others = (
        parts.link(addresses.MEDIA, words.counted(len(lib.texts.media), "medium", "media")),
        parts.link(addresses.TABLES, words.counted(len(lib.texts.tables), "rule table")),
        parts.link(addresses.FORMULAS, words.counted(len(lib.texts.formulas), "formula")),
        *(
            (parts.link(addresses.SERIES, words.counted(len(lib.texts.series), "table of figures", "tables of figures")),)
            if lib.texts.series
            else ()
        ),
    )
    review = (
        parts.link(GUIDE_READING, "How to read this guide"),
        parts.link(GUIDE_DECIDES, "How it decides"),
        parts.link(addresses.CASES, words.counted(len(lib.texts.cases), "reference case")),
        parts.link(addresses.RULES, "Rule register"),
        parts.link(addresses.BASIS, "What the rules rest on"),
        parts.link(addresses.FINDINGS, "Findings"),
        *((parts.link(addresses.COMPANY, f"Company data of {lib.texts.overlay.title}"),) if lib.texts.overlay else ()),
        parts.link(GUIDE_ABOUT, "About, and what it does not do"),
    )
    return (
        DoorView(
            "Select", "Learn what each decision is for, then let the worksheet judge your point.", select
        ),
        DoorView("Look up", "One page for everything that has a name.", (*look_up, *others)),
        DoorView("Learn and review", "See how verdicts come about, and what they rest on.", review),
    )


def _counted(texts: Texts, decision: str) -> str:
    found = next(record for record in texts.decisions if record.id == decision)
    return f"{found.title} ({len(found.items)})"
