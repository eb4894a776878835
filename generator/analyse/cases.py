"""Gives back where the reference cases and the rules part: every expectation is asked of the engine."""

from __future__ import annotations

from collections.abc import Container
from dataclasses import dataclass, replace

from generator.analyse.retold import Pairs, kept_places, rules_of, shown, tell, verdict_of
from generator.answers.application import ReadApplication, read_application
from generator.answers.concessions import CONCESSIONS
from generator.evaluate.memory import Memory, new_memory
from generator.evaluate.prepared import Prepared
from generator.evaluate.results import Application, CandidateResult, Selected
from generator.evaluate.select import Judged, choose, judge
from generator.pack.model import VERDICTS
from generator.pack.texts import CaseText, ExpectedText, Texts, TogetherText
from generator.problems import Place, Problem


@dataclass(frozen=True, slots=True)
class AnsweredCase:
    """A reference case with what the engine says of it; nothing where its answers could not be read, and nothing
    `selected` where nobody asked what to buy."""

    case: CaseText
    reading: ReadApplication
    judged: Judged | None
    selected: Selected | None


@dataclass(frozen=True, slots=True)
class Departure:
    """An expectation of a case that the rules do not meet: of the candidates `keep` (none where an answer cannot be read)
    the `expected` verdict, or candidate for R007, by `rule` where one is named; what the rules say instead, and which."""

    code: str
    at: tuple[int, int]
    keep: Pairs
    expected: str
    rule: str
    says: str
    rules: tuple[str, ...]
    message: str
    fix: str


def answer_case(prepared: Prepared, case: CaseText, memory: Memory | None = None) -> AnsweredCase:
    """The case's application, read like any other and decided."""
    judged = judge_case(prepared, case, memory, None)
    if judged.judged is None:
        return judged
    return replace(judged, selected=choose(prepared, judged.reading.application, judged.judged))


def judge_case(prepared: Prepared, case: CaseText, memory: Memory | None = None,
               wanted: Container[str] | None = ()) -> AnsweredCase:
    """The case's application, read like any other, with the verdicts of the decisions `wanted` (None: of all), and
    nothing chosen: each of these takes its time."""
    typed: dict[str, object] = {"id": case.id, "title": case.title}
    typed |= {state: "none" if answers is None else dict(answers) for state, answers in case.application}
    typed[CONCESSIONS] = [dict(one) for one in case.concessions]
    reading = read_application(prepared.pack, typed)
    judged = None if reading.problems else judge(prepared, reading.application, memory, wanted)
    return AnsweredCase(case, reading, judged, None)


def check_cases(prepared: Prepared, texts: Texts) -> list[Problem]:
    """R001: an answer of a case cannot be read. R002: another verdict than expected. R003: the expected rule is not
    among the reasons. R007: the leading selection is another. R009: candidates together have another verdict,
    or by other rules.

    A pack with an overlay is held against the overlay's own cases: those of the base were argued for the base alone.
    """
    return [Problem(Place(case.file, *one.at), one.code, one.message, one.fix)
            for case, found in failing_cases(prepared, texts) for one in found]


def failing_cases(prepared: Prepared, texts: Texts) -> list[tuple[CaseText, tuple[Departure, ...]]]:
    """The cases that were argued for just these rules and that the rules do not meet, each with where they part."""
    memory = new_memory()
    failing = []
    for case in judged_cases(texts):
        wanted = {one.decision for one in case.expect}
        answered = answer_case(prepared, case, memory) if case.selection else judge_case(prepared, case, memory, wanted)
        found = departures(prepared, answered)
        if found:
            failing.append((case, found))
    return failing


def departures(prepared: Prepared, answered: AnsweredCase) -> tuple[Departure, ...]:
    """Where the rules and one case part, in the order of the case."""
    case = answered.case
    found = [Departure("R001", (case.line, 1), (), "", "", "", (), f"case '{case.id}', {where}: {message}", fix)
             for where, message, fix in _unread(answered.reading)]
    if answered.judged is not None:
        says = {(decision.decision, candidate.candidate): candidate
                for decision in answered.judged.decisions for candidate in decision.candidates}
        for expected in case.expect:
            found += _compare(case, expected, says[(expected.decision, expected.candidate)])
        found += _compare_selection(case, answered.selected) if answered.selected else []
        found += [Departure("R009", one.at, one.keep, one.verdict, one.rule, verdict, rules,
                            f"case '{case.id}' expects {message}",
                            "mend the rule, or argue the case anew and change its expectation")
                  for one, verdict, rules, message in parted_together(prepared, answered.reading.application, case.together)]
    return tuple(found)


