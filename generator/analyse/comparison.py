"""Gives back exactly where two versions of a table part: regions, and what each version says there.

Both tables are cut into boxes that share nothing, each with what it says: a verdict and the rules that give it. In a
collect table that is the worst verdict of the rules that hold, or no effect. The boxes are laid over one another in one
space that holds all that either version can be asked: a wider range, a new option, a column more. What one version
cannot be asked it does not say; a column that it does not read is any to it. So the regions are disjoint, and outside
them both versions say the same.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from generator.analyse.space import column_axis, column_words, table_boxes, table_space
from generator.boxes.sets import Axis, Box, ChoiceAxis, NumberAxis, whole
from generator.boxes.split import common, merge, overlaps, subtract, uncovered
from generator.boxes.words import AxisWords, describe
from generator.pack.model import VERDICTS, Column, Pack, Table
from generator.pack.texts import Texts

NO_EFFECT = "no effect"              # of a collect table where no rule holds
NOT_ASKED = "cannot be asked"        # outside the ranges and options of that version


@dataclass(frozen=True, slots=True)
class Said:
    """What a version says in a region: a verdict, NO_EFFECT or NOT_ASKED; and the rules that give it."""

    verdict: str
    rules: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Difference:
    """A region in which the versions say different things; `box` lies on the axes of the comparison."""

    box: Box
    region: str
    old: Said
    new: Said

    @property
    def changes_verdict(self) -> bool:
        return self.old.verdict != self.new.verdict


@dataclass(frozen=True, slots=True)
class Comparison:
    """`names` and `axes` are the common space. `differences` are changes of verdict first, then changes of rule only.
    `notes` say what regions cannot show: another formula behind a column, other states."""

    table: str
    names: tuple[str, ...]
    axes: tuple[Axis, ...]
    differences: tuple[Difference, ...]
    notes: tuple[str, ...] = ()


def compare_packs(old: Pack, old_texts: Texts, new: Pack, new_texts: Texts) -> tuple[Comparison, ...]:
    """Every table of either pack, in the new pack's order; of a table of one pack only a note is given. Tables that say
    the same everywhere are left out."""
    before = {table.id: table for table in old.tables}
    after = {table.id: table for table in new.tables}
    made: list[Comparison] = []
    for name in (*after, *(name for name in before if name not in after)):
        if name not in before or name not in after:
            made.append(Comparison(name, (), (), (), ("is new" if name in after else "is there no more",)))
        else:
            made.append(compare_tables((old, old_texts, before[name]), (new, new_texts, after[name])))
    return tuple(one for one in made if one.differences or one.notes)


Version = tuple[Pack, Texts, Table]


def compare_tables(old: Version, new: Version) -> Comparison:
    """One table in two versions."""
    columns = _columns(old, new)
    axes = tuple(_joint(*(column_axis(pack, own) for pack, _, own in found)) for found in columns.values())
    words = tuple(_joint_words([column_words(texts, own) for _, texts, own in found]) for found in columns.values())
    # What both versions say word for word is laid aside; as each version says everything once, the rest meets the rest.
    said = [_said(version, tuple(columns), axes) for version in (old, new)]
    same = said[0].keys() & said[1].keys()
    rest = [[piece for piece in found if piece not in same] for found in said]
    regions: dict[tuple[Said, Said], list[Box]] = {}
    split = len(rest[0])
    for i, j, shared in overlaps(axes, [box for found in rest for box, _ in found]):
        if i < split <= j and rest[0][i][1] != rest[1][j - split][1]:
            regions.setdefault((rest[0][i][1], rest[1][j - split][1]), []).append(shared)
    differences = [Difference(box, describe(axes, box, words), before, after)
                   for (before, after), boxes in regions.items() for box in merge(axes, boxes)]
    differences.sort(key=lambda one: not one.changes_verdict)
    return Comparison(new[2].id, tuple(key[0] for key in columns), axes, tuple(differences), tuple(_notes(old, new)))


# private

_Key = tuple[str, str, str]          # a column's name, kind and unit: where one of them differs it asks something else
_Columns = dict[_Key, list[tuple[Pack, Texts, Column]]]


def _columns(old: Version, new: Version) -> _Columns:
    """The columns of both, the new version's first, each as the versions have it."""
    found: _Columns = {}
    for pack, texts, table in (new, old):
        for column in table.columns:
            found.setdefault(_key(texts, column), []).append((pack, texts, column))
    return found


