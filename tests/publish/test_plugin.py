"""The plugin inside MkDocs: what a committee member sees when data or prose is wrong or mended."""

from __future__ import annotations

import shutil
import subprocess
import sys
from pathlib import Path

import pytest
from mkdocs.commands.build import build as build_site
from mkdocs.config import load_config

from generator.publish.assets import asset_files
from tests.publish.small_project import PROJECT, small_project
from tests.shipped import library_of_whole

@pytest.fixture
def project(tmp_path) -> Path:
    return small_project(tmp_path)


def build(project: Path, *options: str) -> subprocess.CompletedProcess[str]:
    return subprocess.run(
        [sys.executable, "-m", "mkdocs", "build", "--quiet", *options],
        cwd=project,
        capture_output=True,
        text=True,
        check=False,
    )


def change(path: Path, old: str, new: str) -> None:
    text = path.read_text("utf-8")
    assert old in text
    path.write_text(text.replace(old, new, 1), "utf-8")


def test_changed_limit_stands_on_the_page_after_one_build(project):
    table = project / "data/tables/liner_temperature.yml"
    text = table.read_text("utf-8")
    assert "<= 70" in text and "> 70" in text
    table.write_text(text.replace("<= 70", "<= 73").replace("> 70", "> 73"), "utf-8")
    assert build(project).returncode == 0
    for page in ("tables/liner_temperature", "liners/soft_rubber", "choosing/liner"):
        assert "73\u00a0°C" in (project / "site" / page / "index.html").read_text("utf-8"), page
    assert "73" in (project / "site/assets/pack.json").read_text("utf-8")


def test_a_case_that_no_longer_holds_stops_no_strict_build_and_is_told_to_who_builds(project):
    change(project / "data/cases/seawater_intake.yml", "verdict: suitable, rule: liner_temperature.rubber_within", "verdict: caution")
    done = build(project, "--strict")
    assert done.returncode == 0, done.stderr
    assert "Reference cases that no longer hold: 1 of 1: `guide check` names each" in done.stderr


def test_broken_data_and_prose_stop_the_build_with_place_and_fix_and_no_traceback(project):
    change(project / "guide/choosing/liner.md", "{{ candidates liner }}", "{{ candidates linr }}")
    done = build(project)
    assert done.returncode == 1 and "Traceback" not in done.stderr
    assert "guide/choosing/liner.md:9:1: P001: there is no decision 'linr'; fix: type 'liner'" in done.stderr
    change(project / "data/tables/liner_temperature.yml", "then: suitable", "then: suitabel")
    done = build(project)
    assert done.returncode == 1 and "Traceback" not in done.stderr
    assert "data/tables/liner_temperature.yml:" in done.stderr and "fix:" in done.stderr


def test_serving_goes_on_with_the_last_good_site_and_says_why(project, monkeypatch, caplog):
    monkeypatch.chdir(project)
    monkeypatch.setenv("NO_MKDOCS_2_WARNING", "1")
    config = load_config(str(project / "mkdocs.yml"))
    config.plugins.on_startup(command="serve", dirty=False)
    build_site(config)
    page = project / "site/tables/liner_temperature/index.html"
    assert "g-refused" not in page.read_text("utf-8")
    change(project / "data/tables/liner_temperature.yml", "then: suitable", "then: suitabel")
    build_site(config)
    shown = page.read_text("utf-8")
    assert "g-refused" in shown and "data/tables/liner_temperature.yml:12:11: L009" in shown
    assert "Soft rubber keeps its bond" in shown
    assert any("L009" in record.message for record in caplog.records)
    change(project / "data/tables/liner_temperature.yml", "then: suitabel", "then: suitable")
    build_site(config)
    assert "g-refused" not in page.read_text("utf-8")


def test_dirty_build_is_refused(project):
    done = build(project, "--dirty")
    assert done.returncode == 1 and "--dirty" in done.stderr


def test_two_builds_in_two_folders_are_the_same_bytes(project, tmp_path_factory):
    other = tmp_path_factory.mktemp("other") / "project"
    shutil.copytree(project, other)
    assert build(project).returncode == build(other).returncode == 0
    first, second = (
        # The day of the build stands in the site map and nowhere else.
        {path.relative_to(folder / "site"): path.read_bytes() for path in (folder / "site").rglob("*")
         if path.is_file() and "sitemap" not in path.name}
        for folder in (project, other)
    )
    assert len(first) > 50
    assert {name for name in first.keys() | second.keys() if first.get(name) != second.get(name)} == set()


def test_the_site_says_of_the_shipped_rules_what_another_process_says(built_site):
    ours = asset_files(library_of_whole())
    for name in ("assets/pack.json", "assets/texts.json"):
        assert (built_site / name).read_bytes() == ours[name], name


def test_the_company_is_shown_beside_the_base_unless_the_base_alone_is_asked_for(project, monkeypatch):
    shutil.copytree(PROJECT / "tests/small_overlay", project / "data/overlays/small")
    change(project / "data/guide.yml", "company:", "overlay: overlays/small\ncompany:")
    site = project / "site"
    assert build(project).returncode == 0
    assert (site / "company/index.html").is_file() and "company/" in (site / "index.html").read_text("utf-8")
    monkeypatch.setenv("GUIDE_OVERLAY", "none")
    assert build(project).returncode == 0
    assert not (site / "company").exists() and "company/" not in (site / "index.html").read_text("utf-8")
