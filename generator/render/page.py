"""Gives back the shape of a page: an address, a title, finished HTML, and what a reader may search for in it.

Links inside a body are written `page:<address>#<anchor>`; `publish.links` turns them into relative ones, and
fails on a target that does not exist. So a page knows nothing of the folder or the generator that will show
it.
"""

from __future__ import annotations

from dataclasses import dataclass

from generator.problems import Place


@dataclass(frozen=True, slots=True)
class Heading:
    """A second-level heading of a page, for its table of contents."""

    anchor: str
    title: str


@dataclass(frozen=True, slots=True)
class SearchEntry:
    """One thing a reader may look for; an empty anchor is the page itself."""

    anchor: str
    title: str
    text: str


@dataclass(frozen=True, slots=True)
class Page:
    """`uri` is the file that would hold it (`liners/pfa.md`), `section` the way there through the navigation.

    `wide` asks for the room of the table of contents: its tables have many columns. A page that is not `listed`
    is reached from others and by search: hundreds of lines in a navigation help nobody.
    """

    uri: str
    title: str
    section: tuple[str, ...]
    body: str
    headings: tuple[Heading, ...] = ()
    search: tuple[SearchEntry, ...] = ()
    source: Place | None = None
    wide: bool = False
    listed: bool = True

    @property
    def address(self) -> str:
        return address_of(self.uri)


def address_of(uri: str) -> str:
    """The address of a page's file: `liners/pfa.md` is `liners/pfa/`, `liners/index.md` is `liners/`."""
    stem = uri.removesuffix(".md")
    if stem == "index":
        return ""
    return stem.removesuffix("/index") + "/"
