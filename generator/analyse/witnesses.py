"""Gives back applications that would pin what no case pins yet, each with the candidates to judge and never a
verdict.

For each surviving mutant a reference case is changed just so far that it lies where the mutant differs and a
shown verdict hangs on it: that of a candidate, or, where a better partner hides it from every candidate, that of
candidates together. Of all applications so found the greedy cover takes the one that notices most, then
the one that notices most of the rest, and so on: small, though not proved smallest.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from generator.analyse.mutants import Mutant, Space, space_of
from generator.analyse.mutated import mutated_index
from generator.analyse.placing import Typed, application_of, combinations, placed, resized
from generator.analyse.retold import Kept, Pairs, Swap, Told, retell, shown, swap, tell, verdict_of
from generator.answers.application import NORMAL
from generator.boxes.sets import Box
from generator.evaluate.prepared import Prepared
from generator.pack.texts import Texts

MOST_TRIALS = 24                     # applications that are tried for one mutant

MOST_TOGETHER = 6                    # combinations that are tried in one application

Judged = Pairs                       # one candidate, or several together


@dataclass(frozen=True, slots=True)
class Proposal:
    """An application of the normal state alone, as typed, the candidates to judge, and the mutants they would
    notice.
    """

    id: str
    title: str
    answers: tuple[tuple[str, str], ...]
    judge: tuple[Judged, ...]
    notices: tuple[Mutant, ...]


@dataclass(frozen=True, slots=True)
class Proposals:
    """`beyond` are the mutants for which no application was found."""

    proposals: tuple[Proposal, ...]
    beyond: tuple[Mutant, ...]


def propose(prepared: Prepared, texts: Texts, survivors: tuple[Mutant, ...]) -> Proposals:
    """A greedy cover of the mutants by applications and candidates to judge."""
    finder = _Finder(prepared, texts)
    beyond = []
    for mutant in survivors:
        if not finder.find(mutant):
            beyond.append(mutant)
    return Proposals(
        tuple(_cover(prepared, finder, {one.id for one in (*texts.witnesses, *texts.cases)})), tuple(beyond)
    )


# private

@dataclass(frozen=True, slots=True)
class _Tried:
    typed: Typed
    told: Told


class _Finder:
    """The applications found so far, and which mutants each notices by which candidates."""

    def __init__(self, prepared: Prepared, texts: Texts) -> None:
        self.prepared = prepared
        self.pool: list[_Tried] = []
        self.noticed: dict[tuple[int, Judged], list[Mutant]] = {}
        self.spaces: dict[int, Space] = {}
        self.bases = [dict(answers) for case in texts.cases for state, answers in case.application
                      if state == NORMAL and answers and "not answered" not in dict(answers).values()]
        self.bores = {
            option.id: dict(option.numbers).get("nominal_bore", 0.0)
            for item in prepared.pack.inputs
            if item.id == "pipe_size"
            for option in item.options
        }
        self.tries: dict[tuple[tuple[str, str], ...], Told | None] = {}

    def find(self, mutant: Mutant) -> bool:
        """Notes every known application that notices the mutant; looks for a new one where there is none."""
        space = self.spaces.setdefault(
            mutant.table, space_of(self.prepared.pack, self.prepared.pack.tables[mutant.table])
        )
        other = swap(self.prepared, mutant.table, mutated_index(
            self.prepared.pack, space, self.prepared.tables[mutant.table], mutant))
        found = False
        for place, tried in enumerate(self.pool):
            found |= self._note(place, tried.told, mutant, other, space)
        if found:
            return True
        hidden = None
        for typed in self._places(mutant, space):
            told = self._told(typed)
            judged = () if told is None else self._judged(told, mutant, other, space)
            if judged and len(judged[0]) == 1:
                return self._keep(_Tried(typed, told), mutant, other, space)
            if judged and hidden is None:
                hidden = _Tried(typed, told)
        return hidden is not None and self._keep(hidden, mutant, other, space)

    def _keep(self, tried: _Tried, mutant: Mutant, other: Swap, space: Space) -> bool:
        self.pool.append(tried)
        return self._note(len(self.pool) - 1, tried.told, mutant, other, space)

    def _note(self, place: int, told: Told, mutant: Mutant, other: Swap, space: Space) -> bool:
        judged = self._judged(told, mutant, other, space)
        for one in judged:
            self.noticed.setdefault((place, one), []).append(mutant)
        return bool(judged)

    def _judged(self, told: Told, mutant: Mutant, other: Swap, space: Space) -> tuple[Judged, ...]:
        """The candidates whose shown verdict differs under the mutant; where a better partner hides it from all
        of them, some that differ together.
        """
        if space.table.hit_policy == "unique" and told.reached.get(mutant.table, frozenset()).isdisjoint(
            mutant.gone
        ):
            return ()
        again = retell(self.prepared, told, other)
        if again is None:
            return ()
        decisions = self.prepared.decisions[mutant.table]
        alone = self._differ(told, again, [
            {decision: at} for decision in decisions for at in range(self.prepared.sizes[decision])])
        if alone or len(decisions) == 1:
            return alone
        return self._differ(told, again, [dict(zip(decisions, key)) for key in sorted(again.changed)[:MOST_TOGETHER]])

    def _differ(self, told: Told, again: Told, several: list[Kept]) -> tuple[Judged, ...]:
        return tuple(self._named(kept) for kept in several
                     if shown(verdict_of(self.prepared, told, kept)[0])
                     != shown(verdict_of(self.prepared, again, kept)[0]))

    def _named(self, kept: Kept) -> Judged:
        decisions = self.prepared.pack.decisions
        return tuple((decisions[at].id, decisions[at].candidates[place].id) for at, place in kept.items())

    def _told(self, typed: Typed) -> Told | None:
        key = tuple(sorted(typed.items()))
        if key not in self.tries:
            application = application_of(self.prepared, typed)
            self.tries[key] = None if application is None else tell(self.prepared, application)
        return self.tries[key]

    def _places(self, mutant: Mutant, space: Space) -> Iterator[Typed]:
        trials = 0
        for region in mutant.regions:
            near = sorted(self.bases, key=lambda base: self._distance(space, region.box, base))
            for base in near[:MOST_TRIALS]:
                for combination in self._some(space, region.box, base):
                    start = base
                    if "size" in combination:
                        start = resized(self.prepared, base, self._size(combination["size"]), self.bores)
                    typed = placed(self.prepared, space, region.box, start, combination)
                    trials += 1
                    if typed is not None:
                        yield typed
                    if trials >= MOST_TRIALS:
                        return

    def _some(self, space: Space, box: Box, base: Typed) -> list[dict[str, int]]:
        """The base's own size where the box holds it, and one from the middle: not every one of 180 pairs."""
        every = list(combinations(self.prepared, space, box))
        own = [one for one in every if "size" in one and self._size(one["size"]) == base.get("pipe_size")]
        return [*own[:1], every[len(every) // 2]] if len(every) > 2 else every

    def _size(self, place: int) -> str:
        return next(one.candidates[place].id for one in self.prepared.pack.decisions if one.id == "size")

    def _distance(self, space: Space, box: Box, base: Typed) -> int:
        """How many choice inputs of the table would have to change: the less, the more natural the
        application.
        """
        return sum(
            column.source == "input" and column.kind == "choice" and base.get(column.name) not in one.ids
            for column, one in zip(space.table.columns, box)
        )


def _cover(prepared: Prepared, finder: _Finder, taken: set[str]) -> Iterator[Proposal]:
    left = {id(mutant): mutant for several in finder.noticed.values() for mutant in several}
    by_place: dict[int, dict[Judged, list[Mutant]]] = {}
    for (place, judged), several in finder.noticed.items():
        by_place.setdefault(place, {})[judged] = several
    while left:
        place = max(
            by_place,
            key=lambda at: len(
                {id(one) for several in by_place[at].values() for one in several if id(one) in left}
            ),
        )
        judged: list[Judged] = []
        here: list[Mutant] = []
        while True:
            counts = {
                one: sum(id(mutant) in left for mutant in several) for one, several in by_place[place].items()
            }
            best = max(counts, key=lambda one: counts[one])
            if not counts[best]:
                break
            judged.append(best)
            here += [left.pop(id(mutant)) for mutant in by_place[place][best] if id(mutant) in left]
        rules = tuple(dict.fromkeys(rule for mutant in here for rule in mutant.rules))
        table = prepared.pack.tables[here[0].table].id
        name = next(made for number in range(1, 10_000) if (made := f"{table}_{number}") not in taken)
        taken.add(name)
        more = f" and {len(rules) - 1} more rule{'s' if len(rules) > 2 else ''}" if len(rules) > 1 else ""
        order = [item.id for item in prepared.pack.inputs]
        typed = finder.pool[place].typed
        yield Proposal(
            name,
            f"To judge {rules[0]}{more}",
            tuple(sorted(typed.items(), key=lambda pair: order.index(pair[0]))),
            tuple(judged),
            tuple(here),
        )
