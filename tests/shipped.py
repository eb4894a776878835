"""Gives the tests the shipped data: compiled once in a process, however many tests ask for it."""

from __future__ import annotations

import shutil
from collections.abc import Collection
from functools import cache
from pathlib import Path

from generator.compile.knowledge import load_pack
from generator.evaluate.prepared import Prepared, prepare
from generator.pack.model import Pack
from generator.pack.texts import CaseText, Texts
from generator.render.library import Library, library

ROOT = Path(__file__).resolve().parent.parent
DATA = ROOT / "data"


@cache
def base() -> tuple[Pack, Texts]:
    """Pack and texts of the base alone."""
    return load_pack(DATA, ROOT)


@cache
def whole() -> tuple[Pack, Texts]:
    """Pack and texts of the base with the overlay that guide.yml names: what site, worksheet and commands show."""
    return load_pack(DATA, ROOT, overlay="named")


@cache
def prepared_base() -> Prepared:
    return prepare(base()[0])


@cache
def prepared_whole() -> Prepared:
    return prepare(whole()[0])


@cache
def library_of_base() -> Library:
    return library(*base())


@cache
def library_of_whole() -> Library:
    return library(*whole())


def typed_case(case: CaseText) -> dict[str, object]:
    """The application of a reference case, as its answers were typed."""
    states = {state: "none" if answers is None else dict(answers) for state, answers in case.application}
    return {"id": case.id, "title": case.title} | states


def copy_to(folder: Path, cases: Collection[str] = ()) -> None:
    """Puts data/ and guide/ into a folder, to be changed there, with these of the base's reference cases only: each
    case takes a tenth of a second in every check and every site."""
    for name in ("data", "guide"):
        shutil.copytree(ROOT / name, folder / name)
    for path in (folder / "data/cases").glob("*.yml"):
        if path.stem not in cases:
            path.unlink()
    assert all((folder / f"data/cases/{name}.yml").is_file() for name in cases)
