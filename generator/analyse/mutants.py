"""Gives back the mutants of a pack's rules: each limit, choice and verdict of each rule changed a little, one
at a time.

A mutant is a table with one fault in it, such as a typing mistake would make; a good set of cases notices
every one.

    limit     A limit is a cut on a number axis with all rows that meet at it: `<= 40` of one rule and `> 40`
              of the next are one limit and move together, so that the table stays complete and disjoint. It
              moves up and down by 5 % of the width (from the lowest to the highest limit of its column; of a
              single limit, its own amount), never beyond the middle of the way to the next limit of the same
              rows; and it changes sides, `<=` to `<`.
    choice    Each id of a choice cell is left out, and each id beside one of them (in the input's order) is
              added. What is left out falls to the table's `otherwise`, or is open; what is added is taken
              from the rows that had it. `with flag` is one choice: it is left out (the rule never holds), and
              taken for any medium. Which media bear the flag is written in their records, as their letters
              are, and is counted with the letters. Of a cell that holds most media (`not` some), the choices
              are those that it names: each is taken in, and those beside left out.
    verdict   Each rule gives each of the three other verdicts. A rule of a collect table that gives suitable is
              a rule left out. `otherwise` gives the two others that are not suitable.

The exact comparison: `regions` are the boxes in which the mutated table says another verdict than the table.
A mutant without regions changes nothing and is not given back, only counted.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator, Sequence
from dataclasses import dataclass, replace

from generator.analyse.findings import row_box, table_space
from generator.analyse.limits import limits_of, moved
from generator.boxes.sets import Axis, Box, ChoiceAxis, Choices, is_empty
from generator.boxes.split import common, subtract
from generator.pack.model import VERDICTS, Pack, Table
from generator.pack.texts import Texts

OPEN, SUITABLE = VERDICTS.index("open"), VERDICTS.index("suitable")
OTHERWISE = "otherwise"


@dataclass(frozen=True, slots=True)
class Piece:
    """A row of a mutated table, in place of those that are gone; `verdict` is a rank."""

    rule: str
    verdict: int
    box: Box


@dataclass(frozen=True, slots=True)
class Region:
    """A box in which the verdict is another; `level` is the rank of the worse of the two verdicts there."""

    box: Box
    level: int


@dataclass(frozen=True, slots=True)
class Move:
    """A limit that moved: its column and number, whether that belongs to what is below, and `way`: up, down, or
    side (it belongs to the other side).
    """

    column: str
    number: float
    below_in: bool
    way: str


@dataclass(frozen=True, slots=True)
class Mutant:
    """One fault. `table` is a place in the pack; `rules` whose fault it is (those that share a moved limit);
    `gone` are the rows that `new` ones replace.
    """

    table: int
    kind: str                        # limit, choice, verdict; member: a medium bears a flag or does not
    rules: tuple[str, ...]
    what: str                        # "temperature_max 40 to 48", "liner without pfa", "suitable to open"
    gone: tuple[int, ...]
    new: tuple[Piece, ...]
    regions: tuple[Region, ...]
    limit: Move | None = None        # of a limit: which one, and how it moved


@dataclass(frozen=True, slots=True)
class Mutants:
    """All that change a verdict somewhere, and how many were left out because they change none."""

    mutants: tuple[Mutant, ...]
    equivalent: int


@dataclass(frozen=True, slots=True)
class Space:
    """A table with the boxes of its rows."""

    table: Table
    axes: tuple[Axis, ...]
    boxes: tuple[Box, ...]


def author_mutants(pack: Pack, texts: Texts, tables: Collection[str] = ()) -> Mutants:
    """Those of every rule that an author wrote into a table, `otherwise` among them; of some tables only where
    ids are given.
    """
    authored = {rule.rule for rule in texts.rules if rule.origin in ("author", "overlay")}
    written = authored | {rule.rule for rule in texts.rules if rule.origin == OTHERWISE}
    flags = flagged_media(pack, texts)
    kept: list[Mutant] = []
    equivalent = 0
    for place, table in enumerate(pack.tables):
        if tables and table.id not in tables or not any(row.rule in written for row in table.rows):
            continue
        space = space_of(pack, table)
        for mutant in table_mutants(place, space, authored, written, flags):
            regions = changed_regions(space, mutant)
            equivalent += not regions
            if regions:
                kept.append(replace(mutant, regions=regions))
    return Mutants(tuple(kept), equivalent)


def table_mutants(place: int, space: Space, authored: set[str], written: set[str],
                  flags: dict[tuple[str, ...], str]) -> Iterator[Mutant]:
    """All mutants of one table, their regions not yet worked out: limits and choices of the rules `authored`,
    verdicts of those `written`, which hold `otherwise` as well. `flags` is what `flagged_media` gives.
    """
    yield from _limits(place, space, authored)
    yield from _choices(place, space, authored, flags)
    yield from _verdicts(place, space, written)


def space_of(pack: Pack, table: Table) -> Space:
    """The table's axes and the boxes of its rows."""
    axes = table_space(pack, table)
    return Space(table, axes, tuple(row_box(table, row, axes) for row in table.rows))


