"""Gives the tests of this folder the small guide, looked up once."""

from __future__ import annotations

import pytest

from generator.render.library import Library, library
from generator.render.page import Page
from generator.render.site import all_pages
from tests.render.small_pack import small_pack
from tests.render.small_texts import small_texts


@pytest.fixture(scope="session")
def lib() -> Library:
    return library(small_pack(), small_texts("https://example.org/guide/blob/main"))


@pytest.fixture(scope="session")
def pages(lib: Library) -> dict[str, Page]:
    """The pages of the small guide by their address."""
    return {page.address: page for page in all_pages(lib)}
