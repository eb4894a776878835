"""Gives back what is wrong with witnesses: those that nobody has judged, and those that the rules contradict.
"""

from __future__ import annotations

from collections.abc import Iterator

from generator.analyse.cases import in_words, judge_case, other_together
from generator.analyse.pinning import as_case
from generator.evaluate.memory import new_memory
from generator.evaluate.prepared import Prepared
from generator.evaluate.select import Judged
from generator.pack.texts import ExpectedText, Texts, WitnessText
from generator.problems import Place, Problem

JUDGE = "judge it from what is known, not from what the rules say, and fill in; or delete the file"
JUDGE_ANEW = "mend the rule, or have the witness judged anew"


def check_witnesses(prepared: Prepared, texts: Texts) -> list[Problem]:
    """R001: an answer cannot be read. R005: a verdict, a because or the approver is still missing. R006: the
    rules say another verdict than the one that was approved, or give it by other rules than the one named.
    """
    problems: list[Problem] = []
    memory = new_memory()
    for witness in texts.witnesses:
        place = Place(witness.file, witness.line, 1)
        missing = [f"{name} of {one.decision} {one.candidate}" for one in witness.judge
                   for name, text in (("verdict", one.verdict), ("because", one.because)) if not text]
        missing += [f"{name} of {in_words(one.keep)}" for one in witness.together
                    for name, text in (("verdict", one.verdict), ("because", one.because)) if not text]
        missing += [] if witness.judge or witness.together else ["judgement"]
        missing += [] if witness.approver else ["approver"]
        if missing:
            problems.append(Problem(place, "R005", f"witness '{witness.id}' has no {', no '.join(missing)}", JUDGE))
        answered = judge_case(prepared, as_case(witness), memory, {one.decision for one in witness.judge})
        problems += [Problem(place, "R001", f"witness '{witness.id}', {fault.state} {fault.input}: {fault.message}",
                             fault.fix) for fault in answered.reading.problems]
        if answered.judged is not None:
            problems += [Problem(Place(witness.file, *one.at), "R006", f"witness '{witness.id}' {message}", JUDGE_ANEW)
                         for one, message in _contradictions(witness, answered.judged)]
            judged = tuple(one for one in witness.together if one.verdict)
            problems += [Problem(Place(witness.file, *one.at), "R006", f"witness '{witness.id}' was approved with {message}",
                                 JUDGE_ANEW)
                         for one, message in other_together(prepared, answered.reading.application, judged)]
    return problems


# private

def _contradictions(witness: WitnessText, judged: Judged) -> Iterator[tuple[ExpectedText, str]]:
    found = {(decision.decision, candidate.candidate): candidate
             for decision in judged.decisions for candidate in decision.candidates}
    for one in witness.judge:
        says = found[one.decision, one.candidate]
        rules = tuple(dict.fromkeys(reason.rule for reason in says.reasons))
        if one.verdict and one.verdict != says.verdict or one.rule and one.rule not in rules:
            by = f" by {one.rule}" if one.rule else ""
            yield one, (f"was approved with {one.decision} {one.candidate} {one.verdict}{by}, but the rules say "
                        f"{says.verdict} ({rules[0] if rules else 'no rule'})")
