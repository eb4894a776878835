"""Gives back a map before it is drawn: regions of one content, the limits between them, the cases among them.

Regions and limits count in slots of the axes; every point of the two axes lies in exactly one region. Twin of
browser/map_picture.js.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from generator.analyse.pinning import CountedLimit
from generator.render.map_sheet import LEFT_OVER, NO_VALUE, Sheet
from generator.render.map_slots import Key, Slot, any_slot, column_slots, has
from generator.render.map_view import View, rows_in_view, selectors

WAYS = ("up", "down", "side")  # in which a limit can move
OPEN = 1  # the rank of the verdict `open`
Value = Key | bool  # as a key; False: not a single value


@dataclass(frozen=True, slots=True)
class Outcome:
    """What the table says at a point. `kind` is verdict, none (it takes nothing away), or gap (no rule
    speaks).

    `rules` are those that decide; `rank` is that of the verdict.
    """

    kind: str
    rank: int
    rules: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Region:
    """Slots x0 to x1 and y0 to y1, both ends included."""

    x0: int
    x1: int
    y0: int
    y1: int
    outcome: Outcome


@dataclass(frozen=True, slots=True)
class Limit:
    """The number at the upper end of slot `at` of an axis, over the slots `first` to `last` of the other one.

    `below_in`: the number itself still belongs to what lies below. `rule` is the one the limit is written in.
    `unnoticed` are the ways (up, down, side) in which no reference case would notice it move; empty also
    where nobody counted.
    """

    axis: str
    at: int
    first: int
    last: int
    number: float
    below_in: bool
    below: Outcome
    above: Outcome
    rule: str
    unnoticed: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class CasePoint:
    """A reference case at its answers: one value per column of the table. `expected`: it argues a rule of
    the table.
    """

    case: str
    title: str
    expected: bool
    values: tuple[Value, ...]


@dataclass(frozen=True, slots=True)
class Dot:
    """A case in view, at its slots of the axes; `x` and `y` are its numbers where an axis has numbers."""

    sx: int
    sy: int
    x: float
    y: float
    point: CasePoint


@dataclass(frozen=True, slots=True)
class Picture:
    xs: tuple[Slot, ...]
    ys: tuple[Slot, ...]
    regions: tuple[Region, ...]
    limits: tuple[Limit, ...]
    dots: tuple[Dot, ...]


def picture_of(
    sheet: Sheet, view: View, points: Sequence[CasePoint], counted: Sequence[CountedLimit] = ()
) -> Picture:
    """The map of a view. `counted` are the limits of this table of which it is known how they could move
    unnoticed.
    """
    places = {column.name: place for place, column in enumerate(sheet.columns)}
    rows = rows_in_view(sheet, view.fixed)
    xs = column_slots(sheet, places[view.x], rows) if view.x else (any_slot(rows),)
    ys = column_slots(sheet, places[view.y], rows) if view.y else (any_slot(rows),)
    lacking = _lacking(sheet, view, rows, places)
    grid = _grid(sheet, rows, xs, ys, lacking)
    limits = (
        *_limits("x", view.x, xs, ys, grid, sheet, counted),
        *_limits("y", view.y, ys, xs, _turned(grid), sheet, counted),
    )
    return Picture(xs, ys, _regions(xs, ys, grid), limits, _dots(sheet, view, xs, ys, points, places))


def is_left_over(sheet: Sheet, outcome: Outcome) -> bool:
    """Whether only the table's `otherwise` speaks here."""
    return outcome.rules == (f"{sheet.table.id}.{LEFT_OVER}",)


# private

_Grid = list[list[Outcome]]  # by x, then y


def _lacking(sheet: Sheet, view: View, rows: Sequence[int], places: dict[str, int]) -> int:
    """The rows in view that ask for a chosen derived value where there is none."""
    bits = 0
    for name, key in view.fixed:
        if key is None and sheet.columns[places[name]].source == "derived":
            for number, row in enumerate(rows):
                if sheet.table.rows[row].cells[places[name]] >= 0:
                    bits |= 1 << number
    return bits


def _grid(sheet: Sheet, rows: Sequence[int], xs: Sequence[Slot], ys: Sequence[Slot], lacking: int) -> _Grid:
    known: dict[tuple[int, int], Outcome] = {}
    grid: _Grid = []
    for x in xs:
        line: list[Outcome] = []
        for y in ys:
            reached = x.rows & y.rows
            short = (x.lacking | y.lacking | lacking) & reached
            if (reached, short) not in known:
                known[reached, short] = _outcome(sheet, rows, reached, short)
            line.append(known[reached, short])
        grid.append(line)
    return grid


def _outcome(sheet: Sheet, rows: Sequence[int], reached: int, short: int) -> Outcome:
    """As `evaluate.tables` reads a table at a single point."""
    found = [sheet.table.rows[row] for place, row in enumerate(rows) if (reached & ~short) >> place & 1]
    said = [(row.verdict, row.rule) for row in found]
    if short:
        said.append((OPEN, f"{sheet.table.id}.{NO_VALUE}"))
    collects = sheet.table.hit_policy == "collect"
    if not said:
        return Outcome("none" if collects else "gap", -1, ())
    worst, best = min(said)[0], max(said)[0]
    rank = worst if collects or worst == best else OPEN
    return Outcome(
        "verdict",
        rank,
        tuple(dict.fromkeys(rule for verdict, rule in said if verdict == worst or not collects)),
    )


