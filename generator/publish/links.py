"""Gives back text whose `page:` links are relative to its page, and the links that lead nowhere."""

from __future__ import annotations

import posixpath
import re
from collections.abc import Callable, Mapping
from dataclasses import dataclass

from generator.problems import Place, Problem
from generator.render.page import Page

_IN_HTML = re.compile(r'([\w-]+)="page:([^"#]*)(#[^"]*)?"')
_IN_MARKDOWN = re.compile(r"(\]\()page:([^)#]*)(#[^)]*)?\)")
_ID = re.compile(r'\sid="([^"]+)"')

# The whole site as seen from a page: not an address of a page, so it has no file name in any form of address.
_ROOT_ATTRIBUTE = "data-root"


@dataclass(frozen=True, slots=True)
class Targets:
    """What links may lead to: addresses with their anchors. None: the anchors of that page are not known to
    us."""

    anchors: Mapping[str, frozenset[str] | None]


def targets(pages: tuple[Page, ...], prose: tuple[str, ...], assets: tuple[str, ...]) -> Targets:
    """The targets of a site. `prose` are addresses of hand-written pages, `assets` paths of files."""
    known: dict[str, frozenset[str] | None] = {path: frozenset() for path in assets}
    known.update((address, None) for address in prose)
    known.update((page.address, frozenset(_ID.findall(page.body))) for page in pages)
    return Targets(known)


def directory_url(address: str) -> str:
    """Where a page is in a site of folders: at its own address."""
    return address


def file_url(address: str) -> str:
    """Where a page is in a site of files: `liners/pfa/` is `liners/pfa.html`. Assets keep their path."""
    if address == "":
        return "index.html"
    return address.rstrip("/") + ".html" if address.endswith("/") else address


def relative(address: str, here: str, url_of: Callable[[str], str]) -> str:
    """The way from the page at `here` to an address."""
    start = posixpath.dirname(url_of(here))
    there = url_of(address)
    path = posixpath.relpath(there or ".", start or ".")
    if there == "" or there.endswith("/"):
        path += "/"
    return path


def resolved(
    text: str, here: str, place: Place, known: Targets, url_of: Callable[[str], str], markdown: bool = False
) -> tuple[str, list[Problem]]:
    """The text of the page at `here` with its links resolved, and a problem for each that leads nowhere."""
    problems: list[Problem] = []

    def way(attribute: str, address: str, anchor: str) -> str:
        if attribute == _ROOT_ATTRIBUTE:
            return relative("", here, directory_url if url_of is directory_url else _folder_url)
        problems.extend(_missing(address, anchor, place, known))
        if address == here and anchor:
            return anchor
        return relative(address, here, url_of) + anchor

    def in_html(match: re.Match[str]) -> str:
        return f'{match[1]}="{way(match[1], match[2], match[3] or "")}"'

    def in_markdown(match: re.Match[str]) -> str:
        return f"{match[1]}{way('href', match[2], match[3] or '')})"

    text = _IN_HTML.sub(in_html, text)
    return (_IN_MARKDOWN.sub(in_markdown, text) if markdown else text), problems


# private


def _folder_url(address: str) -> str:
    return "" if address == "" else file_url(address)


def _missing(address: str, anchor: str, place: Place, known: Targets) -> list[Problem]:
    if address not in known.anchors:
        return [
            Problem(
                place,
                "P006",
                f"a link leads to '{address}', which is no page of the guide",
                "add the page, or take the reference out",
            )
        ]
    anchors = known.anchors[address]
    if "=" in anchor:  # an application, which the worksheet keeps behind the same sign
        return []
    if anchor and anchors is not None and anchor[1:] not in anchors:
        return [
            Problem(
                place,
                "P006",
                f"a link leads to '{address}{anchor}', and that page has no such place",
                "add the record it names, or take the reference out",
            )
        ]
    return []
