"""Gives back everything in data/ as one knowledge base, or every problem that was found in it.

The folder is read into memory first, so that the same work can be done on bytes that stand on no disk. Files
are taken in the order of their names; hidden files, editors' copies (`x.yml~`) and README.md are passed over. So is
the folder `overlays`, of which one may be joined to the base: the one that guide.yml names, or another.
"""

from __future__ import annotations

import re
from collections.abc import Mapping as Files
from dataclasses import dataclass, field
from functools import lru_cache
from pathlib import Path
from typing import Literal, TypeAlias

from generator.problems import Place, Problem
from generator.read import forms
from generator.read.overlay import joined, read_overlay
from generator.read.overlay_references import check_overlay
from generator.read.records import Catalogue, Edition, KnowledgeBase, Word
from generator.read.references import check_references
from generator.read.shape import Reader, list_of
from generator.read.shown import instead
from generator.read.yaml_nodes import MOST_BYTES, Node, Sequence, compose

WhichOverlay: TypeAlias = Path | None | Literal["named"]     # a folder, the base alone, or what guide.yml names

_LISTS = {"quantities": forms.QUANTITY, "inputs": forms.INPUT, "states": forms.STATE,
          "decisions": forms.DECISION, "pipe_sizes": forms.PIPE_SIZE, "derived": forms.DERIVED,
          "sources": forms.SOURCE, "cautions": forms.CAUTION, "waivers": forms.WAIVER}
_NEVER_EMPTY = ("quantities", "inputs", "states", "decisions")
_FOLDERS = {"media": forms.MEDIUM, "mixtures": forms.MIXTURE, "tables": forms.TABLE, "formulas": forms.FORMULA,
            "series": forms.SERIES, "cases": forms.CASE, "starters": forms.STARTER, "witnesses": forms.WITNESS}
_NAMED_BY_ID = ("media", "mixtures", "formulas", "series")
_CATALOGUE_FILE = re.compile(r"catalogues/([^/]+)/[^/]+\.yml")
_UNREAD = Edition(*[Word("", Place("guide.yml"))] * 4)    # while references are checked; never given back


def read_folder(data_dir: Path, root: Path,
                overlay: WhichOverlay = None) -> tuple[KnowledgeBase | None, list[Problem]]:
    """Reads data_dir: the base alone, or with an overlay, which is a folder or the one that guide.yml names.

    Places name files relative to root; there is no knowledge base when there is a problem.
    """
    prefix = data_dir.resolve().relative_to(root.resolve()).as_posix()
    files, problems = _bytes_below(data_dir, prefix)
    base, found = read_files(files, prefix)
    if problems:
        # The names in a file that cannot be opened are not unknown, so references wait until it can be.
        return None, sorted({*problems, *(one for one in found if not one.code.startswith("X"))})
    if base is None or overlay is None or (overlay == "named" and base.edition.overlay is None):
        return base, found
    folder = data_dir / base.edition.overlay.text if overlay == "named" else overlay
    if not folder.is_dir():
        place = base.edition.overlay.place if overlay == "named" else Place(folder.as_posix())
        return None, [Problem(place, "L002", f"there is no folder '{folder.as_posix()}'",
                              "write the folder of an overlay, such as overlays/ninefold, or leave the key out")]
    inside = folder.resolve().is_relative_to(root.resolve())
    name = folder.resolve().relative_to(root.resolve()).as_posix() if inside else folder.as_posix()
    files, problems = _bytes_below(folder, name)
    return (None, problems) if problems else join_files(base, files, name)


def join_files(base: KnowledgeBase, files: Files[str, bytes],
               prefix: str) -> tuple[KnowledgeBase | None, list[Problem]]:
    """A base that is in order with the overlay in `files`, or all problems of the overlay."""
    overlay, problems = read_overlay({name: files[name] for name in files if not _is_passed_over(name)}, prefix)
    if overlay is None:
        return None, problems
    whole = joined(base, overlay)
    problems = sorted({*check_references(whole, frozenset()), *check_overlay(base, whole, overlay)})
    return (None if problems else whole), problems


def read_files(files: Files[str, bytes], prefix: str = "data") -> tuple[KnowledgeBase | None, list[Problem]]:
    """The same from memory: `files` maps a path below data/ to its bytes."""
    work = _Work({name: files[name] for name in sorted(files) if not _is_passed_over(name)}, prefix)
    edition = work.read_required("guide")
    lists = {kind: work.read_required(kind) or () for kind in _LISTS}
    folders = {kind: _folder(work, kind) for kind in _FOLDERS}
    catalogues = _catalogues(work)
    _name_unknown_files(work)
    base = KnowledgeBase(edition=edition or _UNREAD, catalogues=catalogues, **lists, **folders)
    problems = sorted({*work.problems, *check_references(base, frozenset(work.incomplete))})
    return (None if problems else base), problems


# private

def _bytes_below(folder: Path, prefix: str) -> tuple[dict[str, bytes], list[Problem]]:
    files: dict[str, bytes] = {}
    problems: list[Problem] = []
    for path in sorted(folder.rglob("*")):
        relative = path.relative_to(folder).as_posix()
        if _is_passed_over(relative) or not (path.is_file() or path.is_symlink()):
            continue
        try:
            with path.open("rb") as opened:
                files[relative] = opened.read(MOST_BYTES + 1)
        except OSError as fault:
            problems.append(Problem(Place(f"{prefix}/{relative}"), "Y014",
                                    f"the file cannot be opened ({fault.strerror})",
                                    "make it readable, or delete it"))
    return files, problems


