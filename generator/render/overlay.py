"""Gives back what a company's overlay says beside the base: lines for the pages it touches, and a page of all of it."""

from __future__ import annotations

from dataclasses import dataclass

from markupsafe import Markup

from generator.analyse.cases import AnsweredCase
from generator.pack.model import VERDICTS
from generator.pack.overlay_texts import ChangeText, FiguresText, OverlayText
from generator.pack.texts import CaseText
from generator.problems import Place
from generator.render import addresses, parts
from generator.render.failing import Failing
from generator.render.library import Library, rule_address
from generator.render.page import Heading, Page, SearchEntry
from generator.render.printing import printed

KINDS = {"fills": "supplier data or the company's own, where the base is open", "tightens": "tightened",
         "loosens": "loosened"}
_ORDER = ("fills", "tightens", "loosens")


@dataclass(frozen=True, slots=True)
class ChangeLine:
    """One region in which company and base part. `base_rule` is None where no rule of the base spoke."""

    where: tuple[str, ...]
    kind: str
    verdict: Markup
    because: str
    basis: Markup
    rule: parts.Link
    base_verdict: Markup
    base_because: str
    base_basis: Markup
    base_rule: parts.Link | None
    reason: str


@dataclass(frozen=True, slots=True)
class ChangesBlock:
    lines: tuple[ChangeLine, ...]


@dataclass(frozen=True, slots=True)
class OtherAnswer:
    """What a case of the base comes to with the overlay, where that is not what the base says."""

    decision: parts.Link
    candidate: parts.Link
    base: Markup
    company: Markup
    rule: parts.Link | None


@dataclass(frozen=True, slots=True)
class FigureRow:
    name: str
    figures: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class FiguresTable:
    title: str
    anchor: str
    about: str
    inner: tuple[str, ...]
    rows: tuple[FigureRow, ...]
    basis: Markup


@dataclass(frozen=True, slots=True)
class StockLine:
    candidate: parts.Link
    decision: str
    stock: str
    cost_class: str


@dataclass(frozen=True, slots=True)
class ForbiddenLine:
    candidate: parts.Link
    decision: str
    reason: str
    who: str
    basis: Markup


@dataclass(frozen=True, slots=True)
class AddedLine:
    table: parts.Link
    about: str
    base: parts.Link | None


@dataclass(frozen=True, slots=True)
class ChangeGroup:
    anchor: str
    title: str
    lines: Markup


@dataclass(frozen=True, slots=True)
class OverlayView:
    title: str
    about: str
    notice: str
    groups: tuple[ChangeGroup, ...]
    figures: tuple[FiguresTable, ...]
    added: tuple[AddedLine, ...]
    forbidden: tuple[ForbiddenLine, ...]
    stock: tuple[StockLine, ...]
    own_cases: tuple[parts.Link, ...]
    other_cases: tuple[parts.Link, ...]      # of the base, that come out otherwise
    record: parts.Record


def changes_of_table(lib: Library, table: str) -> Markup:
    """Where the company says otherwise in one table, beside the base; empty where it does not."""
    return _beside(lib, [one for one in _changes(lib) if one.table == table])


def company_link(lib: Library, table: str, added: bool) -> parts.Link | None:
    """The page of the overlay, for a table that it adds, or for one of the base that it changes."""
    overlay = lib.texts.overlay
    if overlay is None or table not in {one.table for one in (overlay.added if added else overlay.changes)}:
        return None
    return parts.link(addresses.COMPANY, overlay.title)


def changes_of_candidate(lib: Library, decision: str, candidate: str) -> Markup:
    """The same of one candidate, in the tables that name it."""
    return _beside(lib, [one for one in _changes(lib)
                         if any(name == decision and candidate in ids for name, ids in one.candidates)])


def stock_facts(lib: Library, decision: str, candidate: str) -> tuple[parts.Fact, ...]:
    """`in stock, cost class 2 (company)`; nothing where the company says nothing."""
    lines = lib.texts.overlay.stock if lib.texts.overlay else ()
    return tuple(parts.Fact("Stock", f"{'in stock' if one.in_stock else 'to order'}, cost class {one.cost_class} "
                            "(company)") for one in lines if (one.decision, one.candidate) == (decision, candidate))


def figures_about(lib: Library, decision: str) -> tuple[parts.Link, ...]:
    """The company's figures for the candidates of a decision."""
    return tuple(parts.link(f"{addresses.COMPANY}#figures-{one.id}", one.title) for one in (
        lib.texts.overlay.figures if lib.texts.overlay else ()) if decision in one.decisions)


def company_beside(lib: Library, case: CaseText) -> parts.Link | None:
    """For a case of the base in a guide with an overlay: the company's data, which its worksheet judges with as well."""
    overlay = lib.texts.overlay
    return None if overlay is None or case.id in overlay.cases else parts.link(addresses.COMPANY, overlay.title)


