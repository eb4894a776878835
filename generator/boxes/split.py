"""Gives back what a list of boxes leaves uncovered, where two overlap, and the fewest boxes for one content.

All of it is exact: each set becomes a bit mask over the cells of its axis (see `sets`), so a box is a tuple
of whole numbers, and meeting is `&`. Gaps are found by splitting the space where it best halves the boxes at
hand, until one box covers a piece or none touches it (a sweep column by column leaves a hundred times as many
pieces).
"""

from __future__ import annotations

from bisect import bisect_left
from collections import Counter
from collections.abc import Iterable, Iterator, Sequence
from itertools import permutations

from generator.boxes.sets import Axis, Box, ChoiceAxis, cells_of, whole

Masks = tuple[int, ...]


def whole_space(axes: Sequence[Axis]) -> Box:
    """The box that holds everything on these axes."""
    return tuple(whole(axis) for axis in axes)


def uncovered(axes: Sequence[Axis], boxes: Sequence[Box], within: Box | None = None) -> tuple[Box, ...]:
    """The part of `within` (without it: of the whole space) that no box covers, as few disjoint boxes."""
    start = whole_space(axes) if within is None else within
    lattice = _Lattice(axes, (*boxes, start))
    inside = lattice.masks(start)
    if 0 in inside:
        return ()
    touching = [masks for masks in map(lattice.masks, boxes) if _touch(masks, inside)]
    pieces = list(_gaps(inside, touching, lattice.is_choice))
    return tuple(lattice.box(masks) for masks in _merged(pieces, len(axes)))


def overlaps(axes: Sequence[Axis], boxes: Sequence[Box]) -> Iterator[tuple[int, int, Box]]:
    """Every pair i < j of boxes that have something in common, in order, and what: (i, j, the common box)."""
    lattice = _Lattice(axes, boxes)
    rows = [lattice.masks(box) for box in boxes]
    # Per axis: which rows (a bit each) touch a given set. A table has few distinct sets per axis.
    touched: list[dict[int, int]] = []
    for axis in range(len(axes)):
        users: dict[int, int] = {}
        for place, row in enumerate(rows):
            users[row[axis]] = users.get(row[axis], 0) | 1 << place
        touched.append({mask: sum(bits for other, bits in users.items() if other & mask) for mask in users})
    everyone = (1 << len(rows)) - 1
    for i, row in enumerate(rows):
        others = everyone & (-1 << (i + 1))
        for axis, mask in enumerate(row):
            others &= touched[axis][mask]
        while others:
            j = (others & -others).bit_length() - 1
            others &= others - 1
            yield i, j, lattice.box(tuple(a & b for a, b in zip(row, rows[j], strict=True)))


def subtract(axes: Sequence[Axis], box: Box, others: Sequence[Box]) -> tuple[Box, ...]:
    """What is left of the box when the others are taken out, as few disjoint boxes."""
    return uncovered(axes, others, within=box)


def common(axes: Sequence[Axis], one: Box, other: Box) -> Box | None:
    """The box of what belongs to both, or None."""
    lattice = _Lattice(axes, (one, other))
    masks = tuple(a & b for a, b in zip(lattice.masks(one), lattice.masks(other), strict=True))
    return None if 0 in masks else lattice.box(masks)


def covers(axes: Sequence[Axis], boxes: Sequence[Box], box: Box) -> bool:
    """True when every point of the box lies in one of the boxes."""
    return not uncovered(axes, boxes, within=box)


def merge(axes: Sequence[Axis], boxes: Iterable[Box]) -> tuple[Box, ...]:
    """The same points in fewer boxes: no two of the result could be one box. Empty boxes vanish."""
    boxes = tuple(boxes)
    lattice = _Lattice(axes, boxes)
    masks = [row for row in map(lattice.masks, boxes) if 0 not in row]
    return tuple(lattice.box(row) for row in _merged(masks, len(axes)))


# private

_FEW = 40          # up to so many boxes every order of the axes is tried when merging


class _Lattice:
    """The axes cut at every end of the boxes, and the two ways between a box and its masks."""

    def __init__(self, axes: Sequence[Axis], boxes: Sequence[Box]) -> None:
        self.cells = tuple(cells_of(axis, {box[place] for box in boxes}) for place, axis in enumerate(axes))
        self.is_choice = tuple(isinstance(axis, ChoiceAxis) for axis in axes)
        self._known: tuple[dict[object, int], ...] = tuple({} for _ in axes)

    def masks(self, box: Box) -> Masks:
        return tuple(self._mask(place, one) for place, one in enumerate(box))

    def box(self, masks: Masks) -> Box:
        return tuple(cells.set_of(mask) for cells, mask in zip(self.cells, masks, strict=True))

    def _mask(self, place: int, one: object) -> int:
        known = self._known[place]
        if one not in known:
            known[one] = self.cells[place].mask_of(one)  # type: ignore[arg-type]
        return known[one]


