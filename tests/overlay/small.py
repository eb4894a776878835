"""Gives the tests of overlays the small knowledge base and overlays over it, all in memory."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date

from generator.compile.knowledge import compile_knowledge
from generator.pack.model import Pack
from generator.pack.texts import Texts
from generator.problems import Problem
from generator.read.knowledge_base import join_files, read_files
from tests.read.small_data import TESTS, files_of, small_files

SMALL_OVERLAY = TESTS / "small_overlay"
TODAY = date(2026, 11, 25)


def small_overlay() -> dict[str, bytes]:
    """The files of tests/small_overlay; the caller may change the mapping."""
    return files_of(SMALL_OVERLAY)


def laid(overlay: Mapping[str, bytes], base: Mapping[str, bytes] | None = None,
         ) -> tuple[Pack | None, Texts | None, list[Problem]]:
    """Pack and texts of the small base with an overlay, or what is wrong with it."""
    read, problems = read_files(dict(base or small_files()))
    assert read is not None, problems
    whole, problems = join_files(read, overlay, "overlay")
    return (None, None, problems) if whole is None else compile_knowledge(whole, TODAY)


def small_base(base: Mapping[str, bytes] | None = None) -> tuple[Pack, Texts]:
    """Pack and texts of the small base alone."""
    read, problems = read_files(dict(base or small_files()))
    assert read is not None, problems
    pack, texts, problems = compile_knowledge(read, TODAY)
    assert pack is not None and texts is not None, problems
    return pack, texts
