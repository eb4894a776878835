"""Gives back the pages of the reference cases: the application as typed and the verdicts argued for it."""

from __future__ import annotations

from dataclasses import dataclass
from urllib.parse import urlencode

from markupsafe import Markup

from generator.analyse.cases import AnsweredCase, answer_case
from generator.answers.pins import PINNED
from generator.evaluate.conceded import conceded
from generator.evaluate.memory import new_memory
from generator.evaluate.prepared import prepare
from generator.evaluate.results import Conceded
from generator.pack.texts import CaseText, ExpectedText
from generator.problems import Place
from generator.render import addresses, parts
from generator.render.concession_words import concession_records, concession_sentence
from generator.render.failing import Failing, FailingCase
from generator.render.library import Library, rule_address
from generator.render.overlay import OtherAnswer, company_beside, other_answers
from generator.render.page import Heading, Page, SearchEntry
from generator.render.printing import printed
from generator.render.provisional import provisional_words, recalled_documents


@dataclass(frozen=True, slots=True)
class AnswerLine:
    input: parts.Link
    text: str


@dataclass(frozen=True, slots=True)
class StateBlock:
    title: str
    ruled_out: bool
    answers: tuple[AnswerLine, ...]


@dataclass(frozen=True, slots=True)
class ExpectedLine:
    """`candidate` is None where the case expects something of the decision as a whole; `provisional` says what the
    verdict is to be confirmed against."""

    decision: parts.Link
    candidate: parts.Link | None
    verdict: Markup
    because: str
    rule: parts.Link | None
    provisional: str


@dataclass(frozen=True, slots=True)
class ChosenLine:
    decision: parts.Link
    candidate: parts.Link


@dataclass(frozen=True, slots=True)
class TogetherLine:
    kept: tuple[ChosenLine, ...]
    verdict: Markup
    because: str
    rule: parts.Link | None


@dataclass(frozen=True, slots=True)
class CaseView:
    id: str
    title: str
    index: parts.Link
    story: str
    worksheet: parts.Link
    states: tuple[StateBlock, ...]
    pinned: tuple[ChosenLine, ...]
    expected: tuple[ExpectedLine, ...]
    together: tuple[TogetherLine, ...]
    selection: tuple[ChosenLine, ...]
    provisional: str
    concessions: tuple[str, ...]
    company: parts.Link | None                  # beside a case of the base: the data that the worksheet judges with, too
    others: tuple[OtherAnswer, ...]
    other_selection: tuple[ChosenLine, ...]
    of_company: bool
    failing: tuple[FailingCase, ...]            # none, or this case with where the rules part from it
    record: parts.Record


def answered_cases(lib: Library) -> tuple[AnsweredCase, ...]:
    """Every reference case with what the engine says of it, in the order of the data."""
    prepared = prepare(lib.pack)
    memory = new_memory()
    return tuple(answer_case(prepared, case, memory) for case in lib.texts.cases)


def case_pages(lib: Library, answered: tuple[AnsweredCase, ...], failed: Failing = Failing()) -> tuple[Page, ...]:
    """A page per reference case, in the order of the data."""
    recalled = recalled_documents(lib.pack, lib.texts)
    return tuple(_case_page(lib, one.case, one, recalled, failed) for one in answered)


# private


def _fragment(case: CaseText) -> str:
    """The application as the worksheet keeps it in its address; browser/address.js reads it."""
    pairs = [("id", case.id), ("title", case.title)]
    for state, answers in case.application:
        if answers is None:
            pairs.append((state, "none"))
        elif not answers:
            pairs.append((state, "described"))
        group = "pin" if state == PINNED else state
        pairs += [(f"{group}.{name}", text) for name, text in answers or ()]
    pairs += [(f"concession.{place}.{name}", text) for place, one in enumerate(case.concessions, 1) for name, text in one]
    return urlencode(pairs)


