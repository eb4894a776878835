"""A result that rests on a figure quoted from memory says so, and names the document to confirm."""

import json
from pathlib import Path

from generator.commands.main import main
from generator.pack.model import Recalled

from tests.compile.test_knowledge import compiled
from tests.read.small_data import changed, small_files

ROOT = Path(__file__).resolve().parents[2]
DATA, EXAMPLE = str(ROOT / "data"), str(ROOT / "guide" / "examples" / "seawater_intake.yml")


def recalled_rows(files: dict[str, bytes], table: str) -> dict[str, list[str]]:
    """Per rule of a table the sources that its row is marked with."""
    pack, _ = compiled(files)
    rows = next(one for one in pack.tables if one.id == table).rows
    return {row.rule: [pack.recalled[place].source for place in row.recalled] for row in rows}


def test_letters_of_a_recalled_handbook_mark_their_rows_and_practice_does_not() -> None:
    assert recalled_rows(small_files(), "liner_chemistry")["liner_chemistry.seawater.b1.pfa"] == ["handbooks"]
    assert recalled_rows(small_files(), "liner_temperature")["liner_temperature.rubber_hot"] == []


def test_a_read_handbook_marks_nothing() -> None:
    files = changed("media/seawater.yml", "checked: recalled", "checked: read")
    assert compiled(files)[0].recalled == ()


def test_a_rule_on_a_value_of_a_recalled_formula_or_bore_is_marked_and_its_clause_kept() -> None:
    formula = changed("formulas/mean_velocity.yml", "{ kind: physics, note: continuity }",
                      "{ kind: handbook, source: handbooks, checked: recalled, clause: '7.1' }")
    assert recalled_rows(formula, "size_velocity")["size_velocity.too_fast"] == ["handbooks"]
    assert Recalled("handbooks", "7.1") in compiled(formula)[0].recalled
    constant = changed("formulas/mean_velocity.yml", "value: 4 1, basis: { kind: physics }",
                       "value: 4 1, basis: { kind: handbook, source: handbooks, checked: recalled }")
    assert recalled_rows(constant, "size_velocity")["size_velocity.too_fast"] == ["handbooks"]
    assert recalled_rows(constant, "liner_temperature")["liner_temperature.rubber_hot"] == []


def test_select_never_calls_seawater_plain_suitable_because_its_letters_are_recalled(capsys) -> None:
    assert main(["select", EXAMPLE, "--data", DATA, "--base"]) == 0
    printed = " ".join(capsys.readouterr().out.split())
    # The letters of seawater are marked as recalled from general handbooks, its earthing as from ISO 20456.
    headline = printed.partition("What to buy ")[2].partition(" Sensor size ")[0]
    # Its place in the pipe asks for a support: a caution.
    assert headline.startswith("caution, provisional: confirm ")
    assert "general corrosion handbooks" in headline and "ISO 20456" in headline
    assert "suitable PFA" in printed and "PFA (provisional)" in printed


def test_the_answer_document_names_source_title_and_clause_of_what_is_to_be_confirmed(capsys) -> None:
    main(["select", EXAMPLE, "--data", DATA, "--base", "--json"])
    application = json.loads(capsys.readouterr().out)["applications"][0]
    best = application["selections"][0]
    assert {"source": "iso_20456", "title": "ISO 20456", "clause": ""} in best["confirm"]
    for decision in application["decisions"]:
        for candidate in decision["candidates"]:
            assert candidate["verdict"] != "open" or candidate["confirm"] == []
    liners = {one["candidate"]: one for decision in application["decisions"] if decision["decision"] == "liner"
              for one in decision["candidates"]}
    # Its letter is recalled, and its vacuum rule reads the ambient pressure, which follows ISO 2533 from memory.
    assert [one["source"] for one in liners["pfa"]["confirm"]] == ["corrosion_handbooks", "iso_2533"]
