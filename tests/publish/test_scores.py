"""Pinning scores are counted once for the same rules, cases and program, and kept beside the guide."""

from __future__ import annotations

import json
from dataclasses import replace
from pathlib import Path

import pytest

from generator.publish import scores
from generator.publish.scores import kept_scores
from generator.render.library import Library, library
from tests.render.small_pack import small_pack
from tests.render.small_texts import small_texts


@pytest.fixture
def lib() -> Library:
    return library(small_pack(), small_texts())


def test_scores_are_counted_once_and_read_again_while_nothing_changes(lib: Library, tmp_path: Path):
    first = kept_scores(lib, tmp_path)
    (kept,) = tmp_path.glob("pinning-*.json")
    kept.write_text(json.dumps(first | {"unpinned": ["marked"]}), "utf-8")
    assert first is not None and kept_scores(lib, tmp_path)["unpinned"] == ["marked"]


def test_a_changed_case_or_rule_is_counted_anew(lib: Library, tmp_path: Path):
    kept_scores(lib, tmp_path)
    kept_scores(library(lib.pack, replace(lib.texts, cases=())), tmp_path)
    kept_scores(library(replace(lib.pack, tables=lib.pack.tables[1:]), lib.texts), tmp_path)
    assert len(list(tmp_path.glob("pinning-*.json"))) == 3


def test_nothing_is_counted_while_someone_waits_for_a_page(lib: Library, tmp_path: Path):
    assert kept_scores(lib, tmp_path, may_count=False) is None and not list(tmp_path.iterdir())
    counted = kept_scores(lib, tmp_path)
    assert kept_scores(lib, tmp_path, may_count=False) == counted


def test_only_the_newest_scores_are_kept(lib: Library, tmp_path: Path, monkeypatch: pytest.MonkeyPatch):
    monkeypatch.setattr(scores, "KEPT_AT_MOST", 2)
    for number in range(4):
        edition = replace(lib.texts.edition, title=str(number))
        kept_scores(library(lib.pack, replace(lib.texts, edition=edition)), tmp_path)
    assert len(list(tmp_path.glob("pinning-*.json"))) == 2
