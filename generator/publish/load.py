"""Gives back the compiled pack of a data folder: the one place where the site asks the compiler."""

from __future__ import annotations

from pathlib import Path

from generator.compile.knowledge import load_pack
from generator.pack.model import Pack
from generator.pack.texts import Texts
from generator.render.worked import FOLDER


def load(data_dir: Path) -> tuple[Pack, Texts]:
    """Pack and texts. Raises `Refused` with every problem of the data."""
    return load_pack(data_dir)


def load_worked(guide_dir: Path) -> tuple[Pack, Texts] | None:
    """The small tables of the page that explains how the guide decides; None where the guide has none."""
    folder = guide_dir / FOLDER
    return load_pack(folder) if folder.is_dir() else None
