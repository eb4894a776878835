"""The commands as a person or a script calls them: exit codes, one line per fault, JSON that keeps to its schema."""

import json
from pathlib import Path

import pytest
import yaml
from jsonschema import Draft202012Validator

from generator.commands.main import main
from generator.render.answer_document import answer_schema
from tests.shipped import copy_to

ROOT = Path(__file__).resolve().parents[2]
DATA, EXAMPLE = str(ROOT / "data"), str(ROOT / "guide" / "examples" / "seawater_intake.yml")


def test_check_is_clean_on_the_shipped_data_and_prose(capsys) -> None:
    assert main(["check", "--data", DATA, "--guide", str(ROOT / "guide")]) == 0
    assert capsys.readouterr().out.startswith("clean: ")


def test_check_as_json_counts_what_it_checked(tmp_path, monkeypatch, capsys) -> None:
    copy_to(tmp_path, ("river_water_41", "closed_heating_loop"))
    monkeypatch.chdir(tmp_path)
    assert main(["check", "--json"]) == 0
    document = json.loads(capsys.readouterr().out)
    assert document["problems"] == []
    assert document["counts"]["cases"] == 2 and document["counts"]["media"] >= 20


def test_select_answers_the_shipped_example_in_the_published_shape(capsys) -> None:
    assert main(["select", EXAMPLE, "--data", DATA, "--json"]) == 0
    document = json.loads(capsys.readouterr().out)
    Draft202012Validator.check_schema(answer_schema())
    Draft202012Validator(answer_schema()).validate(document)
    application = document["applications"][0]
    decisions = [one["decision"] for one in application["decisions"]]
    assert decisions == [one["id"] for one in yaml.safe_load((ROOT / "data" / "decisions.yml").read_text())]
    assert {"size", "liner", "electrode_material", "earthing", "ring_material"} <= set(decisions)
    assert all(candidate["reasons"] for one in application["decisions"] for candidate in one["candidates"])
    velocity = next(one for one in application["values"] if one["name"] == "velocity_normal"
                    and one["candidate"] == "dn100" and one["state"] == "normal")
    # 265 US gal/min through 100 mm, closed form: 265 * 3.785411784e-3 / 60 / (pi / 4 * 0.01)
    assert velocity["formula"] == "mean_velocity" and velocity["unit"] == "m/s"
    assert velocity["value"] == pytest.approx(2.1287151, rel=1e-6)


def test_a_document_that_breaks_the_schema_is_refused_by_it(capsys) -> None:
    main(["select", EXAMPLE, "--data", DATA, "--json"])
    document = json.loads(capsys.readouterr().out)
    document["applications"][0]["decisions"][0]["candidates"][0]["verdict"] = "probably good"
    assert not Draft202012Validator(answer_schema()).is_valid(document)


def test_select_prints_every_decision_with_a_reason_and_the_cautions(capsys) -> None:
    assert main(["select", EXAMPLE, "--data", DATA]) == 0
    printed = capsys.readouterr().out
    assert "normal  temperature_max: 95 degF -> 35 degC" in printed
    assert "US gallons" in printed and "Cautions" in printed
    assert "[electrode_chemistry.seawater.b1.stainless_316l; normal;" in printed


def test_a_reference_case_file_is_no_application_and_says_so_in_lines(tmp_path, capsys) -> None:
    wrong = tmp_path / "line.yml"
    wrong.write_text("id: a\ntitle: A\nnormal:\n  temperature_max: 80 furlongs\n  liner: pfa\nsteaming: maybe\n", "utf-8")
    assert main(["select", str(wrong), "--data", DATA]) == 1
    lines = capsys.readouterr().err.splitlines()
    assert [line.split(":")[1:3] for line in lines[:3]] == [["4", "20"], ["5", "3"], ["6", "11"]]
    assert all("; fix: " in line for line in lines[:3]) and lines[3] == "3 problems"


def test_problems_of_all_files_of_a_run_are_shown(tmp_path, capsys) -> None:
    for name in ("one", "two"):
        (tmp_path / f"{name}.yml").write_text("id: a\ntitle: A\nnormal: {temperature_max: 80}\n", "utf-8")
    assert main(["select", str(tmp_path / "one.yml"), str(tmp_path / "two.yml"), "--data", DATA, "--json"]) == 1
    problems = json.loads(capsys.readouterr().out)["problems"]
    assert [Path(one["file"]).name for one in problems] == ["one.yml", "two.yml"]


