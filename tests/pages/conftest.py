"""Gives the tests of the pages the built site, read once, and both engines."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest

from generator.pack.model import Pack
from generator.pack.texts import Texts
from tests import shipped
from tests.pages.engines import BrowserEngine, PythonEngine
from tests.pages.reading import Site, built_pages


@pytest.fixture(scope="session")
def knowledge() -> tuple[Pack, Texts]:
    """Pack and texts of the shipped data."""
    return shipped.whole()


@pytest.fixture(scope="session")
def pack(knowledge: tuple[Pack, Texts]) -> Pack:
    return knowledge[0]


@pytest.fixture(scope="session")
def site(built_site: Path) -> Site:
    """The finished pages."""
    return built_pages(built_site)


@pytest.fixture(scope="session")
def python_engine(pack: Pack) -> PythonEngine:
    return PythonEngine(pack)


@pytest.fixture(scope="session")
def browser_engine(built_site: Path, site: Site) -> Iterator[BrowserEngine]:
    """The scripts and the pack as the site ships them."""
    with BrowserEngine(built_site / "assets" / "engine", site.pack_text) as engine:
        yield engine
