"""The tests' small knowledge base becomes a pack; one change shows where it should and nowhere else."""

from __future__ import annotations

import json
from datetime import date

import jsonschema
import pytest

from generator.compile.knowledge import compile_knowledge
from generator.pack.document import (
    from_document, json_schema, read_pack, texts_to_document, to_document, write_pack)
from generator.pack.model import Pack
from generator.pack.texts import Texts
from generator.problems import Problem
from generator.read.knowledge_base import read_files
from tests.read.small_data import small_files

TODAY = date(2026, 11, 25)


def compiled(files: dict[str, bytes], today: date = TODAY) -> tuple[Pack, Texts]:
    base, problems = read_files(files)
    assert base is not None, problems
    pack, texts, problems = compile_knowledge(base, today)
    assert pack is not None and texts is not None, [str(problem) for problem in problems]
    return pack, texts


def problems_of(files: dict[str, bytes], today: date = TODAY) -> list[Problem]:
    base, problems = read_files(files)
    assert base is not None, problems
    pack, texts, problems = compile_knowledge(base, today)
    assert pack is None and texts is None
    return problems


@pytest.fixture(scope="module")
def small() -> tuple[Pack, Texts]:
    return compiled(small_files())


def rows_of(pack: Pack, table: str) -> list[tuple[str, int]]:
    return [(row.rule, row.verdict) for row in next(one for one in pack.tables if one.id == table).rows]


def test_letters_become_one_rule_per_medium_band_and_candidate_with_otherwise_last(small):
    assert rows_of(small[0], "liner_chemistry") == [
        ("liner_chemistry.seawater.b1.pfa", 3), ("liner_chemistry.seawater.b1.soft_rubber", 3),
        ("liner_chemistry.seawater.b2.pfa", 3), ("liner_chemistry.seawater.b2.soft_rubber", 0),
        ("liner_chemistry.otherwise", 1), ("liner_chemistry.otherwise", 1)]


def test_a_band_begins_just_above_the_next_lower_one(small):
    table = next(one for one in small[0].tables if one.id == "liner_chemistry")
    first, second = table.columns[2].cells[0].intervals[0], table.columns[2].cells[1].intervals[0]
    assert (first.low, first.low_in, first.high, first.high_in) == (-50.0, True, 40.0, True)
    assert (second.low, second.low_in, second.high, second.high_in) == (40.0, False, 90.0, True)


def test_every_row_has_the_text_of_its_rule_and_a_derived_column_the_text_of_no_value(small):
    pack, texts = small
    told = {rule.rule: rule for rule in texts.rules}
    assert {row.rule for table in pack.tables for row in table.rows} <= set(told)
    assert told["size_velocity.no_value"].origin == "no_value"
    assert told["liner_chemistry.seawater.b2.soft_rubber"].line == 13
    assert len(told) == len(texts.rules)


def test_spellings_numbers_and_flags_reach_the_pack(small):
    pack, _ = small
    temperature = next(one for one in pack.inputs if one.id == "temperature_max")
    fahrenheit = next(one for one in temperature.conversions if one.spelling == "degF")
    assert (fahrenheit.n, fahrenheit.k, fahrenheit.d) == (5, -160, 9)
    size = next(one for one in pack.decisions if one.id == "size")
    assert dict(size.candidates[0].numbers)["nominal_bore"] > 0
    assert pack.derived[0].decisions == ("size",) and pack.derived[0].arguments[1].kind == "candidate"


def test_a_waived_gap_is_open_and_told_with_who_waived_it(small):
    pack, texts = small
    assert rows_of(pack, "size_velocity") == [("size_velocity.too_fast", 0), ("size_velocity.otherwise", 1)]
    assert [
        one.finding
        for one in texts.waived] == ["G001 size_velocity highest velocity in the sensor up to 10 m/s"]


def test_a_waiver_past_its_day_lets_the_finding_stand_and_says_so():
    assert [one.code for one in problems_of(small_files(), today=date(2100, 1, 1))] == ["G001", "G006"]


def test_a_waiver_holds_on_its_last_day():
    compiled(small_files(), today=date(2099, 12, 31))


def test_a_lowered_limit_opens_exactly_the_gap_beside_it():
    files = small_files()
    text = files["tables/liner_temperature.yml"].decode()
    for old, new in (('"<= 70"', '"<= 60"'), ("liner: [soft_rubber], temp", "temp"),
                     ("otherwise: { verdict: open, because: No figure for this liner. }\n", "")):
        assert old in text
        text = text.replace(old, new)
    (gap,) = problems_of(files | {"tables/liner_temperature.yml": text.encode()})
    assert gap.code == "G001"
    assert "has no rule for highest temperature above 60 up to 70 °C;" in str(gap)


def test_tables_that_fail_do_not_hide_each_other():
    files = small_files()
    for name, old, new in (("tables/liner_temperature.yml", b'"<= 70"', b'"<= 7O"'),
                           ("tables/size_velocity.yml", b'"> 10"', b'"> 1000"'),
                           ("formulas/mean_velocity.yml", b"bore * bore", b"bore")):
        files[name] = files[name].replace(old, new)
    assert [(one.place.file, one.code) for one in problems_of(files)] == [
        ("data/formulas/mean_velocity.yml", "C011"), ("data/tables/liner_temperature.yml", "C001"),
        ("data/tables/size_velocity.yml", "C002")]


def test_a_pack_goes_into_its_document_and_back_and_fits_its_schema(small):
    pack, texts = small
    text = write_pack(pack, "e1")
    assert read_pack(text) == pack and write_pack(read_pack(text), "e1") == text
    jsonschema.Draft202012Validator.check_schema(json_schema())
    jsonschema.validate(json.loads(text), json_schema())
    assert json.dumps(
        texts_to_document(texts, "e1")) == json.dumps(texts_to_document(compiled(small_files())[1], "e1"))


def test_a_document_of_another_form_is_refused_with_the_place(small):
    document = json.loads(write_pack(small[0], "e1"))
    with pytest.raises(ValueError, match="format"):
        from_document(document | {"format": 2})
    document["states"][0]["measuring"] = 1
    with pytest.raises(ValueError, match=r"pack\.states\[0\]\.measuring"):
        from_document(document)
    with pytest.raises(jsonschema.ValidationError):
        jsonschema.validate(document, json_schema())


def test_every_field_is_written_even_when_it_is_empty(small):
    document = to_document(small[0], "e1")
    assert document["inputs"][0]["refusals"] == [] and document["inputs"][0]["unit"] == ""
