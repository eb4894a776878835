"""Gives the tests of sabotage a page with one defect in it, and what a report of it must name."""

from __future__ import annotations

import re
from collections.abc import Callable

from tests.pages.differences import Findings
from tests.pages.reading import Site


def reports(findings: Findings, page: str, table: str, row: str, cell: str, also: bool = True) -> None:
    """That the cell is reported; `also` lets further cells be reported that the same defect spoils."""
    keys = list(findings.differences)
    found = [key for key in keys if key[:3] == (page, table, row) and key[3].startswith(cell)]
    assert found, (
        f"expected {page}: table {table}, row {row}, cell {cell}; reported were\n{findings.text()[:3000]}"
    )
    assert all(key[1] == table for key in keys), findings.text()
    line = str(findings.differences[found[0]])
    assert page in line and table in line and f"cell {cell}" in line
    assert also or all(key[0] == page for key in keys), findings.text()


def altered(site: Site, page: str, pattern: str, put: str | Callable[[re.Match[str]], str]) -> Site:
    """The site with the first place on a page that matches; blanks of all kinds match a blank."""
    text, count = re.subn(pattern.replace(" ", r"\s"), put, site.pages[page], count=1, flags=re.DOTALL)
    assert count == 1, f"the page {page} does not hold {pattern}"
    return site.changed({page: text})


def swapped(site: Site, page: str, one: str, other: str, after: str = "") -> Site:
    """The site with two printed words exchanged where they first stand after a mark."""
    text = site.pages[page].replace("\u00a0", " ")
    mark = text.index(f'id="{after}"') if after else 0
    begin, rest = text.index(one, mark), text.index(other, mark)
    (first, word), (second, then) = sorted(((begin, one), (rest, other)))
    text = text[:first] + then + text[first + len(word):second] + word + text[second + len(then):]
    return site.changed({page: text})
