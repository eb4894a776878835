"""Damaged data never shows a traceback: `guide check` and `guide select` say in lines what is wrong.

MUTATIONS sets how many, as in tests.read.test_mutations; the suite takes a few.
"""

from __future__ import annotations

import os
import random
from pathlib import Path

import pytest

from generator.commands.main import main
from tests.compile.test_mutations import mutate_a_word
from tests.read.small_data import SMALL_DATA, files_of
from tests.read.test_mutations import mutate

MUTATIONS = int(os.environ.get("MUTATIONS", "200"))
POINT = "id: point\ntitle: A point\nnormal: {temperature_max: 60 degC, medium: seawater}\n"


def test_no_damage_to_the_data_gives_a_traceback_in_check_or_select(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.chdir(tmp_path)
    files = files_of(SMALL_DATA)
    for name, content in files.items():
        path = tmp_path / "data" / name
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_bytes(content)
    Path("point.yml").write_text(POINT, "utf-8")
    names = sorted(name for name in files if name.endswith(".yml"))
    chance = random.Random(20_261_125)
    codes = {0: 0, 1: 0}
    for number in range(MUTATIONS):
        name = chance.choice(names)
        damaged = chance.choice((mutate, mutate_a_word, mutate_a_word))(files[name], chance)
        path = tmp_path / "data" / name
        path.write_bytes(damaged)
        for command in (["--debug", "check"], ["--debug", "select", "point.yml"]):
            try:
                code = main(command)
            except Exception as fault:
                raise AssertionError(
                    f"{command[1]}, mutation {number} of {name} raised {fault!r}:\n{damaged!r}"
                ) from fault
            said = capsys.readouterr()
            assert code in codes and (said.err if code else said.out).strip(), (
                f"{command[1]}, mutation {number} of {name} gave {code}: {said}\n{damaged!r}"
            )
            assert "Traceback" not in said.out + said.err
            codes[code] += 1
        path.write_bytes(files[name])
    print(f"{MUTATIONS} mutations, two commands each: {codes[0]} answers clean, {codes[1]} with problems")
    assert min(codes.values()) > 0
