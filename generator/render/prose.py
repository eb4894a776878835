"""Gives back the prose of guide/ with its references replaced, and every reference that leads nowhere.

A page begins with `title:` and `section:` between two `---` lines. A reference is typed `{{ name words }}`.
Numbers are never typed: a digit outside a reference is a problem, because nobody would correct it when the
data changes.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from pathlib import Path

from markupsafe import Markup

from generator.pack.model import Pack
from generator.pack.texts import Texts
from generator.problems import Place, Problem, Refused
from generator.render.library import Library, library
from generator.render.page import address_of
from generator.render.references import REFERENCES, Unknown, resolve

SECTIONS = ("Select", "Look up", "Learn", "Review")

# Names that contain digits and are no figures of the guide.
NAMES_WITH_DIGITS = ("316L", "C-276")

_REFERENCE = re.compile(r"\{\{(.*?)\}\}")
_FRONT_LINE = re.compile(r"([a-z]+):\s*(\S.*)$")
_DIGITS = re.compile(r"\d[\d.,]*")
_LIST_NUMBER = re.compile(r"^\s*\d+\. ")


@dataclass(frozen=True, slots=True)
class Prose:
    """A hand-written page: `markdown` has its references replaced; `uri` is its file below guide/."""

    uri: str
    title: str
    section: str
    markdown: str
    source: Place

    @property
    def address(self) -> str:
        return address_of(self.uri)


def read_prose(guide_dir: Path, lib: Library) -> tuple[Prose, ...]:
    """All prose pages in order of their section, then of their file. Raises Refused with every problem found.
    """
    pages, problems = _read_all(guide_dir, lib)
    if problems:
        raise Refused(problems)
    return pages


def check_prose(guide_dir: Path, pack: Pack, texts: Texts,
                worked: tuple[Pack, Texts] | None = None) -> list[Problem]:
    """Everything the prose can get wrong, in order of place; `worked` as `library` takes it."""
    return sorted(_read_all(guide_dir, library(pack, texts, worked))[1])


# private


def _read_all(guide_dir: Path, lib: Library) -> tuple[tuple[Prose, ...], list[Problem]]:
    pages: list[Prose] = []
    problems: list[Problem] = []
    for path in sorted(guide_dir.rglob("*.md")):
        uri = path.relative_to(guide_dir).as_posix()
        page, found = _read_page(path, uri, f"{guide_dir.name}/{uri}", lib)
        problems += found
        if page:
            pages.append(page)
    pages.sort(key=lambda page: (SECTIONS.index(page.section), _place_of(lib, page.uri), page.uri))
    return tuple(pages), problems


def _place_of(lib: Library, uri: str) -> int:
    """The decisions stand in their own order; other pages stand before them, by name."""
    names = [f"choosing/{decision.id}.md" for decision in lib.texts.decisions]
    return names.index(uri) if uri in names else -1


def _read_page(path: Path, uri: str, file: str, lib: Library) -> tuple[Prose | None, list[Problem]]:
    try:
        text = path.read_text("utf-8")
    except UnicodeDecodeError:
        return None, [Problem(Place(file), "P005", "this page is not UTF-8 text", "save it as UTF-8")]
    lines = text.splitlines()
    front, first, problems = _front_matter(file, lines)
    printed: list[str] = []
    for number, line in enumerate(lines[first:], start=first + 1):
        made, found = _line(line, file, number, lib)
        printed.append(made)
        problems += found
    if "title" not in front or front.get("section") not in SECTIONS:
        return None, problems
    return Prose(uri, front["title"], front["section"], "\n".join(printed) + "\n", Place(file, 1)), problems


def _front_matter(file: str, lines: list[str]) -> tuple[dict[str, str], int, list[Problem]]:
    """What stands between the first two `---` lines, the index of the first line after them, and what is
    wrong."""
    fix = f"begin the page with ---, title: ..., section: one of {', '.join(SECTIONS)}, ---"
    if lines[:1] != ["---"] or "---" not in lines[1:]:
        return {}, 0, [Problem(Place(file, 1, 1), "P003", "this page has no title and section", fix)]
    end = lines.index("---", 1)
    found: dict[str, str] = {}
    for line in lines[1:end]:
        match = _FRONT_LINE.match(line)
        if match:
            found[match[1]] = match[2].strip()
    if "title" not in found:
        return found, end + 1, [Problem(Place(file, 1, 1), "P003", "this page has no title", fix)]
    if found.get("section") not in SECTIONS:
        return found, end + 1, [Problem(Place(file, 1, 1), "P003", "this page has no known section", fix)]
    return found, end + 1, []


def _line(line: str, file: str, number: int, lib: Library) -> tuple[str, list[Problem]]:
    """A line with its references replaced, and what is wrong in it."""
    problems = [
        Problem(
            Place(file, number, column),
            "P004",
            f"the number '{digits}' is typed in prose",
            "take it from the data by a reference, or say it in words",
        )
        for column, digits in _typed_numbers(line)
    ]
    printed, last = [], 0
    for match in _REFERENCE.finditer(line):
        place = Place(file, number, match.start() + 1)
        printed.append(line[last : match.start()])
        last = match.end()
        try:
            printed.append(_replaced(match, line, lib))
        except Unknown as unknown:
            problems.append(Problem(place, "P001", unknown.message, unknown.fix))
    rest = line[last:]
    if "{{" in rest:
        problems.append(
            Problem(
                Place(file, number, last + rest.index("{{") + 1),
                "P002",
                "a reference begins with {{ and does not end on this line",
                "close it with }}",
            )
        )
    return "".join(printed) + rest, problems


def _replaced(match: re.Match[str], line: str, lib: Library) -> str:
    typed = match[1].split()
    if not typed:
        raise Unknown("a reference is empty", "type {{ title liner.pfa }}, or take the braces out")
    known = REFERENCES.get(typed[0])
    if known and known.block and line.strip() != match[0]:
        raise Unknown(
            f"'{typed[0]}' gives a whole block and stands inside a line",
            "let the reference stand alone on its line",
        )
    made = resolve(lib, typed)
    return str(made) if isinstance(made, Markup) else made


def _typed_numbers(line: str) -> list[tuple[int, str]]:
    """Column and text of every number outside references, names and the numbering of lists."""
    blank = _REFERENCE.sub(lambda match: " " * len(match[0]), line)
    blank = _LIST_NUMBER.sub(lambda match: " " * len(match[0]), blank)
    for name in NAMES_WITH_DIGITS:
        blank = blank.replace(name, " " * len(name))
    return [(match.start() + 1, match[0]) for match in _DIGITS.finditer(blank)]
