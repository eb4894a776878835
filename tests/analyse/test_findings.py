"""The finished pack is proved again from its own rows, and what is idle or impossible in it is told."""

from __future__ import annotations

from dataclasses import replace
from datetime import date

import pytest

from generator.analyse.finding import KIND_OF
from generator.analyse.findings import findings, left_over
from generator.compile.knowledge import compile_knowledge
from generator.evaluate.prepared import prepare
from generator.pack.model import Pack, Table
from generator.pack.texts import Texts
from generator.read.knowledge_base import read_files
from tests import shipped
from tests.read.small_data import small_files



@pytest.fixture(scope="module")
def small() -> tuple[Pack, Texts]:
    base, problems = read_files(small_files())
    assert base is not None, problems
    pack, texts, problems = compile_knowledge(base, date(2026, 11, 25))
    assert pack is not None and texts is not None, problems
    return pack, texts


def with_table(pack: Pack, name: str, **changes: object) -> Pack:
    return replace(
        pack, tables=tuple(replace(one, **changes) if one.id == name else one for one in pack.tables))


def table_of(pack: Pack, name: str) -> Table:
    return next(one for one in pack.tables if one.id == name)


def kinds(pack: Pack, texts: Texts) -> list[tuple[str, str, str]]:
    return [(one.kind, one.table, one.region) for one in findings(pack, texts)]


def test_a_compiled_pack_has_no_gap_and_no_overlap_but_the_waived_one(small):
    found = [one for one in findings(*small) if one.kind in ("gap", "overlap")]
    assert [(one.table, one.region, one.waived.approver, one.waived.until) for one in found] == [
        ("size_velocity", "highest velocity in the sensor up to 10 m/s", "A. Tester", "2099-12-31")]


def test_a_dropped_row_is_a_gap_with_its_region_and_unit(small):
    pack, texts = small
    broken = with_table(pack, "liner_temperature", rows=table_of(pack, "liner_temperature").rows[1:])
    assert (
        "gap", "liner_temperature",
        "Liner Soft rubber, Highest temperature up to 70 °C") in kinds(broken, texts)


def test_a_doubled_row_is_an_overlap_with_its_region(small):
    pack, texts = small
    rows = table_of(pack, "liner_temperature").rows
    broken = with_table(pack, "liner_temperature", rows=(*rows, rows[1]))
    assert (
        "overlap", "liner_temperature",
        "Liner Soft rubber, Highest temperature above 70 °C") in kinds(broken, texts)


def test_a_column_that_never_changes_the_verdict_is_idle(small):
    pack, texts = small
    idle = {(one.table, one.message) for one in findings(pack, texts) if one.kind == "idle_column"}
    assert idle == {("liner_chemistry", "'concentration' never changes what the table says")}
    rows = tuple(replace(row, verdict=3) for row in table_of(pack, "liner_temperature").rows)
    changed = with_table(pack, "liner_temperature", rows=rows)
    assert ("idle_column", "liner_temperature", "") in kinds(changed, texts)


def test_a_candidate_that_no_row_calls_suitable_is_never_suitable(small):
    found = {(one.table, one.message) for one in findings(*small) if one.kind == "never_suitable"}
    assert ("liner_temperature", "'pfa' is never suitable by this table") in found
    assert not any("'soft_rubber'" in message for _, message in found)


def test_what_falls_to_otherwise_is_told_in_few_regions(small):
    pack, texts = small
    assert left_over(pack, texts, table_of(pack, "liner_chemistry")) == (
        "Medium Seawater, Highest temperature above 90 °C", "Medium A medium that is not listed")


def test_an_input_that_no_table_reads_is_told_and_one_that_lends_its_assumed_value_is_not(small):
    pack, texts = small
    assert {one.subject for one in findings(pack, texts) if one.kind == "idle_input"} == {"concentration"}
    fewer = replace(pack, tables=tuple(one for one in pack.tables if one.id != "size_velocity"))
    assert {one.subject for one in findings(fewer, texts) if one.kind == "idle_input"} == {"concentration", "flow_max"}


def test_verdicts_that_no_case_reaches_are_told_by_table_and_by_candidate(small):
    pack, texts = small
    found = {one.key for one in findings(pack, texts, prepare(pack)) if one.kind == "unreached"}
    without = {one.key for one in findings(pack, replace(texts, cases=()), prepare(pack)) if one.kind == "unreached"}
    assert found < without and "G016 liner soft_rubber suitable" in without
    for key in without - found:                      # a case reaches it: it is among the verdicts of some candidate
        assert key.split()[-1] in ("unsuitable", "open", "caution", "suitable")
    assert {key for key in without if key.startswith("G016 size_velocity ")} == {
        "G016 size_velocity unsuitable", "G016 size_velocity open"}


def test_every_finding_of_the_shipped_pack_has_a_place_and_a_key_of_its_own():
    pack, texts = shipped.base()
    few = replace(texts, cases=texts.cases[::40], witnesses=texts.witnesses[::40])     # with all it takes minutes
    found = findings(pack, few, shipped.prepared_base())
    assert len({one.key for one in found}) == len(found) > 0
    assert all(one.file.startswith("data/") and one.line > 0 for one in found)
    assert all(one.key.startswith(KIND_OF[one.kind].code) for one in found)
    assert not [one for one in found if KIND_OF[one.kind].fails and not one.waived]