def _case_page(lib: Library, case: CaseText, answered: AnsweredCase, recalled: list[dict[str, str]],
               failed: Failing) -> Page:
    selected = answered.selected
    # Where the company's data say otherwise, what they rest on says nothing of the verdict that is expected.
    confirm = {(decision.decision, one.candidate, one.verdict): provisional_words([recalled[place] for place in one.confirm])
               for decision in (selected.decisions if selected else ()) for one in decision.candidates}
    otherwise = _other_selection(lib, answered)
    leading = [recalled[place] for one in (selected.selections[:1] if selected and not otherwise else ())
               for place in one.confirm]
    titles = {state.id: state.title for state in lib.texts.states}
    states = tuple(
        StateBlock(
            titles.get(state, state),
            answers is None,
            tuple(AnswerLine(_input_link(lib, name), text) for name, text in answers or ()),
        )
        for state, answers in case.application
        if state != PINNED
    )
    pinned = next((answers or () for state, answers in case.application if state == PINNED), ())
    place = Place(case.file, case.line)
    view = CaseView(
        id=case.id,
        title=case.title,
        index=parts.link(addresses.CASES, "Reference cases"),
        story=case.story,
        worksheet=parts.link(f"#{_fragment(case)}", "Open this point in the worksheet"),
        states=states,
        pinned=tuple(_chosen(lib, *pair) for pair in pinned),
        expected=tuple(_expected(lib, line, confirm.get((line.decision, line.candidate, line.verdict), "")) for line in case.expect),
        together=tuple(TogetherLine(tuple(_chosen(lib, *pair) for pair in line.keep), parts.verdict_mark_of(line.verdict),
                                    line.because, _rule(lib, line.rule)) for line in case.together),
        selection=tuple(_chosen(lib, *pair) for pair in case.selection),
        provisional=provisional_words(leading),
        concessions=tuple(_concession(lib, one) for one in (
            conceded(answered.selected, answered.reading.application.concessions, "") if answered.selected else ())),
        company=company_beside(lib, case),
        others=other_answers(lib, answered, failed),
        other_selection=otherwise,
        of_company=lib.texts.overlay is not None and case.id in lib.texts.overlay.cases,
        failing=tuple(one for one in failed.cases if one.id == case.id),
        record=parts.record(lib, place),
    )
    return Page(
        uri=addresses.uri_of(addresses.case(case.id)),
        title=case.title,
        section=("Learn", "Reference cases"),
        body=printed("case.html", view),
        source=place,
        headings=(Heading("application", "The application"), Heading("expected", "What is expected")),
        search=(SearchEntry("", case.title, case.story),),
        listed=False,
    )


def _other_selection(lib: Library, answered: AnsweredCase) -> tuple[ChosenLine, ...]:
    """What leads with the company's data where a case of the base expects something else to lead."""
    if company_beside(lib, answered.case) is None or answered.selected is None:
        return ()
    leading = {one.decision: one.candidate for selection in answered.selected.selections[:1] for one in selection.chosen}
    return tuple(_chosen(lib, decision, leading[decision]) for decision, candidate in answered.case.selection
                 if leading.get(decision, candidate) != candidate)


def _input_link(lib: Library, name: str) -> parts.Link:
    text = lib.input_texts.get(name)
    return parts.link(addresses.input_line(name) if text else addresses.INPUTS, text.title if text else name)


def _chosen(lib: Library, decision: str, candidate: str) -> ChosenLine:
    return ChosenLine(parts.link(addresses.decision_index(decision), lib.decision_texts[decision].title),
                      parts.link(addresses.candidate(decision, candidate), lib.items[decision, candidate].title))


def _concession(lib: Library, one: Conceded) -> str:
    record, = concession_records(lib.texts, (one,))
    return f"{lib.decision_texts[one.concession.decision].title} {record['title']}: {concession_sentence(record)}"


def _expected(lib: Library, line: ExpectedText, provisional: str) -> ExpectedLine:
    item = lib.items.get((line.decision, line.candidate))
    return ExpectedLine(
        decision=parts.link(addresses.decision_index(line.decision), lib.decision_texts[line.decision].title),
        candidate=parts.link(addresses.candidate(line.decision, item.id), item.title) if item else None,
        verdict=parts.verdict_mark_of(line.verdict),
        because=line.because,
        rule=_rule(lib, line.rule),
        provisional=provisional,
    )


def _rule(lib: Library, rule: str) -> parts.Link | None:
    return parts.link(rule_address(lib, rule), rule) if rule in lib.rules else None