def test_beside_the_problems_json_says_what_could_be_read_and_no_verdict(tmp_path, capsys) -> None:
    (tmp_path / "a.yml").write_text(
        "id: a\ntitle: A\nnormal: {temperature_max: 95 degF, pipe_size: DN 70}\n", "utf-8")
    assert main(["select", str(tmp_path / "a.yml"), "--data", DATA, "--json"]) == 1
    document = json.loads(capsys.readouterr().out)
    assert [one["fix"] for one in document["problems"]] == ["type `DN 65` or `DN 80`, the sizes next to it"]
    taken = {one["input"]: (one["state"], one["typed"], one["taken"]) for one in document["understood"]}
    assert taken["temperature_max"] == ("normal", "95 degF", "35 degC") and "pipe_size" not in taken
    assert set(document) == {"problems", "understood"}


NOT_THERE = [
    (["check", "--data", "nowhere"], "nowhere: Y015: no knowledge base in 'nowhere'; "
     "fix: run it in the project's folder or give --data FOLDER"),
    (["check"], "data: Y015: no knowledge base in 'data'; "
     "fix: run it in the project's folder or give --data FOLDER"),
    (["write", "pages"], "data: Y015: no knowledge base in 'data'; "
     "fix: run it in the project's folder or give --data FOLDER"),
    (["select", "a.yml"], "data: Y015: no knowledge base in 'data'; "
     "fix: run it in the project's folder or give --data FOLDER"),
    (["pin", "--table", "liner_temprature", "--data", DATA], "--table: Y016: there is no rule table 'liner_temprature'; "
     "fix: did you mean `liner_temperature`?"),
    (["compare", "nowhere", "--data", DATA], "nowhere: Y015: no knowledge base in 'nowhere'; "
     "fix: run it in the project's folder or give --data FOLDER"),
    (["select", "nowhere.yml", "--data", DATA], "nowhere.yml: Y014: the file cannot be opened "
     "(No such file or directory); fix: type the path of an application file: guide select FILE.yml"),
    (["select", "folder", "--data", DATA], "folder: Y014: the file cannot be opened (Is a directory); "
     "fix: type the path of an application file: guide select FILE.yml"),
    (["select", EXAMPLE, "--record", "nowhere/r.html", "--data", DATA],
     "nowhere/r.html: Y014: No such file or directory; fix: make the folder first, or give another name"),
]


@pytest.mark.parametrize(("arguments", "line"), NOT_THERE, ids=[" ".join(one[:2]) for one, _ in NOT_THERE])
def test_what_is_not_there_is_said_in_one_line_and_as_json(arguments, line, tmp_path, capsys, monkeypatch) -> None:
    monkeypatch.chdir(tmp_path)
    (tmp_path / "folder").mkdir()
    (tmp_path / "data").mkdir()
    assert main(arguments) == 2
    printed = capsys.readouterr()
    assert (printed.err, printed.out) == (f"{line}\n", "")
    assert main([*arguments, "--json"]) == 2
    printed = capsys.readouterr()
    problem, = json.loads(printed.out)["problems"]
    said = f"{problem['file']}: {problem['code']}: {problem['message']}; fix: {problem['fix']}"
    assert (printed.err, said) == ("", line)


def test_a_knowledge_base_that_lacks_a_list_is_checked_and_not_called_absent(tmp_path, capsys) -> None:
    (tmp_path / "inputs.yml").write_text("[]\n", "utf-8")
    assert main(["check", "--data", str(tmp_path)]) == 1
    assert "decisions.yml: L002: the file is missing" in capsys.readouterr().err


def test_an_empty_application_is_told_what_it_needs(tmp_path, capsys) -> None:
    (tmp_path / "a.yml").write_text("", "utf-8")
    assert main(["select", str(tmp_path / "a.yml"), "--data", DATA]) == 1
    assert "write `id: ...`, `title: ...` and the answers under `normal:`" in capsys.readouterr().err


def test_write_puts_pages_and_assets_into_the_folder(tmp_path, monkeypatch, capsys) -> None:
    copy_to(tmp_path, ("river_water_41", "closed_heating_loop"))
    monkeypatch.chdir(tmp_path)
    folder = tmp_path / "pages"
    assert main(["write", str(folder), "--no-scores", "--json"]) == 0
    written = json.loads(capsys.readouterr().out)["files"]
    assert (folder / "index.md").is_file() and len(written) > 150
    assert {Path(name).name for name in written} >= {"pack.json", "texts.json", "worksheet.js", "answer.schema.json"}
