"""Gives back the elements of a finished page as a tree, with the words that a reader sees in each."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator
from dataclasses import dataclass, field
from html.parser import HTMLParser
from urllib.parse import urljoin

_EMPTY_ELEMENTS = frozenset("area base br col embed hr img input link meta source track wbr".split())
_ROOT = "http://site/"


@dataclass(slots=True)
class Element:
    """An element. `content` holds texts and elements in their order."""

    tag: str
    attributes: dict[str, str]
    content: list[Element | str] = field(default_factory=list)

    def has_class(self, name: str) -> bool:
        return name in self.attributes.get("class", "").split()

    def all(self, tag: str = "", named: str = "") -> Iterator[Element]:
        """The elements inside, in reading order, by tag and by class."""
        for part in self.content:
            if isinstance(part, Element):
                if (not tag or part.tag == tag) and (not named or part.has_class(named)):
                    yield part
                yield from part.all(tag, named)

    def first(self, tag: str = "", named: str = "") -> Element | None:
        return next(self.all(tag, named), None)

    def text(self, without: Callable[[Element], bool] = lambda element: False) -> str:
        """The words in it, blanks made plain. What a screen reader is spared is decoration, not words."""
        return plain_words("".join(self._texts(without)))

    def _texts(self, without: Callable[[Element], bool]) -> Iterator[str]:
        for part in self.content:
            if isinstance(part, str):
                yield part
            elif part.attributes.get("aria-hidden") != "true" and not without(part):
                yield from part._texts(without)


def plain_words(text: str) -> str:
    """Printed text with one plain blank between words, no blank inside a number, and the plain minus."""
    text = re.sub(r"(?<=\d)[\u202f\u2009](?=\d)", "", text).replace("\u2212", "-")
    return " ".join(text.split())


def page_body(html: str) -> Element:
    """The part of a page that is its own: what stands in its article, without the theme around it."""
    begin, end = html.find("<article"), html.rfind("</article>")
    reader = _TreeReader()
    reader.feed(html[begin:end] if begin >= 0 else html)
    reader.close()
    return reader.root


def address_of(link: Element, page: str) -> str:
    """Where a link of the page at address `page` leads, as an address of the site with its anchor."""
    return urljoin(_ROOT + page, link.attributes.get("href", "")).removeprefix(_ROOT)


# private

class _TreeReader(HTMLParser):
    def __init__(self) -> None:
        super().__init__(convert_charrefs=True)
        self.root = Element("", {})
        self._open = [self.root]

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        element = Element(tag, {name: value or "" for name, value in attrs})
        self._open[-1].content.append(element)
        if tag not in _EMPTY_ELEMENTS:
            self._open.append(element)

    def handle_startendtag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self._open[-1].content.append(Element(tag, {name: value or "" for name, value in attrs}))

    def handle_endtag(self, tag: str) -> None:
        for place in range(len(self._open) - 1, 0, -1):
            if self._open[place].tag == tag:
                del self._open[place:]
                return

    def handle_data(self, data: str) -> None:
        self._open[-1].content.append(data)
