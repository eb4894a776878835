"""Gives back rules of a table that never decide, and rules that say one thing of regions that are one box together."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from generator.analyse.finding import KIND_OF, Finding
from generator.analyse.space import axis_words, listed, table_boxes, table_space
from generator.boxes.sets import Axis, Box, Numbers
from generator.boxes.split import covers, merge
from generator.boxes.words import describe
from generator.pack.model import VERDICTS, Pack, Table
from generator.pack.texts import RuleText, Texts


@dataclass(frozen=True, slots=True)
class _Group:
    """Rules that could be one, and what they cover, in as few boxes as they go into."""

    rules: tuple[RuleText, ...]
    boxes: tuple[Box, ...]


def never_decides(pack: Pack, texts: Texts, table: Table) -> Iterator[Finding]:
    """Rules of which nothing is seen: in collect, those inside worse ones, or inside others of one verdict and reason;
    else those of which other rules have left no row, though none of them objects.

    Of several rules that hide one another the first stays.
    """
    written = {rule.rule: rule for rule in texts.rules if rule.table == table.id and rule.origin == "author"}
    if table.hit_policy == "collect":
        hidden = _covered(pack, table, written)
        what = "everywhere a worse rule holds, or another of the same verdict and reason"
    else:
        told = {rule for one in texts.waived for rule in one.rules}
        bearing = {row.rule for row in table.rows}
        hidden = [rule for rule in written if rule not in bearing | told]
        what = "everywhere other rules say the same"
    for rule in hidden:
        text = written[rule]
        yield Finding("never_decides", table.id, (rule,), "", f"'{rule}' never decides: {what}", text.file, text.line,
                      f"{KIND_OF['never_decides'].code} {table.id} {_reason(table, rule)}")


def could_be_one(pack: Pack, texts: Texts, table: Table) -> Iterator[Finding]:
    """Authors' rules of one verdict and one reason whose boxes are one box when put together.

    Numbers must touch; choices need no order. Where the bases differ it is said.
    """
    axes = table_space(pack, table)
    boxes: dict[str, list[Box]] = {}
    verdicts: dict[str, int] = {}
    for row, box in zip(table.rows, table_boxes(table, axes), strict=True):
        boxes.setdefault(row.rule, []).append(box)
        verdicts[row.rule] = row.verdict
    alike: dict[tuple[int, str], list[_Group]] = {}
    for rule in texts.rules:
        if rule.table == table.id and rule.origin == "author" and rule.rule in boxes:
            key = verdicts[rule.rule], " ".join(rule.because.split())
            alike.setdefault(key, []).append(_Group((rule,), merge(axes, boxes[rule.rule])))
    words = axis_words(texts, table)
    for (verdict, _), groups in alike.items():
        for group in _joined(axes, groups):
            if len(group.rules) > 1:
                rules = tuple(rule.rule for rule in group.rules)
                region = describe(axes, group.boxes[0], words)
                differ = " (their bases differ)" if len({rule.basis for rule in group.rules}) > 1 else ""
                message = (f"{listed(rules)} say {VERDICTS[verdict]} for one reason and could be one rule: "
                           f"{region}{differ}")
                key = " ".join(_reason(table, rule) for rule in rules)
                first = group.rules[0]
                yield Finding("could_be_one", table.id, rules, region, message, first.file, first.line,
                              f"{KIND_OF['could_be_one'].code} {table.id} {key}")


# private

def _covered(pack: Pack, table: Table, written: dict[str, RuleText]) -> list[str]:
    axes = table_space(pack, table)
    boxes = table_boxes(table, axes)
    alive = set(range(len(boxes)))
    for at in reversed(range(len(boxes))):
        row = table.rows[at]
        before = [boxes[other] for other in alive - {at} if table.rows[other].verdict < row.verdict
                  or table.rows[other].verdict == row.verdict and row.rule in written and _same_reason(
                      written[row.rule], written.get(table.rows[other].rule))]
        if before and covers(axes, before, boxes[at]):
            alive.remove(at)
    seen = {table.rows[at].rule for at in alive}
    return [rule for rule in written if rule not in seen and any(row.rule == rule for row in table.rows)]


def _same_reason(one: RuleText, other: RuleText | None) -> bool:
    return other is not None and one.because.split() == other.because.split()


def _joined(axes: tuple[Axis, ...], groups: list[_Group]) -> list[_Group]:
    """Joins two groups whenever they are one box together, until none are."""
    groups = list(groups)
    changed = True
    while changed:
        changed = False
        for i, one in enumerate(groups):
            for other in groups[i + 1:]:
                together = merge(axes, (*one.boxes, *other.boxes))
                if len(together) == 1 and _touch(one, other, together[0]):
                    groups[i] = _Group((*one.rules, *other.rules), together)
                    groups.remove(other)
                    changed = True
                    break
            if changed:
                break
    return groups


def _touch(one: _Group, other: _Group, together: Box) -> bool:
    """Numbers that do not touch stay as many spans as they were."""
    if len(one.boxes) > 1 or len(other.boxes) > 1:
        return True
    return all(not isinstance(both, Numbers) or a == b or not a.spans or not b.spans  # type: ignore[union-attr]
               or len(both.spans) < len(a.spans) + len(b.spans)  # type: ignore[union-attr]
               for both, a, b in zip(together, one.boxes[0], other.boxes[0], strict=True))


def _reason(table: Table, rule: str) -> str:
    return rule.removeprefix(f"{table.id}.")
