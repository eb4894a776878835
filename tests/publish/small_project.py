"""Gives the tests a small guide to build and to break: the small data, a few pages of prose, the settings of the site."""

from __future__ import annotations

import shutil
from pathlib import Path

PROJECT = Path(__file__).resolve().parents[2]
GUIDE = """---
title: Choosing the liner
section: Select
---
# Choosing the liner

Soft rubber is judged {{ condition liner_temperature.rubber_within temperature_max }}.

{{ candidates liner }}
"""


def small_project(folder: Path) -> Path:
    """The folder, with data/, guide/ and mkdocs.yml in it. `liner_temperature` lets soft rubber bear up to 70 °C."""
    shutil.copytree(PROJECT / "tests/small_data", folder / "data")
    (folder / "guide/choosing").mkdir(parents=True)
    (folder / "guide/choosing/liner.md").write_text(GUIDE, "utf-8")
    for page in ("reading", "about", "how-it-decides", "choosing/size", "choosing/electrode_material"):
        (folder / f"guide/{page}.md").write_text(f"---\ntitle: {page}\nsection: Select\n---\n# {page}\n", "utf-8")
    shutil.copy(PROJECT / "mkdocs.yml", folder / "mkdocs.yml")
    return folder