def judged_cases(texts: Texts) -> tuple[CaseText, ...]:
    """The cases that were argued for just these rules."""
    if texts.overlay is None:
        return texts.cases
    return tuple(case for case in texts.cases if case.id in texts.overlay.cases)


def check_starters(prepared: Prepared, texts: Texts) -> list[Problem]:
    """R008: an answer of a starter sheet cannot be read."""
    problems = []
    for starter in texts.starters:
        problems += [Problem(Place(starter.file, starter.line, 1), "R008",
                             f"starter sheet '{starter.id}', {where}: {message}", fix)
                     for where, message, fix in _unread(judge_case(prepared, starter).reading)]
    return problems


def other_together(prepared: Prepared, application: Application, expected: tuple[TogetherText, ...],
                   ) -> list[tuple[TogetherText, str]]:
    """The expectations of candidates together that the rules do not meet, each with what they say instead."""
    return [(one, message) for one, _, _, message in parted_together(prepared, application, expected)]


def parted_together(prepared: Prepared, application: Application, expected: tuple[TogetherText, ...],
                    ) -> list[tuple[TogetherText, str, tuple[str, ...], str]]:
    """The same, with the verdict that the rules give and the rules of it before the message."""
    told = tell(prepared, application) if expected else None
    messages = []
    for one in expected if told is not None else ():
        kept = kept_places(prepared, one.keep)
        bounds, verdicts = verdict_of(prepared, told, kept)
        ranks = rules_of(prepared.pack, told, kept, verdicts)
        says = VERDICTS[shown(bounds)]
        if says != one.verdict or one.rule and one.rule not in ranks:
            by = f" by {one.rule}" if one.rule else ""
            worst = [rule for rule, rank in ranks.items() if rank == min(ranks.values())]
            messages.append((one, says, tuple(worst), f"{in_words(one.keep)} {one.verdict}{by}, but the rules say {says} "
                                                      f"({', '.join(worst) or 'no rule'})"))
    return messages


def in_words(keep: Pairs) -> str:
    """The candidates as a message names them."""
    return " with ".join(f"{decision} {candidate}" for decision, candidate in keep)


# private

def _unread(reading: ReadApplication) -> list[tuple[str, str, str]]:
    """Where, what, and what to type instead; a name that the guide does not hold is a slip here."""
    return [*((" ".join(part for part in (fault.state, fault.input) if part), fault.message, fault.fix)
              for fault in reading.problems),
            *((state, words, "write a name that the guide holds, or `unlisted`")
              for state, words in reading.application.unknown)]


def _compare(case: CaseText, expected: ExpectedText, found: CandidateResult) -> list[Departure]:
    keep = ((expected.decision, expected.candidate),)
    what = f"case '{case.id}' expects {expected.decision} {expected.candidate} {expected.verdict}"
    if found.verdict != expected.verdict:
        deciding = tuple(dict.fromkeys(reason.rule for reason in found.reasons
                                       if reason.verdict == found.reasons[0].verdict))
        return [Departure("R002", expected.at, keep, expected.verdict, expected.rule, found.verdict, deciding,
                          f"{what}, but the rules say {found.verdict} ({', '.join(deciding) or 'no rule'})",
                          "mend the rule, or argue the case anew and change its expectation")]
    if expected.rule and not any(reason.rule == expected.rule for reason in found.reasons):
        rules = tuple(dict.fromkeys(reason.rule for reason in found.reasons if reason.verdict == expected.verdict))
        return [Departure("R003", expected.at, keep, expected.verdict, expected.rule, found.verdict, rules,
                          f"{what} by {expected.rule}, which is not among the reasons",
                          f"name one of {', '.join(rules)}" if rules else "name no rule: no reason says this")]
    return []


def _compare_selection(case: CaseText, selected: Selected) -> list[Departure]:
    """Of a leading selection a case may name some decisions only."""
    chosen = selected.selections[0].chosen if selected.selections else ()
    leading = {one.decision: one.candidate for one in chosen}
    return [Departure("R007", at, ((decision, candidate),), candidate, "", leading.get(decision, ""), (),
                      f"case '{case.id}' expects the leading selection to have {decision} {candidate}, but "
                      f"{f'the rules lead with {leading[decision]}' if leading else 'no selection is left'}",
                      "mend the rule or the order of preference, or argue the case anew and change its selection")
            for (decision, candidate), at in zip(case.selection, case.selection_at, strict=True)
            if leading.get(decision) != candidate]
