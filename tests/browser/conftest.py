"""Gives each browser test a page that must end without a complaint in its console or a request elsewhere."""

from __future__ import annotations

from collections.abc import Iterator
from urllib.parse import urlsplit

import pytest

from tests.browser.worksheet_page import ask_everything


class Watch:
    """What a page complained of and where it asked: filled while it runs."""

    def __init__(self) -> None:
        self.complaints: list[str] = []
        self.hosts: set[str] = set()

    def follow(self, page: object) -> None:
        page.on("pageerror", lambda error: self.complaints.append(str(error)))
        page.on("console", self._listen)
        page.on("request", lambda request: self.hosts.add(urlsplit(request.url).netloc))

    def _listen(self, said: object) -> None:
        if said.type in ("error", "warning"):
            self.complaints.append(said.text)


@pytest.fixture
def context(browser: object, served_site: str) -> Iterator[object]:
    """A fresh browser profile; afterwards none of its pages has complained or asked another host."""
    watch = Watch()
    made = browser.new_context(viewport={"width": 1280, "height": 900}, accept_downloads=True)
    made.on("page", watch.follow)
    yield made
    made.close()
    assert watch.complaints == []
    assert watch.hosts <= {urlsplit(served_site).netloc, ""}  # a file that the page itself makes has none


@pytest.fixture(scope="module")
def filled(browser: object, served_site: str) -> Iterator[object]:
    """One page for many cases: each is filled in from the menu over the one before."""
    made = browser.new_context()
    page = made.new_page()
    page.goto(f"{served_site}/")
    page.wait_for_selector("#worksheet[data-evaluated]")
    yield page
    made.close()


@pytest.fixture
def short_start(context: object, served_site: str) -> object:
    """The start page as it opens: a blank worksheet with its first few questions, evaluated once."""
    page = context.new_page()
    page.goto(f"{served_site}/")
    page.wait_for_selector("#worksheet[data-evaluated]")
    return page


@pytest.fixture
def worksheet(short_start: object) -> object:
    """The blank worksheet with all of its questions."""
    ask_everything(short_start)
    return short_start
