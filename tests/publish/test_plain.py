"""The pages as files: any generator that reads Markdown can build them, ours or not."""

from __future__ import annotations

import re
import subprocess
import sys
from pathlib import Path
from urllib.parse import unquote

import pytest

from generator.problems import Refused
from generator.publish.plain import write_site
from tests.render.small_pack import small_pack
from tests.render.small_texts import small_texts

HEAD = "---\ntitle: Choosing\nsection: Select\n---\n"
PROSE = HEAD + "# Choosing\n\nTake {{ link liner.pfa }}.\n\n{{ table liner_temperature }}\n"


@pytest.fixture(scope="module")
def guide(tmp_path_factory) -> Path:
    """The prose that the generated pages of the small guide link to."""
    folder = tmp_path_factory.mktemp("prose") / "guide"
    for name in ("choosing/liner", "choosing/size", "how-it-decides", "reading", "about"):
        path = folder / f"{name}.md"
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text(PROSE, "utf-8")
    return folder


@pytest.fixture(scope="module")
def written(guide, tmp_path_factory) -> Path:
    folder = tmp_path_factory.mktemp("plain") / "docs"
    files, _ = write_site(small_pack(), small_texts(), guide, folder)
    assert files == sorted(files) and all(path.is_file() for path in files)
    return folder


def test_pages_prose_and_assets_are_written(written):
    for name in (
        "index.md",
        "liners/pfa.md",
        "media/index.md",
        "choosing/liner.md",
        "assets/pack.json",
        "assets/texts.json",
        "assets/guide.css",
    ):
        assert (written / name).is_file(), name


def test_same_data_gives_the_same_bytes(guide, written, tmp_path):
    again = tmp_path / "again"
    write_site(small_pack(), small_texts(), guide, again)
    contents = [
        {path.relative_to(folder): path.read_bytes() for path in folder.rglob("*") if path.is_file()}
        for folder in (written, again)
    ]
    assert contents[0] == contents[1]


def test_no_link_of_ours_is_left_unresolved(written):
    for path in written.rglob("*.md"):
        assert '"page:' not in (text := path.read_text("utf-8")) and "(page:" not in text, path


def test_prose_that_links_to_a_missing_page_is_refused(guide, tmp_path):
    lonely = tmp_path / "guide"
    lonely.mkdir()
    with pytest.raises(Refused) as refused:
        write_site(small_pack(), small_texts(), lonely, tmp_path / "docs")
    assert {problem.code for problem in refused.value.problems} == {"P006"}


def test_plain_mkdocs_builds_the_files_without_our_plugin_and_every_link_arrives(written, tmp_path):
    (tmp_path / "mkdocs.yml").write_text(
        f"site_name: Plain\ndocs_dir: {written}\nsite_dir: site\ntheme: mkdocs\nplugins: []\n", "utf-8"
    )
    done = subprocess.run(
        [sys.executable, "-m", "mkdocs", "build", "--quiet"],
        cwd=tmp_path,
        capture_output=True,
        text=True,
        check=False,
    )
    assert done.returncode == 0, done.stderr
    site = tmp_path / "site"
    checked = 0
    for page in sorted(site.rglob("*.html")):
        body = re.search(r'<article class="g-page.*?</article>', page.read_text("utf-8"), re.DOTALL)
        for address in re.findall(r'(?:href|src)="([^":]+)"', body.group() if body else ""):
            path, _, anchor = unquote(address).partition("#")
            target = (page.parent / path if path else page).resolve()
            target = target / "index.html" if target.is_dir() else target
            if target.suffix == ".js":
                continue  # scripts come with the browser's folder, which has its own tests
            assert target.is_file(), (page, address)
            assert not anchor or "=" in anchor or f'id="{anchor}"' in target.read_text("utf-8"), (
                page,
                address,
            )
            checked += 1
    assert checked > 100
