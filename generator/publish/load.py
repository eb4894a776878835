"""Gives back the compiled pack of a data folder: the one place where the site asks the compiler."""

from __future__ import annotations

from pathlib import Path

from generator.compile.knowledge import load_pack
from generator.pack.model import Pack
from generator.pack.texts import Texts
from generator.render.worked import FOLDER


def load(data_dir: Path, overlay: str = "none") -> tuple[Pack, Texts]:
    """Pack and texts. `overlay` is "none" for the base alone, "named" for the one that guide.yml names, or a folder below
    the data folder. Raises `Refused` with every problem of the data."""
    if overlay in ("none", "named"):
        return load_pack(data_dir, overlay="named" if overlay == "named" else None)
    return load_pack(data_dir, overlay=data_dir / overlay)


def load_worked(guide_dir: Path) -> tuple[Pack, Texts] | None:
    """The small tables of the page that explains how the guide decides; None where the guide has none."""
    folder = guide_dir / FOLDER
    return load_pack(folder) if folder.is_dir() else None