def _touch(one: Masks, other: Masks) -> bool:
    return all(a & b for a, b in zip(one, other, strict=True))


def _gaps(box: Masks, rows: list[Masks], is_choice: tuple[bool, ...]) -> Iterator[Masks]:
    """The pieces of `box` that none of `rows` covers; every row is known to touch the box."""
    if not rows:
        yield box
        return
    outside = [~mask for mask in box]
    if any(all(row[axis] | out == -1 for axis, out in enumerate(outside)) for row in rows):
        return
    axis, parts = _best_split(box, rows, is_choice)
    for part in parts:
        piece = (*box[:axis], part, *box[axis + 1:])
        yield from _gaps(piece, [row for row in rows if row[axis] & part], is_choice)


def _best_split(box: Masks, rows: list[Masks], is_choice: tuple[bool, ...]) -> tuple[int, list[int]]:
    """The axis, and its parts, after which the fullest piece holds fewest rows; then fewest rows in all."""
    best: tuple[tuple[int, int, bool], int, list[int]] | None = None
    for axis, mask in enumerate(box):
        counts = Counter(row[axis] & mask for row in rows)
        if len(counts) == 1 and mask in counts:
            continue                                       # every row takes all of this axis
        if is_choice[axis]:
            parts = _classes(mask, counts)
            held = [sum(count for one, count in counts.items() if one & part) for part in parts]
            score = (max(held), sum(held), False)
        else:
            score, parts = _best_cut(mask, counts)
        if best is None or score < best[0]:
            best = (score, axis, parts)
    assert best is not None, "a piece that no row covers has an axis on which some row does not"
    return best[1], best[2]


def _classes(mask: int, counts: Counter[int]) -> list[int]:
    """Ids that every row treats alike, kept together."""
    parts = [mask]
    for one in counts:
        finer: list[int] = []
        for part in parts:
            inside = part & one
            if inside and inside != part:
                finer += (inside, part ^ inside)
            else:
                finer.append(part)
        parts = finer
    return sorted(parts, key=lambda part: part & -part)


def _best_cut(mask: int, counts: Counter[int]) -> tuple[tuple[int, int, bool], list[int]]:
    """The place between two cells that best halves the rows; rows with holes count by their outer ends."""
    lows: list[int] = []
    highs: list[int] = []
    places: set[int] = set()
    for one, count in counts.items():
        low, high = (one & -one).bit_length() - 1, one.bit_length()
        lows += [low] * count
        highs += [high] * count
        places.update(_edges(one))
    first, end = (mask & -mask).bit_length() - 1, mask.bit_length()
    lows.sort()
    highs.sort()
    best: tuple[tuple[int, int, bool], int] | None = None
    for place in sorted(places):
        if first < place < end:
            left, right = bisect_left(lows, place), len(highs) - bisect_left(highs, place + 1)
            score = (max(left, right), left + right, True)
            if best is None or score < best[0]:
                best = (score, place)
    assert best is not None, "some row ends inside the piece"
    below = mask & ((1 << best[1]) - 1)
    return best[0], [below, mask ^ below]


def _edges(mask: int) -> Iterator[int]:
    """Bit places at which a run of ones begins or ends."""
    changes = mask ^ (mask << 1)
    while changes:
        yield (changes & -changes).bit_length() - 1
        changes &= changes - 1


def _merged(pieces: list[Masks], width: int) -> list[Masks]:
    """Joins boxes that differ on one axis only, until none do; of several orders of the axes the best."""
    pieces = sorted(set(pieces))
    if len(pieces) < 2:
        return pieces
    orders: Iterable[tuple[int, ...]] = (tuple(range(width)), tuple(reversed(range(width))))
    if len(pieces) <= _FEW and width <= 4:
        orders = permutations(range(width))
    results = [_merged_in_order(pieces, order) for order in orders]
    return sorted(min(results, key=lambda result: (len(result), sum(_runs(one) for one in result))))


def _runs(masks: Masks) -> int:
    return sum((mask & ~(mask << 1)).bit_count() for mask in masks)


def _merged_in_order(pieces: list[Masks], order: tuple[int, ...]) -> list[Masks]:
    changed = True
    while changed:
        changed = False
        for axis in order:
            groups: dict[Masks, int] = {}
            for piece in pieces:
                key = (*piece[:axis], *piece[axis + 1:])
                groups[key] = groups.get(key, 0) | piece[axis]
            if len(groups) < len(pieces):
                changed = True
                pieces = [(*key[:axis], mask, *key[axis:]) for key, mask in groups.items()]
    return pieces
