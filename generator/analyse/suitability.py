"""Gives back candidates that no application can make suitable, and which verdicts a candidate can have at all.

One point is searched at which every table of a candidate allows the level: all of its own tables, and those it shares
with other decisions, with the columns of one name as one axis. It is exact over raw answers. Taken as free,
so that what is called impossible is impossible but not everything impossible is found: derived values (two of them
may hang together by their formulas), and the partners of a shared table (which may be out by their own tables).
States need no search: one state with the point is an application.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from generator.analyse.finding import KIND_OF, Finding
from generator.analyse.space import listed, table_boxes, table_space
from generator.boxes.sets import Axis, Box, cells_of
from generator.boxes.split import uncovered
from generator.pack.model import VERDICTS, Pack, Table
from generator.pack.texts import Texts

SUITABLE = VERDICTS.index("suitable")
Masks = tuple[int, ...]


@dataclass(frozen=True, slots=True)
class Layer:
    """One table as one candidate meets it: boxes over the table's own axes, each with its verdict's rank."""

    table: str
    names: tuple[str, ...]           # of the axes; partners' names bear the decisions they are shared with
    axes: tuple[Axis, ...]
    boxes: tuple[tuple[int, Box], ...]

    def least(self, level: int) -> tuple[Box, ...]:
        """What allows the level or better."""
        return tuple(box for rank, box in self.boxes if rank >= level)


Layers = dict[tuple[str, str], tuple[Layer, ...]]    # by decision and candidate


def never_suitable(texts: Texts, every: Layers) -> Iterator[Finding]:
    """Each candidate that a table alone keeps from being suitable, by table; else one that tables together keep."""
    for decision in texts.decisions:
        for item in decision.items:
            layers = every[decision.id, item.id]
            alone = [layer.table for layer in layers if not layer.least(SUITABLE)]
            for table in alone:
                place = next((one.file, one.line) for one in texts.tables if one.id == table)
                yield Finding("never_suitable", table, (), "", f"'{item.id}' is never suitable by this table", *place,
                              f"{KIND_OF['never_suitable'].code} {table} {item.id}", subject=item.id,
                              decision=decision.id)
            if not alone and not allows(layers, SUITABLE):
                tables = _conflict(layers)
                yield Finding(
                    "never_suitable", tables[0], (), "",
                    f"'{item.id}' is never suitable: {listed(tables)} never allow it together", item.file, item.line,
                    f"{KIND_OF['never_suitable'].code} {decision.id} {item.id} {' '.join(tables)}", subject=item.id,
                    decision=decision.id)


def candidate_layers(pack: Pack) -> Layers:
    """Every table that names the decision, as each candidate meets it; a collect table allows suitable where no rule
    of it holds."""
    spaces = {table.id: table_space(pack, table) for table in pack.tables}
    boxes = {table.id: table_boxes(table, spaces[table.id]) for table in pack.tables}
    return {(decision.id, one.id): tuple(
        _layer(pack, table, spaces[table.id], boxes[table.id], decision.id, one.id)
        for table in pack.tables if decision.id in table.decisions)
        for decision in pack.decisions for one in decision.candidates}


def allows(layers: Sequence[Layer], level: int, exactly: bool = False) -> bool:
    """Whether all tables allow the level or better at one point; `exactly`: and one of them no better."""
    if not exactly:
        return _meet([(layer, layer.least(level)) for layer in layers])
    return any(_meet([(layer, tuple(box for rank, box in layer.boxes if rank == level) if layer is one
                       else layer.least(level)) for layer in layers]) for one in layers)


# private

def _layer(pack: Pack, table: Table, axes: tuple[Axis, ...], boxes: list[Box], decision: str,
           candidate: str) -> Layer:
    kept = [at for at, column in enumerate(table.columns) if column.name != decision]
    others = tuple(name for name in table.decisions if name != decision)
    names = []
    for at in kept:
        column = table.columns[at]
        needed = next((one.decisions for one in pack.derived if one.id == column.name), ())
        shared = column.source == "decision" or column.source == "derived" and any(one in others for one in needed)
        names.append(f"{column.name} of {' '.join(others)}" if shared else column.name)
    rows = []
    for row, box in zip(table.rows, boxes, strict=True):
        if all(candidate in box[at].ids for at, column in enumerate(table.columns)  # type: ignore[union-attr]
               if column.name == decision):
            rows.append((row.verdict, tuple(box[at] for at in kept)))
    mine = tuple(axes[at] for at in kept)
    if table.hit_policy == "collect":
        rows = list(_worst_first(mine, rows))
    return Layer(table.id, tuple(names), mine, tuple(rows))


def _worst_first(axes: tuple[Axis, ...], rows: list[tuple[int, Box]]) -> Iterator[tuple[int, Box]]:
    """What a collect table says: each rank where a row has it and no worse one, and suitable where there is no row."""
    for rank in sorted({rank for rank, _ in rows}):
        worse = [box for other, box in rows if other < rank]
        for other, box in rows:
            if other == rank:
                yield from ((rank, piece) for piece in uncovered(axes, worse, within=box))
    yield from ((SUITABLE, piece) for piece in uncovered(axes, [box for _, box in rows]))


def _conflict(layers: Sequence[Layer]) -> tuple[str, ...]:
    """As few of the tables as do not allow suitable together, found by leaving out one after another."""
    left = list(layers)
    for layer in layers:
        fewer = [one for one in left if one is not layer]
        if not allows(fewer, SUITABLE):
            left = fewer
    return tuple(layer.table for layer in left)


def _meet(picked: Sequence[tuple[Layer, tuple[Box, ...]]]) -> bool:
    """Whether one point lies in a box of each. Boxes are masks over the axes of all tables together."""
    axes: dict[str, Axis] = {}
    for layer, _ in picked:
        axes |= dict(zip(layer.names, layer.axes, strict=True))
    places = {name: place for place, name in enumerate(axes)}
    sets: list[set] = [set() for _ in axes]
    for layer, boxes in picked:
        for box in boxes:
            for name, one in zip(layer.names, box, strict=True):
                sets[places[name]].add(one)
    cells = [cells_of(axis, sets[places[name]]) for name, axis in axes.items()]
    masks = [{one: cells[place].mask_of(one) for one in found} for place, found in enumerate(sets)]
    full = tuple(one.full for one in cells)
    choices: list[list[Masks]] = []
    for layer, boxes in picked:
        found: dict[Masks, None] = {}
        for box in boxes:
            whole = list(full)
            for name, one in zip(layer.names, box, strict=True):
                whole[places[name]] = masks[places[name]][one]
            found[tuple(whole)] = None
        choices.append(list(found))
    return _search(full, sorted(choices, key=len))


def _search(box: Masks, choices: list[list[Masks]]) -> bool:
    """Depth first, always the table of which fewest boxes still meet what is left."""
    if not choices:
        return True
    meeting = [[met for one in boxes if 0 not in (met := tuple(a & b for a, b in zip(one, box, strict=True)))]
               for boxes in choices]
    fewest = min(range(len(meeting)), key=lambda at: len(meeting[at]))
    rest = [boxes for at, boxes in enumerate(meeting) if at != fewest]
    return any(_search(met, rest) for met in dict.fromkeys(meeting[fewest]))