@dataclass(slots=True)
class _Work:
    """The files, and what was found. A kind is incomplete when one of its records could not be read."""

    files: dict[str, bytes]
    prefix: str
    problems: list[Problem] = field(default_factory=list)
    incomplete: set[str] = field(default_factory=set)
    taken: set[str] = field(default_factory=set)

    def read(self, kind: str, name: str) -> object | None:
        """What stands in one file."""
        self.taken.add(name)
        made, problems = _read_file(kind, f"{self.prefix}/{name}", self.files[name])
        self.note(kind, problems)
        return made

    def read_required(self, kind: str) -> object | None:
        """What stands in the one file of a kind; it is a problem when there is none."""
        name = f"{kind}.yml"
        if name in self.files:
            return self.read(kind, name)
        self.note(kind, (Problem(Place(f"{self.prefix}/{name}"), "L002", "the file is missing",
                                 "add it; a list without members is written []"),))
        return None

    def note(self, kind: str, problems: tuple[Problem, ...]) -> None:
        """Keeps problems; they make a kind incomplete, so that none of its ids is called unknown."""
        if problems:
            self.incomplete.add(kind)
            self.problems += problems


@lru_cache(maxsize=1024)
def _read_file(kind: str, path: str, data: bytes) -> tuple[object | None, tuple[Problem, ...]]:
    """One file by itself. Kept, because a rebuild after one change meets every other file unchanged."""
    node, faults = compose(path, data)
    if node is None:
        return None, tuple(faults)
    problems: list[Problem] = []
    made = _reader(kind, node)(node, problems)
    # What stands in for an alias or a tag has been named already; its emptiness is not a second fault.
    named = {fault.place for fault in faults}
    return made, (*faults, *(problem for problem in problems if problem.place not in named))


def _reader(kind: str, node: Node) -> Reader[object]:
    if kind == "guide":
        return forms.EDITION
    if kind in _LISTS:
        return list_of(_LISTS[kind], f"{kind}.yml", int(kind in _NEVER_EMPTY))
    if kind == "catalogues":
        return list_of(forms.CANDIDATE, "catalogue") if isinstance(node, Sequence) else forms.CANDIDATE
    return _FOLDERS[kind]


def _is_passed_over(name: str) -> bool:
    parts = name.split("/")
    return (any(part.startswith(".") for part in parts) or name.endswith("~") or parts[0] == "overlays"
            or parts[-1] == "README.md")


def _folder(work: _Work, kind: str) -> tuple[object, ...]:
    made: list[object] = []
    for name in work.files:
        folder, _, file = name.partition("/")
        if folder != kind or not re.fullmatch(r"[^/]+\.yml", file):
            continue
        one = work.read(kind, name)
        if one is None:
            continue
        made.append(one)
        own = (one.item if kind == "media" else one).id
        if kind in _NAMED_BY_ID and file != f"{own}.yml":
            work.note(kind, (Problem(own.place, "L015", f"the id '{own}' is not the file's name '{file}'",
                                     f"rename the file to {own}.yml, or write id: {file[:-4]}"),))
    return tuple(made)


def _catalogues(work: _Work) -> tuple[Catalogue, ...]:
    found: dict[str, list[forms.Ordered]] = {}
    for name in work.files:
        match = _CATALOGUE_FILE.fullmatch(name)
        if match:
            made = work.read("catalogues", name)
            several = made if isinstance(made, tuple) else (made,)
            found.setdefault(match[1], []).extend(one for one in several if one is not None)
    return tuple(_in_order(work, name, candidates) for name, candidates in found.items())


def _in_order(work: _Work, name: str, candidates: list[forms.Ordered]) -> Catalogue:
    ordered = sorted(candidates, key=lambda one: (float(one.order.text), one.order.place))
    for before, after in zip(ordered, ordered[1:]):
        if float(before.order.text) == float(after.order.text):
            work.problems.append(Problem(after.order.place, "X002",
                                         f"order {after.order} in catalogue '{name}' is given twice "
                                         f"(first at {before.order.place})",
                                         "give each candidate a number of its own"))
    return Catalogue(Word(name, Place(f"{work.prefix}/catalogues/{name}")),
                     tuple(one.item for one in ordered))


def _name_unknown_files(work: _Work) -> None:
    known = [f"{name}.yml" for name in ("guide", *_LISTS)] + [f"{name}/<id>.yml" for name in _FOLDERS]
    for name in work.files:
        if name in work.taken:
            continue
        if name.endswith(".yaml"):
            fix = f"rename it to {name[:-5]}.yml"
        elif "/" in name:
            fix = (f"use one of the folders {', '.join(_FOLDERS)} or catalogues/<catalogue>, "
                   "and a name that ends in .yml")
        else:
            fix = instead(name, known, "file")
        work.problems.append(Problem(Place(f"{work.prefix}/{name}"), "L001",
                                     "no record is kept in a file of this name", fix))
