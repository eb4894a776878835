"""Witnesses: an unjudged one fails the check, an approved one is held against the rules, and a command never
judges.
"""

from __future__ import annotations

import re
from dataclasses import replace
from datetime import date
from pathlib import Path

import pytest
import yaml

from generator.analyse.approvals import check_witnesses
from generator.analyse.pinning import pinning_scores
from generator.analyse.witnesses import propose
from generator.commands.main import main
from generator.commands.pin import witness_file
from generator.compile.knowledge import compile_knowledge
from generator.evaluate.prepared import prepare
from generator.read.knowledge_base import read_files
from tests import shipped
from tests.read.small_data import BAD_DATA, SMALL_DATA, TESTS, files_of, small_files

FOLDERS = sorted(path for path in BAD_DATA.iterdir() if path.is_dir() and path.name.startswith("R")
                 and path.name[:4] not in ("R007", "R008", "R009"))    # those of cases and starters: see test_cases
ANALYSE = TESTS.parent / "generator" / "analyse" / "approvals.py"
OF_CASES = {"R001"}                  # said of a case in the same words; tested with the cases


def compiled(files: dict[str, bytes]):
    base, problems = read_files(files)
    assert base is not None, problems
    pack, texts, problems = compile_knowledge(base, date(2026, 11, 25))
    assert pack is not None and texts is not None, problems
    return prepare(pack), texts


def said(folder: Path) -> list[str]:
    files = files_of(folder)
    files.pop("expected.txt")
    return [str(problem) for problem in check_witnesses(*compiled(small_files() | files))]


@pytest.mark.parametrize("folder", FOLDERS, ids=[folder.name for folder in FOLDERS])
def test_bad_witnesses_say_their_expected_lines_and_no_others(folder: Path) -> None:
    expected = (folder / "expected.txt").read_text("utf-8").splitlines()
    assert said(folder) == expected
    assert folder.name[:4] in re.findall(r": ([A-Z]\d{3}): ", "\n".join(expected))


def test_every_problem_code_of_witnesses_has_a_bad_example() -> None:
    used = set(re.findall(r'"([A-Z]\d{3})"', ANALYSE.read_text("utf-8")))
    assert used - OF_CASES == {folder.name[:4] for folder in FOLDERS}


def test_a_witness_that_was_judged_as_the_rules_say_passes() -> None:
    text = (BAD_DATA / "R006_approved_against_the_rules" / "witnesses" / "warm_seawater.yml").read_bytes()
    files = small_files() | {"witnesses/warm_seawater.yml": text.replace(b"unsuitable", b"suitable")}
    assert check_witnesses(*compiled(files)) == []


def test_a_witness_whose_answer_cannot_be_read_is_reported() -> None:
    text = (BAD_DATA / "R006_approved_against_the_rules" / "witnesses" / "warm_seawater.yml").read_bytes()
    files = small_files() | {"witnesses/warm_seawater.yml": text.replace(b"30 degC, v", b"30 furlongs, v")}
    assert [problem.code for problem in check_witnesses(*compiled(files))] == ["R001"]


def test_a_proposal_has_no_verdict_and_once_judged_it_notices_what_it_promised() -> None:
    prepared, texts = compiled(small_files())
    before = pinning_scores(prepared, texts)
    proposed = propose(prepared, texts, before.survivors)
    assert proposed.proposals
    files = small_files()
    for one in proposed.proposals:
        written = yaml.safe_load(witness_file(prepared.pack, one))
        assert written["approver"] is None
        assert all(judged["verdict"] is None and judged["because"] is None for judged in written["judge"])
        files[f"witnesses/{one.id}.yml"] = witness_file(prepared.pack, one).encode()
    unjudged = check_witnesses(*compiled(files))
    assert [problem.code for problem in unjudged] == ["R005"] * len(proposed.proposals)
    for one in proposed.proposals:  # the rules stand in for the person: what counts here is what is noticed
        text = files[f"witnesses/{one.id}.yml"].decode()
        for (decision, candidate), in one.judge:
            prepared_again, texts_again = compiled(files)
            verdict = answer(prepared_again, texts_again, one.id, decision, candidate)
            blank = f"  - decision: {decision}\n    candidate: {candidate}\n    verdict:\n    because:\n"
            assert text.count(blank) == 1
            text = text.replace(
                blank, blank.replace("verdict:", f"verdict: {verdict}").replace("because:", "because: x")
            )
        files[f"witnesses/{one.id}.yml"] = text.replace("approver:", "approver: A. Tester").encode()
    prepared, texts = compiled(files)
    assert check_witnesses(prepared, texts) == []
    after = pinning_scores(prepared, texts)
    promised = sum(len(one.notices) for one in proposed.proposals)
    assert after.hand_written == before.hand_written
    assert after.with_witnesses.noticed - before.with_witnesses.noticed == promised > 0
    assert len(after.survivors) == len(proposed.beyond)


def answer(prepared, texts, witness: str, decision: str, candidate: str) -> str:
    from generator.analyse.cases import answer_case
    from generator.analyse.pinning import as_case
    one = next(item for item in texts.witnesses if item.id == witness)
    selected = answer_case(prepared, as_case(one)).selected
    return next(found.verdict for part in selected.decisions if part.decision == decision
                for found in part.candidates if found.candidate == candidate)


def test_the_command_writes_files_that_make_the_check_fail_until_they_are_judged(
    tmp_path: Path, capsys
) -> None:
    data = tmp_path / "data"
    for name, text in files_of(SMALL_DATA).items():
        (data / name).parent.mkdir(parents=True, exist_ok=True)
        (data / name).write_bytes(text)
    assert main(["pin", "--data", str(data), "--write", "--most", "1"]) == 0
    assert "each to be judged" in capsys.readouterr().out
    assert len(list((data / "witnesses").iterdir())) == 1
    assert main(["check", "--data", str(data), "--guide", str(tmp_path / "none")]) == 1
    assert "R005" in capsys.readouterr().err


def test_some_tables_alone_score_as_they_do_among_all_and_what_nobody_notices_is_listed(capsys) -> None:
    prepared, texts = compiled(small_files())
    every = pinning_scores(prepared, texts)
    places = {at for at, table in enumerate(prepared.pack.tables) if table.id in ("liner_temperature", "size_velocity")}
    assert len(places) == 2
    alone = pinning_scores(prepared, texts, tables=("liner_temperature", "size_velocity"))
    assert alone.survivors == tuple(one for one in every.survivors if one.table in places)
    assert 0 < alone.with_witnesses.mutants < every.with_witnesses.mutants
    assert main(["pin", "--data", str(SMALL_DATA), "--score", "--table", "liner_temperature", "--table", "size_velocity"]) == 0
    lines = [line for line in capsys.readouterr().out.splitlines() if line.startswith("unnoticed: ")]
    assert lines == [f"unnoticed: {', '.join(one.rules)}: {one.what}" for one in alone.survivors] != []


def test_the_shipped_cases_of_some_tables_notice_six_of_ten_mutants_of_their_rules() -> None:
    _, texts = shipped.base()
    tables = ("liner_temperature", "liner_vacuum", "size_velocity_max", "earthing_pipe")
    near = [case for case in texts.cases if any(line.rule.split(".")[0] in tables for line in case.expect)]
    some = replace(texts, cases=tuple(near))
    pinning = pinning_scores(shipped.prepared_base(), some, share=3, tables=tables)
    assert pinning.hand_written.mutants > 20
    assert pinning.hand_written.percent >= 60
    assert pinning.with_witnesses.noticed >= pinning.hand_written.noticed
