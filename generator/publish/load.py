"""Gives back the compiled pack of a data folder: the one place where the site asks the compiler."""

from __future__ import annotations

from pathlib import Path

from generator.compile.knowledge import load_pack
from generator.pack.model import Pack
from generator.pack.texts import Texts


def load(data_dir: Path) -> tuple[Pack, Texts]:
    """Pack and texts. Raises `Refused` with every problem of the data."""
    return load_pack(data_dir)