def flagged_media(pack: Pack, texts: Texts) -> dict[tuple[str, ...], str]:
    """The flag for each set of medium ids that is exactly its bearers."""
    order = [option.id for item in pack.inputs if item.id == "medium" for option in item.options]
    bearers: dict[str, set[str]] = {}
    for medium in texts.media:
        for flag in medium.item.flags:
            bearers.setdefault(flag, set()).add(medium.item.id)
    return {
        tuple(name for name in order if name in ids): flag for flag, ids in bearers.items() if len(ids) > 1
    }


def changed_regions(space: Space, mutant: Mutant) -> tuple[Region, ...]:
    """Where the two tables say different verdicts: no point in two regions of the same two rows, and none
    left out.

    A worse verdict is gone where a row gone had it and no row of the mutated table is as bad, and new the
    other way round.
    """
    if mutant.kind == "verdict" and space.table.hit_policy == "unique":
        return tuple(
            Region(piece.box, min(piece.verdict, space.table.rows[mutant.gone[0]].verdict))
            for piece in mutant.new
        )
    gone = [
        Piece(space.table.rows[at].rule, space.table.rows[at].verdict, space.boxes[at]) for at in mutant.gone
    ]
    others: list[Piece] = []
    if space.table.hit_policy == "collect":  # rows of a unique table share nothing with those that stay
        others = [
            Piece(row.rule, row.verdict, box)
            for at, (row, box) in enumerate(zip(space.table.rows, space.boxes))
            if at not in mutant.gone
        ]
    found: list[Region] = []
    for before, after in ((gone, mutant.new), (mutant.new, gone)):
        for piece in before:
            if piece.verdict == SUITABLE and space.table.hit_policy == "collect":
                continue
            as_bad = [one.box for one in (*after, *others) if one.verdict <= piece.verdict]
            better = [one for one in after if one.verdict > piece.verdict]
            if space.table.hit_policy == "unique":   # complete: it is better exactly where a better row is
                found += [Region(shared, piece.verdict) for one in better
                          if (shared := common(space.axes, piece.box, one.box)) is not None]
            else:
                found += [Region(box, piece.verdict) for box in subtract(space.axes, piece.box, as_bad)]
    return tuple(found)


# private

def _limits(place: int, space: Space, written: set[str]) -> Iterator[Mutant]:
    for limit in limits_of(space.table, space.axes, space.boxes, written):
        rules = tuple(dict.fromkeys(space.table.rows[at].rule for at in limit.rows
                                    if space.table.rows[at].rule in written))
        for cut, words in limit.moves:
            new = tuple(_piece(space, at, moved(space.boxes[at], limit, cut)) for at in limit.rows)
            column, (number, behind) = space.table.columns[limit.axis].name, limit.cut
            way = "side" if cut[0] == number else "up" if cut[0] > number else "down"
            yield Mutant(place, "limit", rules, f"{column} {words}", limit.rows, _not_empty(new), (),
                         Move(column, number, behind, way))


