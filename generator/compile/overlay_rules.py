"""Gives back a table's rows with an overlay's rules laid over them, and what each rule changes.

An overlay's rule wins in its box. Where it is worse than the base it tightens, which is always allowed. Where the base is
open it fills: with supplier data or the company's own, but an open verdict of a standard or of physics only where the
base rule says that it waits for supplier data. Better than any other verdict it loosens: never in a safety table, never
against a standard or physics, and elsewhere only with a stated reason.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace

from generator.boxes.sets import Axis, Box
from generator.boxes.split import common, merge, overlaps, subtract
from generator.compile.completeness import OTHERWISE, Ruled
from generator.pack.model import VERDICTS
from generator.pack.texts import BasisText
from generator.problems import Problem
from generator.read.overlay_records import OverlayRule

OPEN, SUITABLE = 1, 3
TIGHTENS, FILLS, LOOSENS = "tightens", "fills", "loosens"
_HARD = ("standard", "physics")


@dataclass(frozen=True, slots=True)
class Touched:
    """What one overlay rule makes of one base rule. `base` is empty where no rule of a collect table spoke before;
    verdicts are ranks. `regions` are the boxes in which they differ."""

    rule: str
    base: str
    kind: str
    verdict: int
    before: int
    regions: tuple[Box, ...]


@dataclass(frozen=True, slots=True)
class Ground:
    """The base table under the rules: its geometry and what its own rules rest on, by rule id."""

    table: str
    collects: bool
    safety: bool
    axes: Sequence[Axis]
    rows: tuple[Ruled, ...]
    bases: Mapping[str, BasisText]
    waiting: frozenset[str]          # open rules that say that they wait for supplier data
    tell: Callable[[Box], str]


def lay_over(ground: Ground, laid: tuple[tuple[Ruled, OverlayRule], ...],
             ) -> tuple[tuple[Ruled, ...], tuple[Touched, ...]] | list[Problem]:
    """The rows with the overlay's first among them, and what was changed; or everything that is not allowed."""
    boxes = [row.box for row, _ in laid]
    problems = [_overlap(laid[i][0], laid[j][0], ground.tell(region)) for i, j, region in overlaps(ground.axes, boxes)]
    touched: list[Touched] = []
    for row, record in laid:
        found = _touched(ground, row)
        problems += _forbidden(ground, record, found)
        touched += found
    if problems:
        return problems
    kept: list[Ruled] = []
    for row in ground.rows:
        winning = [each.box for each, _ in laid
                   if (not ground.collects or each.verdict > row.verdict) and _meet(ground.axes, each.box, row.box)]
        kept += [replace(row, box=piece) for piece in subtract(ground.axes, row.box, winning)] if winning else [row]
    return (*(row for row, _ in laid), *kept), tuple(touched)


# private

def _meet(axes: Sequence[Axis], one: Box, other: Box) -> bool:
    return common(axes, one, other) is not None


def _touched(ground: Ground, row: Ruled) -> list[Touched]:
    """Per base rule the boxes in which the overlay's rule says something else, in the order of the base."""
    regions: dict[str, list[Box]] = {}
    before: dict[str, int] = {}
    for base in ground.rows:
        region = common(ground.axes, row.box, base.box)
        if region is not None and base.verdict != row.verdict:
            pieces = (region,)
            if ground.collects and base.verdict > row.verdict:       # another base rule may say as bad already
                pieces = subtract(ground.axes, region, [
                    one.box for one in ground.rows if one.verdict <= row.verdict])
            if pieces:
                regions.setdefault(base.rule, []).extend(pieces)
                before[base.rule] = base.verdict
    if ground.collects:
        free = subtract(ground.axes, row.box, [base.box for base in ground.rows])
        if free:
            regions[""], before[""] = list(free), SUITABLE
    return [Touched(row.rule, base, _kind(row.verdict, before[base]), row.verdict, before[base],
                    merge(ground.axes, found)) for base, found in regions.items()]


def _kind(verdict: int, before: int) -> str:
    if verdict < before:
        return TIGHTENS
    return FILLS if before == OPEN else LOOSENS


def _forbidden(ground: Ground, record: OverlayRule, found: list[Touched]) -> list[Problem]:
    rule = record.rule
    if not found:
        return [Problem(rule.place, "V004", f"'{rule.id}' changes nothing: the base says {rule.then} there already",
                        "take it out, or widen it to where the base says something else")]
    problems = []
    for one in found:
        basis = ground.bases.get(one.base, BasisText("common_practice"))
        where = f"{ground.tell(one.regions[0])}{' and more' if len(one.regions) > 1 else ''}"
        what = f"'{rule.id}' says {rule.then} where '{one.base}' says {VERDICTS[one.before]} ({where})"
        if one.kind == LOOSENS:
            hard = f"rests on {basis.kind.replace('_', ' ')}" if basis.kind in _HARD else \
                "belongs to a safety table" if ground.safety else ""
            if hard:
                problems.append(Problem(rule.then.place, "V001", f"{what}, and that rule {hard}: it can never be "
                                        "loosened", f"write then: {VERDICTS[one.before]} or worse there, or take the "
                                        "region out of the rule"))
            elif record.loosens is None:
                problems.append(Problem(rule.then.place, "V002", f"{what}, which loosens it without a reason",
                                        "add `loosens: ...` with the reason, or tighten the rule"))
        elif one.kind == FILLS:
            problems += _filling(ground, record, one, basis, what)
    if record.loosens is not None and all(one.kind != LOOSENS for one in found):
        problems.append(Problem(record.loosens.place, "V006", f"'{rule.id}' gives a reason for loosening and loosens "
                                "nothing", "delete `loosens`"))
    return problems


def _filling(ground: Ground, record: OverlayRule, one: Touched, basis: BasisText, what: str) -> list[Problem]:
    rule, kind = record.rule, record.rule.basis.kind.text
    if kind not in ("supplier", "company"):
        return [Problem(rule.basis.place, "V005", f"{what}; an open verdict is filled by supplier or company data, not "
                        f"by a basis of kind {kind}", "write the supplier's figure with its source")]
    if basis.kind in _HARD and (one.base not in ground.waiting or kind != "supplier"):
        return [Problem(rule.basis.place, "V005", f"{what} by {basis.kind}: only a supplier's figure fills it, and only "
                        "where the base rule has `needs: supplier_data`",
                        "leave it open, or ask the committee to mark the base rule")]
    return []


def _overlap(one: Ruled, other: Ruled, region: str) -> Problem:
    first, second = sorted((one, other), key=lambda row: row.place)
    return Problem(second.place, "V003", f"'{first.rule}' and '{second.rule}' both speak of {region} (the other rule "
                   f"stands at {first.place})", "take this region out of one of them")


def otherwise_last(rows: tuple[Ruled, ...], table: str) -> tuple[Ruled, ...]:
    """The rows, those of `otherwise` after all others."""
    name = f"{table}.{OTHERWISE}"
    return (*(row for row in rows if row.rule != name), *(row for row in rows if row.rule == name))
