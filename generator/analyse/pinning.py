"""Gives back how well cases and approved witnesses pin the rules: the share of mutants that some expectation
notices.

Two scores stand side by side: the reference cases that people wrote, and these together with the approved
witnesses. A third figure counts letters, which the media's records hold and outside corrosion points pin as
well: a letter is pinned when a case notices each of its three other verdicts.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable
from dataclasses import dataclass

from generator.analyse.masks import is_masked
from generator.analyse.mutants import Mutant, Space, author_mutants, space_of, verdict_mutant
from generator.analyse.mutated import mutated_index
from generator.analyse.retold import Told, notices, notices_leading, retell, swap, tell_case
from generator.evaluate.prepared import Prepared
from generator.pack.model import VERDICTS, Pack
from generator.pack.texts import CaseText, Texts, WitnessText


@dataclass(frozen=True, slots=True)
class Score:
    """Of `mutants`, `noticed` are noticed."""

    noticed: int
    mutants: int

    @property
    def percent(self) -> float:
        return 100.0 * self.noticed / self.mutants if self.mutants else 100.0


@dataclass(frozen=True, slots=True)
class CountedLimit:
    """A limit of a table that `rules` share, and the ways it could move (up, down, side) unnoticed: by any case
    or witness, or because another rule hides it. `below_in`: the number belongs to what is below.
    """

    table: str
    column: str
    number: float
    below_in: bool
    rules: tuple[str, ...]
    unnoticed: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Pinning:
    """`hand_written` and `with_witnesses` count the mutants of author rules; `by_kind` splits the second by
    kind. What can never be noticed is left out of them and counted: `equivalent` mutants change no verdict of
    their table, `masked` ones none of any application, since another rule is always as bad. `unpinned` rules
    lose no mutant at all to cases or witnesses, `survivors` are the mutants that nobody notices; `letters`
    counts letters pinned by cases; `limits` are all that could be moved so that a verdict changes.
    """

    hand_written: Score
    with_witnesses: Score
    by_kind: tuple[tuple[str, Score], ...]
    equivalent: int
    masked: int
    unpinned: tuple[str, ...]
    survivors: tuple[Mutant, ...]
    letters: Score
    limits: tuple[CountedLimit, ...]


def pinning_scores(prepared: Prepared, texts: Texts, share: int = 1, tables: Collection[str] = ()) -> Pinning:
    """All scores, or those of some tables by id. With `share` n only each n-th mutant is tried: a sample, for
    tests.
    """
    pack = prepared.pack
    made = author_mutants(pack, texts, tables)
    tried = tuple(mutant for mutant in made.mutants if mutant.kind != "member")[::share]
    cases = told_cases(prepared, texts.cases)
    witnesses = told_cases(prepared, map(as_case, texts.witnesses))
    spaces = {place: space_of(pack, pack.tables[place]) for place in {mutant.table for mutant in tried}}
    by_cases, by_witnesses, masked = [], [], []
    survivors = []
    for mutant in tried:
        if noticed_by(prepared, spaces[mutant.table], mutant, cases):
            by_cases.append(mutant)
        elif noticed_by(prepared, spaces[mutant.table], mutant, witnesses):
            by_witnesses.append(mutant)
        else:
            (masked if is_masked(pack, mutant) else survivors).append(mutant)
    noticed = (*by_cases, *by_witnesses)
    pinned = {rule for mutant in noticed for rule in mutant.rules}
    count = len(noticed) + len(survivors)
    kinds = dict.fromkeys(mutant.kind for mutant in tried)
    return Pinning(
        Score(len(by_cases), count), Score(len(noticed), count),
        tuple((kind, Score(sum(one.kind == kind for one in noticed),
                           sum(one.kind == kind for one in (*noticed, *survivors)))) for kind in kinds),
        made.equivalent, len(masked),
        tuple(dict.fromkeys(rule for mutant in survivors for rule in mutant.rules if rule not in pinned)),
        tuple(survivors), letters_pinned(prepared, texts, (*cases, *witnesses), tables),
        _limits(pack, tried, (*survivors, *masked)))


def told_cases(prepared: Prepared, cases: Iterable[CaseText]) -> tuple[Told, ...]:
    """The cases whose answers can be read, each with all that the tables say of it; those with the fewest open
    answers, which are quickest to look at and notice most, first.
    """
    told = [one for case in cases if (one := tell_case(prepared, case)) is not None]
    return tuple(sorted(told, key=lambda one: sum(map(len, one.reached.values()))))


def noticed_by(prepared: Prepared, space: Space, mutant: Mutant, cases: Iterable[Told]) -> bool:
    """Whether an expectation of one of the cases fails under the mutant. Verdicts are quick to look at and come
    first; a leading selection has to be found anew.
    """
    near = [told for told in cases if mutant.table in told.concerned and told.asked[mutant.table]
            and not _stays_away(space, mutant, told)]
    if not near:
        return False
    other = swap(prepared, mutant.table,
                 mutated_index(prepared.pack, space, prepared.tables[mutant.table], mutant))
    selections = []
    for told in near:
        again = retell(prepared, told, other)
        if again is not None:
            if notices(prepared, told, again, other):
                return True
            selections += [again] if again.leading else []
    return any(notices_leading(prepared, again, other) for again in selections)


def as_case(witness: WitnessText) -> CaseText:
    """A witness in the shape of a case; judgements without a verdict expect nothing."""
    return CaseText(witness.id, witness.title, "", witness.application, witness.judge, witness.file,
                    witness.line, together=witness.together)


def letters_pinned(
    prepared: Prepared, texts: Texts, cases: tuple[Told, ...], tables: Collection[str] = ()
) -> Score:
    """The letters of the media that cases pin. Only those are tried that alone answer some case."""
    letters = {rule.rule for rule in texts.rules
               if rule.origin == "letter" and (not tables or rule.table in tables)}
    return Score(len(_pinned_letters(prepared, letters, cases)), len(letters))


# private

def _limits(pack: Pack, tried: Iterable[Mutant], unnoticed: Iterable[Mutant]) -> tuple[CountedLimit, ...]:
    missed = set(map(id, unnoticed))
    ways: dict[tuple[int, str, float, bool, tuple[int, ...], tuple[str, ...]], list[str]] = {}
    for mutant in tried:
        if mutant.limit is not None:
            key = (mutant.table, mutant.limit.column, mutant.limit.number, mutant.limit.below_in, mutant.gone,
                   mutant.rules)
            ways.setdefault(key, []).extend([mutant.limit.way] if id(mutant) in missed else [])
    return tuple(CountedLimit(pack.tables[table].id, column, number, below_in, rules, tuple(dict.fromkeys(several)))
                 for (table, column, number, below_in, _, rules), several in ways.items())


def _stays_away(space: Space, mutant: Mutant, told: Told) -> bool:
    """In a unique table every change takes something from a row that goes; a case that reaches none of them
    is left alone.
    """
    return space.table.hit_policy == "unique" and told.reached.get(mutant.table, frozenset()).isdisjoint(
        mutant.gone
    )


def _pinned_letters(prepared: Prepared, letters: set[str], cases: tuple[Told, ...]) -> set[str]:
    found: set[str] = set()
    pack: Pack = prepared.pack
    for place, table in enumerate(pack.tables):
        rows: dict[str, list[int]] = {}
        reached = frozenset().union(*(told.settled.get(place, frozenset()) for told in cases))
        for at, row in enumerate(table.rows):
            if row.rule in letters and at in reached:
                rows.setdefault(row.rule, []).append(at)
        space = space_of(pack, table) if rows else None
        for rule, places in rows.items():
            others = [verdict for verdict in range(len(VERDICTS)) if verdict != table.rows[places[0]].verdict]
            if all(
                noticed_by(prepared, space, verdict_mutant(place, space, rule, tuple(places), verdict), cases)
                for verdict in others
            ):
                found.add(rule)
    return found
