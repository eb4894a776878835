"""Gives back a whole site in memory: generated pages, prose, assets, and what may be linked to."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace
from pathlib import Path

from generator.pack.model import Pack
from generator.pack.texts import Texts
from generator.problems import Place, Problem, Refused
from generator.publish.assets import asset_files
from generator.publish.load import load_worked
from generator.publish.scores import kept_scores
from generator.publish.links import Targets, resolved, targets
from generator.render.library import library
from generator.render.page import Page
from generator.render.prose import Prose, read_prose
from generator.render.site import counted_pages

CACHE = ".cache"


@dataclass(frozen=True, slots=True)
class GuideSite:
    """Links in `pages` are resolved; those in `prose` are left to whoever turns its Markdown into HTML."""

    pages: tuple[Page, ...]
    prose: tuple[Prose, ...]
    assets: Mapping[str, bytes]
    targets: Targets
    repository: str
    title: str
    failing: str                     # counts the cases that the rules no longer meet; empty where they meet all


@dataclass(frozen=True, slots=True)
class NavSection:
    """A title with the pages below it, as (title, uri), and its sub-sections."""

    title: str
    pages: tuple[tuple[str, str], ...]
    sections: tuple[NavSection, ...]


def guide_site(pack: Pack, texts: Texts, guide_dir: Path, url_of: Callable[[str], str],
               pinning: str = "count", base: tuple[Pack, Texts] | None = None) -> GuideSite:
    """The site of a pack. Raises `Refused` with every reference and link that leads nowhere.

    `pinning` says what becomes of the pinning scores: `count` them where none are kept beside guide/, show only those
    that are `kept`, or `none`. They belong to the rules of the `base`, where the pack has an overlay.
    """
    lib = library(pack, texts, load_worked(guide_dir))
    scored = lib if base is None else library(*base)
    prose = read_prose(guide_dir, lib)
    scores = None if pinning == "none" else kept_scores(scored, guide_dir.resolve().parent / CACHE, pinning == "count")
    pages, failing = counted_pages(lib, scores, scored)
    assets = asset_files(lib)
    known = targets(pages, tuple(page.address for page in prose), tuple(assets))
    made: list[Page] = []
    problems: list[Problem] = []
    for page in pages:
        body, found = resolved(page.body, page.address, page.source or Place(page.uri), known, url_of)
        made.append(replace(page, body=body))
        problems += found
    for page in prose:
        problems += resolved(page.markdown, page.address, page.source, known, url_of, markdown=True)[1]
    if problems:
        raise Refused(problems)
    return GuideSite(tuple(made), prose, assets, known, texts.edition.repository, texts.edition.title,
                     failing)


def navigation(site: GuideSite, order: tuple[str, ...]) -> tuple[NavSection, ...]:
    """The pages by section in the given order, prose first, as far as they are listed. The start page belongs to no section."""
    sections: list[NavSection] = []
    listed = [page for page in site.pages if page.listed]
    for title in order:
        own = [(page.title, page.uri) for page in site.prose if page.section == title]
        own += [(page.title, page.uri) for page in listed if page.section == (title,)]
        below: dict[str, list[tuple[str, str]]] = {}
        for page in listed:
            if len(page.section) == 2 and page.section[0] == title:
                below.setdefault(page.section[1], []).append((page.title, page.uri))
        sections.append(
            NavSection(
                title, tuple(own), tuple(NavSection(name, tuple(found), ()) for name, found in below.items())
            )
        )
    return tuple(sections)
