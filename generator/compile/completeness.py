"""Gives back a table's rows made complete and disjoint, and its gaps, overlaps and rules that never match.

Hit policies are DMN's. `unique`: no two rules may hold at once, and every answer needs one. `any`: rules that
agree may overlap. `first`: the earlier rule wins. `priority`: the worse verdict wins. All of these leave as
disjoint rows. `collect` rules only take away, so they may overlap and leave gaps.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace

from generator.boxes.sets import Axis, Box, Numbers, is_empty, meet
from generator.boxes.split import overlaps, subtract, uncovered
from generator.problems import Place, Problem

OTHERWISE = "otherwise"
OPEN = 1                             # rank in pack.model.VERDICTS
_VERDICTS = ("unsuitable", "open", "caution", "suitable")


@dataclass(frozen=True, slots=True)
class Ruled:
    """A rule, or a piece of it, as a box; `verdict` is a rank in `pack.model.VERDICTS`."""

    rule: str
    verdict: int
    box: Box
    place: Place


@dataclass(frozen=True, slots=True)
class Finding:
    """A fault of a table's geometry. `key` is what a waiver names; `region` says `regions` in words."""

    key: str
    problem: Problem
    regions: tuple[Box, ...] = ()
    rules: tuple[str, ...] = ()
    region: str = ""


@dataclass(frozen=True, slots=True)
class Remainder:
    """What `otherwise:` says of all that the rules leave over."""

    verdict: int
    place: Place


def complete(
        table: str, place: Place, hit_policy: str, axes: Sequence[Axis], rows: tuple[Ruled, ...],
        remainder: Remainder | None,
        tell: Callable[[Box], str],
        candidates: tuple[int, ...] = ()) -> tuple[tuple[Ruled, ...], tuple[Finding, ...]]:
    """Rows that cover all and share nothing, in the author's order and then `otherwise`; and all findings.

    Where there are findings the rows are those that hold if every finding is waived: the worse verdict where
    rules contradict, open where there is a gap. `tell` says a box in words; `candidates` are the places of
    the axes that hold candidates: a gap is told at the first rule of its candidate that borders on it.
    """
    if hit_policy == "collect":
        return rows, ()
    pairs = tuple(overlaps(axes, [row.box for row in rows]))
    findings: list[Finding] = []
    if hit_policy in ("unique", "any"):
        findings += [_overlap(table, rows[i], rows[j], region, tell) for i, j, region in pairs
                     if hit_policy == "unique" or rows[i].verdict != rows[j].verdict]
    ranking = list(range(len(rows)))
    if hit_policy in ("unique", "any", "priority"):
        ranking.sort(key=lambda at: (rows[at].verdict, at))
    kept, hidden = _disjoint(axes, rows, ranking, {(i, j) for i, j, _ in pairs})
    # A rule that loses everything to others under `unique` or `any` was told as an overlap already.
    if hit_policy in ("first", "priority"):
        findings += [_never(table, row) for row in hidden]
    gaps = uncovered(axes, [row.box for row in rows])
    if remainder is None:
        findings += [_gap(table, next((row.place for row in sorted(rows, key=lambda row: row.place)
                                       if _borders(axes, row.box, gap, candidates)), place), gap, tell)
                     for gap in gaps]
    verdict = remainder.verdict if remainder else OPEN
    at = remainder.place if remainder else place
    left = tuple(Ruled(f"{table}.{OTHERWISE}", verdict, gap, at) for gap in gaps)
    return (*kept, *left), tuple(findings)


# private

def _disjoint(axes: Sequence[Axis], rows: tuple[Ruled, ...], ranking: list[int], pairs: set[tuple[int, int]],
              ) -> tuple[tuple[Ruled, ...], tuple[Ruled, ...]]:
    """Each row without what a row of better rank says; and the rows of which nothing is left."""
    if not pairs:
        return rows, ()
    ranks = {at: rank for rank, at in enumerate(ranking)}
    stronger: dict[int, list[int]] = {}
    for i, j in pairs:
        weak, strong = (i, j) if ranks[i] > ranks[j] else (j, i)
        stronger.setdefault(weak, []).append(strong)
    kept: list[Ruled] = []
    hidden: list[Ruled] = []
    for at, row in enumerate(rows):
        if at not in stronger:
            kept.append(row)
            continue
        pieces = subtract(axes, row.box, [rows[other].box for other in stronger[at]])
        kept += [replace(row, box=piece) for piece in pieces]
        if not pieces:
            hidden.append(row)
    return tuple(kept), tuple(hidden)


def _overlap(table: str, one: Ruled, other: Ruled, region: Box, tell: Callable[[Box], str]) -> Finding:
    agree = one.verdict == other.verdict
    code = "G003" if agree else "G002"
    key = f"{code} {table} {_reason(table, one)} {_reason(table, other)}"
    verdicts = (f"both say {_VERDICTS[one.verdict]}" if agree else
                f"say {_VERDICTS[one.verdict]} and {_VERDICTS[other.verdict]}")
    first, second = sorted((one, other), key=lambda row: row.place)
    problem = Problem(second.place, code, f"'{one.rule}' and '{other.rule}' {verdicts} for {tell(region)} "
                      f"(the other rule stands at {first.place})",
                      f"take this region out of one of them, or waive `{key}`")
    return Finding(key, problem, (region,), (one.rule, other.rule), tell(region))


def _gap(table: str, place: Place, gap: Box, tell: Callable[[Box], str]) -> Finding:
    key = f"G001 {table} {tell(gap)}"
    problem = Problem(place, "G001", f"table '{table}' has no rule for {tell(gap)}",
                      f"add a rule for it, or `otherwise:` to the table, or waive `{key}`")
    return Finding(key, problem, (gap,), (), tell(gap))


def _borders(axes: Sequence[Axis], box: Box, gap: Box, candidates: tuple[int, ...]) -> bool:
    """True when both hold a candidate in common and lie side by side, apart on one number axis only."""
    apart = [at for at, axis in enumerate(axes) if is_empty(meet(axis, box[at], gap[at]))]
    if not candidates or len(apart) != 1 or apart[0] in candidates:
        return False
    one, other = box[apart[0]], gap[apart[0]]
    return isinstance(one, Numbers) and isinstance(other, Numbers) and any(
        mine.high == theirs.low or mine.low == theirs.high for mine in one.spans for theirs in other.spans)


def _never(table: str, row: Ruled) -> Finding:
    key = f"G004 {table} {_reason(table, row)}"
    problem = Problem(
        row.place, "G004", f"'{row.rule}' can never match: other rules come before it everywhere",
        f"take it out, widen it, or waive `{key}`")
    return Finding(key, problem, (), (row.rule,))


def _reason(table: str, row: Ruled) -> str:
    """A rule's id without its table's, which the key has named already."""
    return row.rule.removeprefix(f"{table}.")