def _turned(grid: _Grid) -> _Grid:
    return [list(line) for line in zip(*grid, strict=True)]


def _regions(xs: Sequence[Slot], ys: Sequence[Slot], grid: _Grid) -> tuple[Region, ...]:
    """Neighbouring numbers of one content become one region: along x first, then runs that are equally long.
    """
    done: list[Region] = []
    growing: dict[tuple[int, int], Region] = {}
    for y in range(len(ys)):
        runs = [
            Region(first, last, y, y, grid[first][y]) for first, last in _runs(xs, [line[y] for line in grid])
        ]
        joins = y > 0 and _joined(ys[y - 1], ys[y])
        next_growing: dict[tuple[int, int], Region] = {}
        for run in runs:
            before = growing.pop((run.x0, run.x1), None) if joins else None
            if before is not None and before.outcome == run.outcome:
                run = Region(run.x0, run.x1, before.y0, y, run.outcome)
            elif before is not None:
                done.append(before)
            next_growing[run.x0, run.x1] = run
        done += growing.values()
        growing = next_growing
    done += growing.values()
    return tuple(sorted(done, key=lambda region: (region.y0, region.x0)))


def _runs(slots: Sequence[Slot], outcomes: Sequence[Outcome]) -> Iterable[tuple[int, int]]:
    first = 0
    for place in range(1, len(slots) + 1):
        if (
            place == len(slots)
            or outcomes[place] != outcomes[first]
            or not _joined(slots[place - 1], slots[place])
        ):
            yield first, place - 1
            first = place


def _joined(one: Slot, other: Slot) -> bool:
    """Whether two neighbouring slots touch: options, and `absent`, stand apart."""
    return one.kind in ("band", "point") and other.kind in ("band", "point")


def _limits(
    axis: str,
    column: str,
    slots: Sequence[Slot],
    across: Sequence[Slot],
    grid: _Grid,
    sheet: Sheet,
    counted: Sequence[CountedLimit],
) -> Iterable[Limit]:
    """Where two neighbouring bands of a number axis differ."""
    for at in range(len(slots) - 1):
        if not _joined(slots[at], slots[at + 1]):
            continue
        pairs = list(zip(grid[at], grid[at + 1], strict=True))
        first = 0
        for place in range(1, len(across) + 1):
            ends = (
                place == len(across)
                or pairs[place] != pairs[first]
                or not _joined(across[place - 1], across[place])
            )
            if not ends:
                continue
            below, above = pairs[first]
            if below != above:
                number, below_in = slots[at].high, slots[at].high_in
                yield Limit(
                    axis,
                    at,
                    first,
                    place - 1,
                    number,
                    below_in,
                    below,
                    above,
                    _written_in(sheet, below, above, below_in),
                    _unnoticed(counted, (column, number, below_in), (*below.rules, *above.rules)),
                )
            first = place


def _unnoticed(
    counted: Sequence[CountedLimit], cut: tuple[str, float, bool], rules: Sequence[str]
) -> tuple[str, ...]:
    here = [one for one in counted if (one.column, one.number, one.below_in) == cut]
    mine = [one for one in here if any(rule in rules for rule in one.rules)]
    return tuple(way for way in WAYS if any(way in one.unnoticed for one in mine))


def _written_in(sheet: Sheet, below: Outcome, above: Outcome, below_in: bool) -> str:
    """The rule to look up for a limit: of the side it belongs to, unless only the other has a rule of its
    own.
    """
    sides = (below, above) if below_in else (above, below)
    own = [side.rules[0] for side in sides if side.rules and not is_left_over(sheet, side)]
    return own[0] if own else next((side.rules[0] for side in sides if side.rules), "")


def _dots(
    sheet: Sheet,
    view: View,
    xs: Sequence[Slot],
    ys: Sequence[Slot],
    points: Sequence[CasePoint],
    places: dict[str, int],
) -> tuple[Dot, ...]:
    """The cases whose other answers are as chosen; each once per place on the axes."""
    chosen = [(places[one.column], one.slots[one.chosen]) for one in selectors(sheet, view)]
    found: dict[tuple[str, Value, Value], Dot] = {}
    for point in points:
        if not all(_inside(slot, point.values[place]) for place, slot in chosen):
            continue
        x: Value = point.values[places[view.x]] if view.x else None
        y: Value = point.values[places[view.y]] if view.y else None
        sx = next((number for number, slot in enumerate(xs) if _inside(slot, x)), -1)
        sy = next((number for number, slot in enumerate(ys) if _inside(slot, y)), -1)
        if sx < 0 or sy < 0:
            continue
        dot = Dot(sx, sy, x if isinstance(x, float) else 0.0, y if isinstance(y, float) else 0.0, point)
        before = found.get((point.case, x, y))
        if before is None or point.expected and not before.point.expected:
            found[point.case, x, y] = dot
    return tuple(found.values())


def _inside(slot: Slot, value: Value) -> bool:
    return slot.kind == "any" or not isinstance(value, bool) and has(slot, value)
