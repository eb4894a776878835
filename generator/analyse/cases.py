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
    problems = []
    memory = new_memory()
    for case in judged_cases(texts):
        wanted = {one.decision for one in case.expect}
        answered = answer_case(prepared, case, memory) if case.selection else judge_case(prepared, case, memory, wanted)
        place = Place(case.file, case.line, 1)
        problems += [Problem(place, "R001", f"case '{case.id}', {where}: {message}", fix)
                     for where, message, fix in _unread(answered.reading)]
        if answered.judged is not None:
            found = {(decision.decision, candidate.candidate): candidate
                     for decision in answered.judged.decisions for candidate in decision.candidates}
            for expected in case.expect:
                problems += _compare(case, expected, found[(expected.decision, expected.candidate)])
            problems += _compare_selection(case, answered.selected) if answered.selected else []
            problems += [Problem(Place(case.file, *one.at), "R009", f"case '{case.id}' expects {message}",
                                 "mend the rule, or argue the case anew and change its expectation")
                         for one, message in other_together(prepared, answered.reading.application, case.together)]
    return problems


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
    """The expectations of candidates together that the rules do not meet: what was expected, and what they say."""
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
            messages.append((one, f"{in_words(one.keep)} {one.verdict}{by}, but the rules say {says} "
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


def _compare(case: CaseText, expected: ExpectedText, found: CandidateResult) -> list[Problem]:
    place = Place(case.file, *expected.at)
    what = f"case '{case.id}' expects {expected.decision} {expected.candidate} {expected.verdict}"
    if found.verdict != expected.verdict:
        deciding = ", ".join(dict.fromkeys(reason.rule for reason in found.reasons
                                           if reason.verdict == found.reasons[0].verdict)) or "no rule"
        return [Problem(place, "R002", f"{what}, but the rules say {found.verdict} ({deciding})",
                        "mend the rule, or argue the case anew and change its expectation")]
    if expected.rule and not any(reason.rule == expected.rule for reason in found.reasons):
        rules = dict.fromkeys(reason.rule for reason in found.reasons if reason.verdict == expected.verdict)
        return [Problem(place, "R003", f"{what} by {expected.rule}, which is not among the reasons",
                        f"name one of {', '.join(rules)}" if rules else "name no rule: no reason says this")]
    return []


def _compare_selection(case: CaseText, selected: Selected) -> list[Problem]:
    """Of a leading selection a case may name some decisions only."""
    chosen = selected.selections[0].chosen if selected.selections else ()
    leading = {one.decision: one.candidate for one in chosen}
    return [Problem(Place(case.file, *at), "R007",
                    f"case '{case.id}' expects the leading selection to have {decision} {candidate}, but "
                    f"{f'the rules lead with {leading[decision]}' if leading else 'no selection is left'}",
                    "mend the rule or the order of preference, or argue the case anew and change its selection")
            for (decision, candidate), at in zip(case.selection, case.selection_at, strict=True)
            if leading.get(decision) != candidate]
