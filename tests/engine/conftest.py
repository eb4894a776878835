"""Gives the tests of this folder one JavaScript engine for the whole session."""

from __future__ import annotations

from collections.abc import Iterator

import pytest

from tests.engine.twin import Twin


@pytest.fixture(scope="session")
def twin() -> Iterator[Twin]:
    """The JavaScript engine in one node process."""
    engine = Twin()
    yield engine
    engine.close()
