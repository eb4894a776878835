"""Gives back the words that the pages of a site use, and the ids behind them: by links and spellings."""

from __future__ import annotations

import json
from collections.abc import Mapping
from functools import cached_property

from tests.pages.conditions import (
    Choices,
    Condition,
    Numbers,
    Unreadable,
    read_choice_condition,
    read_number,
    read_number_condition,
)
from tests.pages.html_tree import Element, address_of, page_body
from tests.pages.shown import Column, Table


class Vocabulary:
    """The pages of a site by address (`tables/liner_wear/`), read when asked for, and what they name."""

    def __init__(self, pages: Mapping[str, str], pack: str, texts: str,
                 bodies: Mapping[str, Element] | None = None) -> None:
        """`pack` and `texts` are the files for the browser; `bodies` are pages already read."""
        self.pages, self.pack_text, self.texts_text = dict(pages), pack, texts
        self.bodies = dict(bodies or {})
        self.read_tables: dict[str, Table] = {}
        self._pack, self._texts = json.loads(pack), json.loads(texts)

    def body(self, page: str) -> Element:
        if page not in self.bodies:
            self.bodies[page] = page_body(self.pages[page])
        return self.bodies[page]

    def below(self, folder: str) -> list[str]:
        """The pages below a folder, without the one that opens it."""
        return sorted(page for page in self.pages if page.startswith(folder) and page != folder)

    @cached_property
    def decisions(self) -> dict[str, str]:
        """Decision id by the address of the page of its candidates, whose door leads to its guidance."""
        found = {}
        for page in self.pages:
            door = self.body(page).first("p", "g-door") if page.count("/") == 1 else None
            if door is not None:
                found[page] = address_of(door.first("a"), page).split("/")[1]
        return found

    @cached_property
    def candidates(self) -> dict[str, Choices]:
        """What a column may name, per decision."""
        return {decision: self._candidates(page, decision) for page, decision in self.decisions.items()}

    @cached_property
    def answers(self) -> dict[str, Choices]:
        """What a column may name, per choice input."""
        found = {}
        for section in self.body("inputs/").all("section", "g-input"):
            name = section.first("h3").attributes["id"].removeprefix("input-")
            facts = self._facts(section)
            if "Answers" not in facts:
                continue
            titles = [chip.text(lambda element: element.has_class("g-small")) for chip in facts["Answers"].all(named="g-chip")]
            link = facts["Answers"].first("a")
            if titles:
                found[name] = Choices({title: self._understood(name, title) for title in titles}, {})
            elif link is not None:
                found[name] = self._linked(address_of(link, "inputs/"))
        return found

    @cached_property
    def ranges(self) -> dict[str, tuple[float, float, str]]:
        """Range and unit of every number input."""
        found = {}
        for section in self.body("inputs/").all("section", "g-input"):
            facts = self._facts(section)
            if "Range" in facts:
                name = section.first("h3").attributes["id"].removeprefix("input-")
                found[name] = read_range(facts["Range"].text())
        return found

    def source(self, address: str, title: str) -> tuple[str, str]:
        if address.startswith("inputs/#input-"):
            return "input", address.removeprefix("inputs/#input-")
        if address in self.decisions:
            return "decision", self.decisions[address]
        formula = address.split("/")[1]
        names = [
            item["id"]
            for item in self._texts["derived"]
            if (item["title"], item["formula"]) == (title, formula)
        ]
        return "derived", names[0] if names else f"?{title}"

    def condition(self, page: str, row: str, column: Column, text: str) -> Condition:
        try:
            if column.kind == "number":
                found = read_number_condition(text)
                if isinstance(found, Numbers) and not found.units <= {column.unit}:
                    raise Unreadable(f"'{text}' is not in {column.unit or 'no unit'}, the unit of its column")
                return found
            choices = self.candidates if column.source == "decision" else self.answers
            return read_choice_condition(text, choices[column.name])
        except Unreadable as problem:
            raise Unreadable(f"row {row}, cell {column.title}: {problem}") from None

    # private

    def _facts(self, block: Element) -> dict[str, Element]:
        lists = block.first("dl", "g-facts")
        return {line.first("dt").text(): line.first("dd") for line in lists.all("div")} if lists else {}

    def _flags(self, page: str) -> frozenset[str]:
        facts = self._facts(self.body(page))
        return frozenset(facts["Flags"].text().split(", ")) if "Flags" in facts else frozenset()

    def _linked(self, page: str) -> Choices:
        """The records that an index page leads to, with the flags that their own pages print."""
        links = [link for link in self.body(page).all("a", "g-entries__title")]
        places = {link.text(): address_of(link, page) for link in links}
        ids = {title: address.split("/")[1] for title, address in places.items()}
        return Choices(ids, {ids[title]: self._flags(address) for title, address in places.items()
                             if address in self.pages})

    def _candidates(self, page: str, decision: str) -> Choices:
        lines = [line for line in self.body(page).all("tr") if "id" in line.attributes]
        if not lines:
            return self._linked(page)
        heads = [cell.text() for cell in self.body(page).first("thead").all("th")]
        titles, bores = {}, {}
        for line in lines:
            name = line.attributes["id"].removeprefix(f"{decision}-")
            cells = [cell.text(lambda element: element.has_class("g-small")) for cell in cells_of(line)]
            titles[cells[0]] = name
            bores[name] = read_number(cells[heads.index("Nominal bore")])
        return Choices(titles, {}, tuple(sorted(bores, key=lambda name: bores[name][0])))

    def _understood(self, name: str, title: str) -> str:
        """The id that the site's engine takes a typed title for."""
        options = next(item for item in self._pack["inputs"] if item["id"] == name)["options"]
        return next((option["id"] for option in options if title.lower() in option["spellings"]), f"?{title}")


def read_range(text: str) -> tuple[float, float, str]:
    low, _, rest = text.partition(" to ")
    high = read_number(rest)
    if high is None:
        raise Unreadable(f"the range '{text}'")
    return float(low), high[0], high[1]


def cells_of(line: Element) -> list[Element]:
    """The cells of a line, the one that heads it among them."""
    return [cell for cell in line.content if isinstance(cell, Element)]
