"""Gives back the verdicts that no reference case reaches: those of each table, and those of each candidate.

Approved witnesses count as cases. A case reaches a verdict of a table when one of its states leaves a candidate no
other verdict there; it reaches a verdict of a candidate when the engine decides so. What a candidate can have at
all is worked out in `suitability`.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from generator.analyse.cases import AnsweredCase, judge_case
from generator.analyse.finding import KIND_OF, Finding
from generator.analyse.suitability import Layers, allows
from generator.evaluate.memory import new_memory
from generator.evaluate.prepared import Prepared
from generator.pack.model import VERDICTS
from generator.pack.texts import CaseText, Texts


def unreached(prepared: Prepared, texts: Texts, every: Layers, answered: Iterable[AnsweredCase] = ()) -> Iterator[Finding]:
    """Tables in the pack's order, then candidates; verdicts from bad to good. Cases that are among the `answered` are
    not asked again."""
    code = KIND_OF["unreached"].code
    of_tables, of_candidates = _reached(prepared, texts, {one.case.id: one for one in answered})
    for table in prepared.pack.tables:
        place = next((one.file, one.line) for one in texts.tables if one.id == table.id)
        for rank in sorted({row.verdict for row in table.rows}):
            if (table.id, rank) not in of_tables:
                rules = tuple(dict.fromkeys(row.rule for row in table.rows if row.verdict == rank))
                yield Finding("unreached", table.id, rules, "", f"no case reaches {VERDICTS[rank]}", *place,
                              f"{code} {table.id} {VERDICTS[rank]}", verdict=VERDICTS[rank])
    for decision in texts.decisions:
        for item in decision.items:
            layers = every[decision.id, item.id]
            for rank, verdict in enumerate(VERDICTS):
                if (decision.id, item.id, verdict) not in of_candidates and allows(layers, rank, exactly=True):
                    yield Finding(
                        "unreached", "", (), "", f"no case makes {decision.id} '{item.id}' {verdict}", item.file,
                        item.line, f"{code} {decision.id} {item.id} {verdict}", subject=item.id, verdict=verdict,
                        decision=decision.id)


# private

def _reached(prepared: Prepared, texts: Texts,
             known: dict[str, AnsweredCase]) -> tuple[set[tuple[str, int]], set[tuple[str, str, str]]]:
    memory = new_memory()
    tables: set[tuple[str, int]] = set()
    candidates: set[tuple[str, str, str]] = set()
    for case in (*texts.cases, *_approved(texts)):
        answered = known.get(case.id) or judge_case(prepared, case, memory, None)
        if answered.judged is None:
            continue
        candidates |= {(decision.decision, one.candidate, one.verdict) for decision in answered.judged.decisions
                       for one in decision.candidates if one.best == one.worst}
        for readings in answered.judged.readings.values():
            for reading in readings:
                table = prepared.tables[reading.table].table
                tables |= {(table.id, one.bounds.worst) for one in reading.outcomes.values()
                           if one.bounds.worst == one.bounds.best and not one.lacking}
    return tables, candidates


def _approved(texts: Texts) -> list[CaseText]:
    return [CaseText(one.id, one.title, "", one.application, one.judge, one.file, one.line)
            for one in texts.witnesses if one.approver]