def other_answers(lib: Library, answered: AnsweredCase, failed: Failing = Failing()) -> tuple[OtherAnswer, ...]:
    """The expectations of a case of the base that come out otherwise with the overlay than the base says: what is expected,
    unless that has failed."""
    case, selected = answered.case, answered.selected
    if selected is None or company_beside(lib, case) is None:
        return ()
    results = {(decision.decision, one.candidate): one for decision in selected.decisions for one in decision.candidates}
    lines, says = [], failed.says_of(case.id)
    for line in case.expect:
        result = results[line.decision, line.candidate]
        base = says.get((line.decision, line.candidate), line.verdict)
        if result.verdict != base:
            deciding = next((reason.rule for reason in result.reasons if reason.verdict == result.worst), "")
            lines.append(OtherAnswer(
                *_names(lib, line.decision, line.candidate), parts.verdict_mark_of(base),
                parts.verdict_mark_of(result.verdict),
                parts.link(rule_address(lib, deciding), deciding) if deciding else None))
    return tuple(lines)


def overlay_pages(lib: Library, answered: tuple[AnsweredCase, ...], failed: Failing = Failing()) -> tuple[Page, ...]:
    """The page that lists all of an overlay; none where there is no overlay."""
    overlay = lib.texts.overlay
    if overlay is None:
        return ()
    others = tuple(one.case.id for one in answered if other_answers(lib, one, failed))
    view = _view(lib, overlay, others)
    headings = [Heading(group.anchor, group.title) for group in view.groups]
    headings += [Heading(anchor, title) for anchor, title, there in (
        ("figures", "Figures", view.figures), ("added", "Tables of its own", view.added),
        ("forbidden", "Not bought", view.forbidden), ("stock", "Stock and cost", view.stock),
        ("cases", "Cases", view.own_cases), ("other-cases", "Cases of the base", view.other_cases)) if there]
    return (Page(
        uri=addresses.uri_of(addresses.COMPANY), title="Company data", section=("Review",),
        body=printed("overlay.html", view), wide=True, source=Place(overlay.file, 1), headings=tuple(headings),
        search=(SearchEntry("", f"Company data: {overlay.title}", overlay.about),)),)


# private

def _changes(lib: Library) -> tuple[ChangeText, ...]:
    return lib.texts.overlay.changes if lib.texts.overlay else ()


def _beside(lib: Library, changes: list[ChangeText]) -> Markup:
    if not changes:
        return Markup("")
    return printed("parts/changes.html", ChangesBlock(tuple(_line(lib, one) for one in changes)))


def _line(lib: Library, one: ChangeText) -> ChangeLine:
    text = lib.rules[one.rule]
    known = one.base in lib.rules
    return ChangeLine(
        one.regions, KINDS[one.kind], parts.verdict_mark(VERDICTS.index(one.verdict)), text.because,
        parts.basis_line(lib, text.basis), parts.link(rule_address(lib, one.rule), one.rule),
        parts.verdict_mark(VERDICTS.index(one.base_verdict)),
        one.base_because or ("no rule of the base speaks here" if not one.base else ""),
        parts.basis_line(lib, one.base_basis) if one.base else Markup(""),
        parts.link(rule_address(lib, one.base), one.base) if known else None, one.reason)


def _names(lib: Library, decision: str, candidate: str) -> tuple[parts.Link, parts.Link]:
    return (parts.link(addresses.decision_index(decision), lib.decision_texts[decision].title),
            parts.link(addresses.candidate(decision, candidate), lib.items[decision, candidate].title))


def _view(lib: Library, overlay: OverlayText, others: tuple[str, ...]) -> OverlayView:
    titles = {"fills": "Filled: the base is open", "tightens": "Tightened", "loosens": "Loosened, with a reason"}
    groups = tuple(ChangeGroup(f"kind-{kind}", titles[kind], lines) for kind in _ORDER
                   if (lines := _beside(lib, [one for one in overlay.changes if one.kind == kind])))
    cases = {case.id: case.title for case in lib.texts.cases}
    return OverlayView(
        title=overlay.title, about=overlay.about, notice=overlay.notice, groups=groups,
        figures=tuple(_figures(lib, one) for one in overlay.figures),
        added=tuple(AddedLine(parts.link(addresses.table(one.table), lib.table_texts[one.table].title),
                              lib.table_texts[one.table].about,
                              parts.link(addresses.table(one.made_of), lib.table_texts[one.made_of].title)
                              if one.made_of in lib.table_texts else None) for one in overlay.added),
        forbidden=tuple(ForbiddenLine(_names(lib, one.decision, one.candidate)[1],
                                      lib.decision_texts[one.decision].title, one.reason, one.who,
                                      parts.basis_line(lib, one.basis)) for one in overlay.forbidden),
        stock=tuple(StockLine(_names(lib, one.decision, one.candidate)[1], lib.decision_texts[one.decision].title,
                              "in stock" if one.in_stock else "to order", one.cost_class) for one in overlay.stock),
        own_cases=tuple(parts.link(addresses.case(name), cases[name]) for name in overlay.cases),
        other_cases=tuple(parts.link(addresses.case(name), cases[name]) for name in others),
        record=parts.record(lib, Place(overlay.file, 1)))


def _figures(lib: Library, one: FiguresText) -> FiguresTable:
    outer, inner = one.decisions
    columns = tuple(dict.fromkeys(candidate for _, candidate, _ in one.values))
    rows: dict[str, dict[str, str]] = {}
    for first, second, typed in one.values:
        rows.setdefault(first, {})[second] = typed
    return FiguresTable(
        one.title, f"figures-{one.id}", one.about, tuple(lib.items[inner, name].title for name in columns),
        tuple(FigureRow(lib.items[outer, name].title, tuple(row.get(column, "no figure") for column in columns))
              for name, row in rows.items()), parts.basis_line(lib, one.basis))
