"""Gives back letters that ask for open answers as files of a folder, one to each addressee."""

from __future__ import annotations

from pathlib import Path

from generator.commands.at_hand import CannotRun
from generator.evaluate.letters import letters
from generator.pack.model import Pack
from generator.pack.texts import Texts
from generator.problems import Place, Problem
from generator.render.answer_document import Answered
from generator.render.letter_words import letter_text


def check_folder(folder: Path, files: list[Path]) -> None:
    """Nothing. Raises CannotRun where letters cannot be written as asked."""
    problems = []
    if folder.exists() and not folder.is_dir():
        problems.append(Problem(Place(folder.as_posix()), "Y017", "letters are written into a folder, and this is a file",
                                "give the name of a folder"))
    if len(files) != 1:
        problems.append(Problem(Place(folder.as_posix()), "Y017", f"letters are of one application, not of {len(files)}",
                                "give one file"))
    if problems:
        raise CannotRun(problems)


def put_letters(folder: Path, pack: Pack, texts: Texts, answered: Answered) -> None:
    """Writes `<application>_<addressee>.txt` for everyone who is asked something; without a question there is no file."""
    application, selected, understood, *_ = answered
    folder.mkdir(parents=True, exist_ok=True)
    for letter in letters(pack, selected):
        (folder / f"{application.id}_{letter.asked_of}.txt").write_text(
            letter_text(pack, texts, application, understood, letter), "utf-8")
