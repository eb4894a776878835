"""Builds the guide, and the same pages as a plain MkDocs site: each in a process of its own, as a person would."""

from __future__ import annotations

import os
import re
import subprocess
import sys
from pathlib import Path

from generator.compile.knowledge import load_pack
from generator.publish.plain import write_site

_PLAIN = """\
site_name: The same pages
docs_dir: docs
site_dir: site
theme: {name: material, font: false}
plugins: [search]
validation: {links: {not_found: ignore, anchors: ignore, absolute_links: ignore, unrecognized_links: ignore}}
"""


def write_plain(project: Path, folder: Path) -> int:
    """Writes every page of the guide as Markdown with its HTML, below a plain mkdocs.yml; gives back their number."""
    pack, texts = load_pack(project / "data")
    written, _ = write_site(pack, texts, project / "guide", folder / "docs")
    (folder / "mkdocs.yml").write_text(_PLAIN, "utf-8")
    return sum(bool(re.search(r"\.md$", path.name)) for path in written)


def build_guide(project: Path, site: Path) -> None:
    """`mkdocs build` of the guide: reads, compiles, makes the pages, writes the site."""
    _build(project, "--site-dir", str(site))


def build_plain(folder: Path) -> None:
    """`mkdocs build` of pages that stand there already."""
    _build(folder)


# private

def _build(folder: Path, *more: str) -> None:
    subprocess.run([sys.executable, "-m", "mkdocs", "build", "--quiet", *more], cwd=folder, check=True,
                   capture_output=True, env=os.environ | {"NO_MKDOCS_2_WARNING": "1"})
