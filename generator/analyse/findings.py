"""Gives back what the committee should know of a pack's tables, exactly and in words with units.

The compiler refuses what nobody waived: gaps, rules that contradict or say the same twice, rules that never match. Here
the finished pack is proved again from its own rows, and read for what is not wrong but worth a look:

    never_decides      a rule whose whole region belongs to rules that decide before it
    could_be_one       rules with one verdict and one reason whose regions together are one box (letters are left out)
    idle_column        a column that never changes the verdict
    idle_input         an input that no table reads, or only by idle columns
    never_suitable     a candidate that no application can make suitable
    unreached          a verdict that no reference case reaches

Rules of a collect table may overlap: that is not told. All but `never_suitable` is exact; what that one takes as
free stands in `suitability`.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from generator.analyse.cases import AnsweredCase
from generator.analyse.finding import KIND_OF, KINDS, Finding, compiler_findings, with_waivers
from generator.analyse.idle import idle_columns, idle_inputs
from generator.analyse.reached import unreached
from generator.analyse.rules_alike import could_be_one, never_decides
from generator.analyse.space import axis_words, row_box, table_boxes, table_space
from generator.analyse.suitability import candidate_layers, never_suitable
from generator.boxes.split import merge, overlaps, uncovered
from generator.boxes.words import describe
from generator.evaluate.prepared import Prepared
from generator.pack.model import Pack, Table
from generator.pack.texts import Texts

OTHERWISE = "otherwise"

__all__ = ["Finding", "findings", "left_over", "row_box", "table_space"]


def findings(pack: Pack, texts: Texts, prepared: Prepared | None = None,
             answered: Iterable[AnsweredCase] = ()) -> tuple[Finding, ...]:
    """All findings, table by table in the pack's order, each table's in the order of the kinds; those of no table last.

    Without `prepared` the reference cases are not asked, and nothing is told of unreached verdicts. Those that are
    `answered` already are not asked again.
    """
    found = [*compiler_findings(texts)]
    for table in pack.tables:
        found += _proof(pack, texts, table)
        found += never_decides(pack, texts, table)
        found += could_be_one(pack, texts, table)
    idle = [one for table in pack.tables for one in idle_columns(pack, texts, table)]
    found += idle
    found += idle_inputs(pack, texts, idle)
    layers = candidate_layers(pack)
    found += never_suitable(texts, layers)
    if prepared is not None:
        found += unreached(prepared, texts, layers, answered)
    tables = {table.id: place for place, table in enumerate(pack.tables)}
    kinds = {kind.id: place for place, kind in enumerate(KINDS)}
    return with_waivers(
        sorted(found, key=lambda one: (tables.get(one.table, len(tables)), kinds[one.kind])), texts)


def left_over(pack: Pack, texts: Texts, table: Table) -> tuple[str, ...]:
    """What falls to the table's `otherwise`, as few regions in words."""
    axes = table_space(pack, table)
    boxes = [row_box(table, row, axes) for row in table.rows if row.rule == f"{table.id}.{OTHERWISE}"]
    words = axis_words(texts, table)
    return tuple(describe(axes, box, words) for box in merge(axes, boxes))


# private

def _proof(pack: Pack, texts: Texts, table: Table) -> Iterator[Finding]:
    """A unique table covers everything and says nothing twice; otherwise the compiler is at fault."""
    if table.hit_policy != "unique":
        return
    axes, words = table_space(pack, table), axis_words(texts, table)
    boxes = table_boxes(table, axes)
    place = next((one.file, one.line) for one in texts.tables if one.id == table.id)
    for gap in uncovered(axes, boxes):
        region = describe(axes, gap, words)
        yield Finding("gap", table.id, (), region, f"no row for {region}", *place,
                      f"{KIND_OF['gap'].code} {table.id} {region}")
    for i, j, shared in overlaps(axes, boxes):
        region = describe(axes, shared, words)
        rules = (table.rows[i].rule, table.rows[j].rule)
        yield Finding("overlap", table.id, rules, region, f"two rows, {rules[0]} and {rules[1]}, for {region}", *place,
                      f"{KIND_OF['overlap'].code} {table.id} {' '.join(rules)}")
