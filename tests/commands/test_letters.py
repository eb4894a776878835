"""Says what `guide select FILE --letters FOLDER` writes."""

from __future__ import annotations

from pathlib import Path

import pytest

from generator.commands.main import main

DATA = Path(__file__).resolve().parents[1] / "small_data"
POINT = "id: intake\ntitle: Intake\nnormal: {medium: seawater}\n"


@pytest.fixture
def point(tmp_path: Path) -> Path:
    file = tmp_path / "intake.yml"
    file.write_text(POINT, "utf-8")
    return file


def _run(file: Path, *more: str) -> int:
    return main(["select", str(file), "--data", str(DATA), *more])


def test_everyone_who_is_asked_something_gets_one_letter_without_a_persons_name(
        point: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    folder = tmp_path / "new" / "letters"
    assert _run(point, "--letters", str(folder)) == 0
    files = sorted(one.name for one in folder.iterdir())
    assert files and all(name.startswith("intake_") and name.endswith(".txt") for name in files)
    text = (folder / "intake_process.txt").read_text("utf-8")
    first, second, *lines = text.split("\n")
    assert first.endswith("about measuring point intake, Intake") and second == "To: Process"
    assert "Good day," in lines and "Thank you." in lines
    asked = sum(line.startswith("   Why it is asked: ") for line in lines)
    assert asked == sum(line.startswith("   If nobody answers: ") for line in lines) == int(first.split()[1])
    assert "What to buy" in capsys.readouterr().out          # the verdicts are printed as ever


def test_letters_are_not_written_over_a_file_nor_of_two_applications(
        point: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert _run(point, "--letters", str(point)) == 2
    assert "Y017: letters are written into a folder, and this is a file; fix: give the name of a folder" in capsys.readouterr().err
    assert main(["select", str(point), str(point), "--data", str(DATA), "--letters", str(tmp_path / "out")]) == 2
    assert "Y017: letters are of one application, not of 2; fix: give one file" in capsys.readouterr().err
    assert not (tmp_path / "out").exists()
