"""Gives back what a case still says when one table is another: only that table is read again, and only where
it differs.

`notices` agrees with checking the case against the whole mutated pack; it is only quicker.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

from generator.answers.application import read_application
from generator.evaluate.choice import (
    NO_EFFECT,
    GroupVerdict,
    Partners,
    Reading,
    Readings,
    group_bounds,
    judge_group,
    own_bounds,
    partners,
)
from generator.evaluate.mixtures import Part, parts_of, parts_read
from generator.evaluate.prepared import Prepared, column_answers
from generator.evaluate.reasons import group_reasons, ordered, own_reasons
from generator.evaluate.results import Answer, Application
from generator.evaluate.selection import choosing, leading_selections
from generator.evaluate.tables import NO_VALUE, OPEN, Bounds, Combination, Outcome, TableIndex, read_table
from generator.pack.model import VERDICTS, Pack, Table
from generator.pack.texts import CaseText

Asked = tuple[dict[int, Answer], dict[Combination, dict[int, Answer]]]
Signature = tuple[object, ...]
Pairs = tuple[tuple[str, str], ...]  # (decision, candidate)
Kept = dict[int, int]                # the place of a candidate by that of its decision


@dataclass(frozen=True, slots=True)
class Expectation:
    """A verdict that is expected of a candidate, or of several together; `rule` may be empty. It holds under
    the table as it is.
    """

    kept: Kept
    verdict: int
    rule: str


@dataclass(frozen=True, slots=True)
class Told:
    """An application with all that the tables say of it. `asked` and `signatures` are by table, and in it by the
    parts of the states that it is read for; `reached` are the rows of each table that some answer reaches,
    `settled` those that alone answer some combination. `leading` is what is expected of the leading selection;
    `concerned` are the places of the tables that were read; `changed` the combinations of which a table that
    was put in says something else.
    """

    id: str
    answers: dict[str, dict[str, Answer]]
    pinned: Pairs
    asked: dict[int, tuple[tuple[Part, Asked], ...]]
    readings: Readings
    own: tuple[tuple[Bounds, ...], ...]
    in_play: tuple[Partners, ...]
    groups: dict[tuple[int, ...], dict[Combination, Bounds]]
    reached: dict[int, frozenset[int]]
    settled: dict[int, frozenset[int]]
    signatures: dict[tuple[int, int], dict[Combination, Signature]]
    concerned: frozenset[int]
    expect: tuple[Expectation, ...] = ()
    leading: Pairs = ()
    changed: frozenset[Combination] = frozenset()

    @property
    def states(self) -> tuple[str, ...]:
        """Those that are described, in pack order."""
        return tuple(self.answers)


@dataclass(frozen=True, slots=True)
class Swap:
    """Another table at `place`. `changed` are the combinations of which it says something else than the table
    there, where it reads no answer and so says the same of every application; else None.
    """

    place: int
    index: TableIndex
    changed: frozenset[Combination] | None


def swap(prepared: Prepared, place: int, index: TableIndex) -> Swap:
    """The table at `place` replaced by another of the same columns."""
    was = prepared.tables[place]
    if was.fixed is None or index.fixed is None:
        return Swap(place, index, None)
    before = {key: _signature(was.table, one) for key, one in was.fixed.items()}
    return Swap(place, index, _changed(before, index.table, index.fixed))


def tell_case(prepared: Prepared, case: CaseText) -> Told | None:
    """The case with those of its expectations that hold; None where its answers cannot be read."""
    typed: dict[str, object] = {"id": case.id, "title": case.title}
    typed |= {state: "none" if answers is None else dict(answers) for state, answers in case.application}
    reading = read_application(prepared.pack, typed)
    if reading.problems:
        return None
    judged = [(kept_places(prepared, keep), verdict, rule) for keep, verdict, rule in (
        *((((one.decision, one.candidate),), one.verdict, one.rule) for one in case.expect),
        *((one.keep, one.verdict, one.rule) for one in case.together))
        if verdict in VERDICTS]                      # else nobody has made the judgement yet
    expect = tuple(Expectation(kept, VERDICTS.index(verdict), rule) for kept, verdict, rule in judged)
    told = tell(prepared, reading.application, None if case.selection else concerned_by(prepared, expect))
    leading = case.selection if case.selection and set(case.selection) <= set(leading_of(prepared, told)) else ()
    return replace(told, leading=leading,
                   expect=tuple(one for one in expect if _holds(prepared, prepared.pack, told, one)))


def concerned_by(prepared: Prepared, expect: tuple[Expectation, ...]) -> frozenset[int]:
    """The places of the tables on which these verdicts hang: those that name one of their decisions, and those
    of a decision that shares a table with one, which say what partners are in play.
    """
    kept = {decision for one in expect for decision in one.kept}
    beside = {one for names in prepared.decisions if not kept.isdisjoint(names) for one in names}
    return frozenset(place for place, names in enumerate(prepared.decisions)
                     if not kept.isdisjoint(names) or len(names) == 1 and names[0] in beside)


def kept_places(prepared: Prepared, keep: Pairs) -> Kept:
    """The places of the candidates named."""
    decisions = [decision.id for decision in prepared.pack.decisions]
    kept = {}
    for decision, candidate in keep:
        at = decisions.index(decision)
        kept[at] = [item.id for item in prepared.pack.decisions[at].candidates].index(candidate)
    return kept


def tell(prepared: Prepared, application: Application, concerned: frozenset[int] | None = None) -> Told:
    """The application, read in every table, or in those at some places only."""
    if concerned is None:
        concerned = frozenset(range(len(prepared.tables)))
    parts = {state.state: parts_of(prepared, state) for state in application.states}
    measuring = {state.id for state in prepared.pack.states if state.measuring}
    asked = {place: tuple((part, column_answers(prepared, index, part.answers, part.derived))
                          for state, several in parts.items() if index.table.always or state in measuring
                          for part in parts_read(prepared, place, several))
             for place, index in enumerate(prepared.tables) if place in concerned}
    found: dict[tuple[int, ...], list[Reading]] = {}
    signatures: dict[tuple[int, int], dict[Combination, Signature]] = {}
    reached: dict[int, set[int]] = {}
    settled: dict[int, set[int]] = {}
    for place in sorted(concerned):
        index = prepared.tables[place]
        for at, (part, asking) in enumerate(asked[place]):
            outcomes = read_table(index, *asking)
            found.setdefault(prepared.decisions[place], []).append(Reading(place, part, outcomes))
            signatures[place, at] = {key: _signature(index.table, one) for key, one in outcomes.items()}
            rows = reached.setdefault(place, set())
            for outcome in outcomes.values():
                rows.update(entry.row for entry in outcome.entries)
                rows.update(outcome.lacking)
            settled.setdefault(place, set()).update(outcome.entries[0].row for outcome in outcomes.values()
                                                    if len(outcome.entries) == 1 and not outcome.lacking)
    readings = {decisions: tuple(several) for decisions, several in found.items()}
    own = own_bounds(prepared.sizes, readings)
    answers = {state: whole.answers for state, (whole, *_) in parts.items()}
    return Told(application.id, answers, application.pinned, asked, readings, own, partners(own),
                group_bounds(readings), {place: frozenset(rows) for place, rows in reached.items()},
                {place: frozenset(rows) for place, rows in settled.items()}, signatures, concerned)


def retell(prepared: Prepared, told: Told, other: Swap) -> Told | None:
    """The same application when one table is another; None where that table says the same of it.

    The result's `asked`, `reached` and `signatures` are still those of the table as it was.
    """
    place, decisions = other.place, prepared.decisions[other.place]
    changed: set[Combination] = set(other.changed or ())
    after: list[Reading] = []
    for at, (part, asking) in enumerate(told.asked[place]):
        outcomes = read_table(other.index, *asking)
        if other.changed is None:
            changed |= _changed(told.signatures[place, at], other.index.table, outcomes)
        after.append(Reading(place, part, outcomes))
    if not changed or not after:
        return None
    again = iter(after)                              # the readings of one table stand in this same order
    shared = tuple(next(again) if reading.table == place else reading for reading in told.readings[decisions])
    readings = told.readings | {decisions: shared}
    if len(decisions) > 1:
        group = dict(told.groups[decisions])
        group.update({key: bounds for key, bounds in group_bounds({decisions: tuple(
            Reading(one.table, one.part, {key: one.outcomes[key] for key in changed if key in one.outcomes})
            for one in shared)})[decisions].items()})
        for key in changed:
            if not any(key in one.outcomes for one in shared):
                group.pop(key, None)
        return replace(told, readings=readings, groups=told.groups | {decisions: group}, changed=frozenset(changed))
    rows = list(told.own)
    rows[decisions[0]] = own_bounds(prepared.sizes, {decisions: shared})[decisions[0]]
    own = tuple(rows)
    return replace(told, readings=readings, own=own, in_play=partners(own), changed=frozenset(changed))


def notices(prepared: Prepared, told: Told, again: Told, other: Swap) -> bool:
    """Whether a verdict that the case expects no longer holds when it is told `again`. Only those are looked at
    that the changed combinations touch.
    """
    decisions = prepared.decisions[other.place]
    emptied = len(decisions) == 1 and told.in_play[decisions[0]] != again.in_play[decisions[0]]
    near = [one for one in told.expect if emptied and decisions[0] not in one.kept or any(
        all(one.kept.get(decision, place) == place for decision, place in zip(decisions, key))
        for key in again.changed) and not one.kept.keys().isdisjoint(decisions)]
    if not near:
        return False
    pack = with_table(prepared, other).pack
    return any(not _holds(prepared, pack, again, one) for one in near)


def notices_leading(prepared: Prepared, again: Told, other: Swap) -> bool:
    """Whether the case, told again, has another leading selection than the one that it expects."""
    return bool(again.leading) and not set(again.leading) <= set(leading_of(with_table(prepared, other), again))


def with_table(prepared: Prepared, other: Swap) -> Prepared:
    """The whole pack with the other table put in."""
    at, pack = other.place, prepared.pack
    return replace(prepared, tables=(*prepared.tables[:at], other.index, *prepared.tables[at + 1 :]), pack=replace(
        pack, tables=(*pack.tables[:at], other.index.table, *pack.tables[at + 1 :])))


def leading_of(prepared: Prepared, told: Told) -> Pairs:
    """The leading selection; nothing where none is left."""
    selections = leading_selections(
        choosing(prepared, told.readings, told.answers, told.own, told.groups, told.pinned))
    return tuple((one.decision, one.candidate) for one in selections[0].chosen) if selections else ()


def verdict_of(prepared: Prepared, told: Told, kept: Kept) -> tuple[Bounds, tuple[GroupVerdict, ...]]:
    """The bounds of a candidate's verdict, and what the groups of shared tables say of it. Of several together:
    the worst of each by its own tables, and of every group that names one of them, the others kept and the
    best of all partners in play chosen beside them.
    """
    bounds = NO_EFFECT
    for decision, candidate in kept.items():
        bounds = bounds.meet(told.own[decision][candidate])
    in_play = _beside(told.in_play, kept)
    verdicts = []
    for names, combinations in told.groups.items():
        decision = next((one for one in names if one in kept), None)
        if decision is not None:
            verdicts.append(judge_group(
                names, combinations, decision, kept[decision], in_play, prepared.sizes))
            bounds = bounds.meet(verdicts[-1].bounds)
    return bounds, tuple(verdicts)


def rules_of(pack: Pack, told: Told, kept: Kept, verdicts: tuple[GroupVerdict, ...]) -> dict[str, int]:
    """The rules that say something of the candidates kept, each with the rank of its verdict, worst first."""
    in_play = _beside(told.in_play, kept)
    found = [reason for decision, candidate in kept.items()
             for reason in own_reasons(pack, told.readings, told.states, decision, candidate)]
    for verdict in verdicts:
        decision = next(one for one in verdict.decisions if one in kept)
        found += group_reasons(pack, told.readings, told.states, decision, kept[decision], verdict, in_play)
    ranks: dict[str, int] = {}
    for reason in ordered(found):
        ranks.setdefault(reason.rule, VERDICTS.index(reason.verdict))
    return ranks


def shown(bounds: Bounds) -> int:
    """The rank of the verdict that is shown."""
    return bounds.worst if bounds.worst == bounds.best else OPEN


# private

def _holds(prepared: Prepared, pack: Pack, told: Told, one: Expectation) -> bool:
    bounds, verdicts = verdict_of(prepared, told, one.kept)
    return shown(bounds) == one.verdict and (
        not one.rule or one.rule in rules_of(pack, told, one.kept, verdicts))


def _beside(in_play: tuple[Partners, ...], kept: Kept) -> tuple[Partners, ...]:
    """The partners in play when the candidates kept are the only ones of their decisions."""
    return tuple(Partners((kept[at],), (kept[at],), False) if at in kept else one for at, one in enumerate(in_play))


def _changed(was: dict[Combination, Signature], table: Table,
             outcomes: dict[Combination, Outcome]) -> frozenset[Combination]:
    return frozenset(key for key in outcomes.keys() | was.keys()
                     if key not in outcomes or was.get(key) != _signature(table, outcomes[key]))


def _signature(table: Table, outcome: Outcome) -> Signature:
    """What an outcome says, by rules and not by their places."""
    return (
        outcome.bounds,
        tuple(
            ("" if entry.row == NO_VALUE else table.rows[entry.row].rule, entry.rank, entry.certain)
            for entry in outcome.entries
        ),
    )