def _choices(
    place: int, space: Space, written: set[str], flags: dict[tuple[str, ...], str]
) -> Iterator[Mutant]:
    for at, row in enumerate(space.table.rows):
        if row.rule not in written:
            continue
        for axis, column in enumerate(space.table.columns):
            if row.cells[axis] < 0 or not isinstance(space.axes[axis], ChoiceAxis):
                continue
            ids, every = space.boxes[at][axis].ids, space.axes[axis].ids
            flag = flags.get(ids) if column.name == "medium" else None
            if flag is not None:
                yield _without(place, space, at, axis, ids, f"medium without {flag}", "choice")
                rest = tuple(one for one in every if one not in ids)
                yield _with(place, space, at, axis, rest, f"medium with or without {flag}", "choice")
            kind = "choice" if flag is None else "member"
            out, added = ids, every if flag is not None else _beside(ids, every)
            if column.name == "medium" and 2 * len(ids) > len(every):
                added = tuple(one for one in every if one not in ids)
                out = _beside(added, every)
            for one in out:
                yield _without(place, space, at, axis, (one,), f"{column.name} without {one}", kind)
            for one in added:
                if one not in ids:
                    yield _with(place, space, at, axis, (one,), f"{column.name} with {one}", kind)


def _verdicts(place: int, space: Space, written: set[str]) -> Iterator[Mutant]:
    rows: dict[str, list[int]] = {}
    for at, row in enumerate(space.table.rows):
        if row.rule in written:
            rows.setdefault(row.rule, []).append(at)
    for rule, places in rows.items():
        for verdict in range(len(VERDICTS)):
            if verdict != space.table.rows[places[0]].verdict and not (
                    verdict == SUITABLE and rule.endswith(f".{OTHERWISE}")):
                yield verdict_mutant(place, space, rule, tuple(places), verdict)


def verdict_mutant(place: int, space: Space, rule: str, rows: tuple[int, ...], verdict: int) -> Mutant:
    """The rule's rows with another verdict; its regions are its own rows where the table is unique."""
    was = space.table.rows[rows[0]].verdict
    pieces = tuple(Piece(rule, verdict, space.boxes[at]) for at in rows)
    if verdict == SUITABLE and space.table.hit_policy == "collect":
        pieces = ()
    return Mutant(place, "verdict", (rule,), f"{VERDICTS[was]} to {VERDICTS[verdict]}", rows, pieces, ())


def _without(
    place: int, space: Space, at: int, axis: int, ids: tuple[str, ...], what: str, kind: str
) -> Mutant:
    box, row = space.boxes[at], space.table.rows[at]
    kept = Choices(tuple(one for one in box[axis].ids if one not in ids))
    new = _not_empty((Piece(row.rule, row.verdict, _changed(box, axis, kept)),))
    if space.table.hit_policy == "unique":
        name = f"{space.table.id}.{OTHERWISE}"
        verdict = next((one.verdict for one in space.table.rows if one.rule == name), OPEN)
        new = (*new, Piece(name, verdict, _changed(box, axis, Choices(ids))))
    return Mutant(place, kind, (row.rule,), what, (at,), new, ())


def _with(place: int, space: Space, at: int, axis: int, ids: tuple[str, ...], what: str, kind: str) -> Mutant:
    box, row = space.boxes[at], space.table.rows[at]
    every = (*box[axis].ids, *ids)
    grown = _changed(box, axis, Choices(tuple(one for one in space.axes[axis].ids if one in every)))
    new = [Piece(row.rule, row.verdict, grown)]
    gone = [at]
    if space.table.hit_policy == "unique":
        gain = _changed(box, axis, Choices(tuple(one for one in space.axes[axis].ids if one in ids)))
        for loser, other in enumerate(space.boxes):
            if loser != at and common(space.axes, gain, other) is not None:
                gone.append(loser)
                new += [_piece(space, loser, left) for left in subtract(space.axes, other, [gain])]
    return Mutant(place, kind, (row.rule,), what, tuple(gone), tuple(new), ())


def _beside(ids: Sequence[str], every: Sequence[str]) -> list[str]:
    """The ids that stand next to a member and are none."""
    places = {every.index(one) for one in ids}
    return [
        one for at, one in enumerate(every) if at not in places and (at - 1 in places or at + 1 in places)
    ]


def _changed(box: Box, axis: int, one: Choices) -> Box:
    return (*box[:axis], one, *box[axis + 1:])


def _piece(space: Space, at: int, box: Box) -> Piece:
    return Piece(space.table.rows[at].rule, space.table.rows[at].verdict, box)


def _not_empty(pieces: Iterable[Piece]) -> tuple[Piece, ...]:
    return tuple(piece for piece in pieces if not any(is_empty(one) for one in piece.box))