def _key(texts: Texts, column: Column) -> _Key:
    return column.name, column.kind, column_words(texts, column).unit


def _joint(*axes: Axis) -> Axis:
    """All that any of the axes holds."""
    if isinstance(axes[0], ChoiceAxis):
        return ChoiceAxis(tuple(dict.fromkeys(id_ for axis in axes for id_ in axis.ids)))  # type: ignore[union-attr]
    return NumberAxis(min(axis.low for axis in axes), max(axis.high for axis in axes),  # type: ignore[union-attr]
                      any(axis.may_be_absent for axis in axes))  # type: ignore[union-attr]


def _joint_words(words: Sequence[AxisWords]) -> AxisWords:
    titles = {id_: title for one in reversed(words) for id_, title in one.titles.items()}
    return AxisWords(words[0].title, words[0].unit, titles)


def _said(version: Version, keys: tuple[_Key, ...], axes: tuple[Axis, ...]) -> dict[tuple[Box, Said], None]:
    """What the version says, as boxes of the common space that share nothing and cover it."""
    pack, texts, table = version
    own = table_space(pack, table)
    places = {_key(texts, column): place for place, column in enumerate(table.columns)}
    boxes = table_boxes(table, own)
    if table.hit_policy == "collect":
        pieces = _effects(own, table, boxes)
    else:
        pieces = [(box, Said(VERDICTS[row.verdict], (row.rule,))) for row, box in zip(table.rows, boxes, strict=True)]
    askable: Box = tuple(whole(own[places[key]]) if key in places else whole(axis)
                         for key, axis in zip(keys, axes, strict=True))
    widened = {(tuple(box[places[key]] if key in places else whole(axis)
                      for key, axis in zip(keys, axes, strict=True)), one): None for box, one in pieces}
    return widened | {(box, Said(NOT_ASKED)): None for box in uncovered(axes, [askable])}


def _effects(axes: tuple[Axis, ...], table: Table, boxes: Sequence[Box]) -> list[tuple[Box, Said]]:
    """A collect table as boxes that share nothing: the worst verdict with all rules that give it."""
    pieces: list[tuple[Box, Said]] = [(tuple(whole(axis) for axis in axes), Said(NO_EFFECT))]
    ranks = {verdict: rank for rank, verdict in enumerate(VERDICTS)} | {NO_EFFECT: len(VERDICTS)}
    for row, box in sorted(zip(table.rows, boxes, strict=True), key=lambda pair: pair[0].verdict):
        after: dict[Said, list[Box]] = {}
        for piece, said in pieces:
            shared = common(axes, piece, box) if ranks[said.verdict] >= row.verdict else None
            if shared is None:
                after.setdefault(said, []).append(piece)
                continue
            rules = said.rules if said.verdict == VERDICTS[row.verdict] else ()
            after.setdefault(Said(VERDICTS[row.verdict], tuple(dict.fromkeys((*rules, row.rule)))), []).append(shared)
            after.setdefault(said, []).extend(subtract(axes, piece, [box]))
        pieces = [(piece, said) for said, found in after.items() for piece in merge(axes, found)]
    return pieces


def _notes(old: Version, new: Version) -> Iterator[str]:
    """What changes beside the regions, in sentences."""
    (before, _, was), (after, _, now) = old, new
    if was.always != now.always:
        yield f"applies {'in every state' if now.always else 'in states that measure only'} now"
    derived = {column.name for column in was.columns if column.source == "derived"}
    for column in now.columns:
        if column.name in derived and column.source == "derived" and _working(before, column.name) != _working(
                after, column.name):
            yield f"'{column.name}' is worked out in another way; the regions are in terms of its value"


def _working(pack: Pack, name: str) -> object:
    """A derived value with all that it is made of."""
    value = next((one for one in pack.derived if one.id == name), None)
    if value is None:
        return name
    formula = next(one for one in pack.formulas if one.id == value.formula)
    return value, formula, tuple(_working(pack, one.name) for one in value.arguments if one.kind == "derived")
