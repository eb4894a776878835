"""Gives back what the finished pages of a site say: their tables, matrices, limits and worked examples.

Only pages are read, and beside them the two files that the site ships to the browser: `texts.json` for the
name of a computed value, `pack.json` for the id that the engine understands by a printed title. Verdicts are
read as words, titles become ids by where their links lead, conditions by the grammar of `conditions`.
"""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping
from functools import cached_property
from pathlib import Path

from tests.pages.conditions import Condition, Names, Numbers, Unreadable, read_number_condition
from tests.pages.html_tree import Element, address_of
from tests.pages.shown import Calculator, Column, Example, Limit, Mention, Row, Table
from tests.pages.vocabulary import Vocabulary, cells_of, read_range

_ANCHOR = "#rule-"

# A case names a rule beside the verdict of all rules together, a finding beside a region of its own.
_ASKED_OTHERWISE = ("tables/", "cases/", "findings/")


class Site(Vocabulary):
    """What the pages of a site show, by kind."""

    def changed(self, pages: Mapping[str, str], pack: str = "") -> Site:
        """The same site with some pages, or its pack, exchanged."""
        return Site(self.pages | dict(pages), pack or self.pack_text, self.texts_text,
                    {page: body for page, body in self.bodies.items() if page not in pages})

    def tables(self) -> Iterator[Table]:
        """The tables on their own pages."""
        for page in self.below("tables/"):
            yield self.table(page)

    def table(self, page: str) -> Table:
        """The table on its own page. Raises Unreadable."""
        if page not in self.read_tables:
            self.read_tables[page] = self._table(page)
        return self.read_tables[page]

    def tables_in_prose(self) -> Iterator[Table]:
        """Rule tables repeated on pages of prose, with the caption's link for a name."""
        for page in self.below("choosing/") + ["reading/", "about/"]:
            for block in self.body(page).all("figure", "g-block") if page in self.pages else ():
                printed, caption = block.first("table", "g-table--rules"), block.first("figcaption")
                if printed is not None:
                    own = self.table(address_of(caption.first("a"), page))
                    about = {column.title: column for column in own.columns}
                    columns, rows = self._rules(page, own.id, printed, about)
                    yield Table(page, own.id, own.decisions, own.policy, columns, rows, own.media)

    def letters(self, page: str, table: Table) -> tuple[Row, ...]:
        """The cells of the matrix that a medium's page holds for a table."""
        body, rows = self.body(page), []
        medium = page.split("/")[1]
        for section in body.all("section"):
            head = section.first("h2")
            printed = section.first("table", "g-table--grid")
            if printed is None or address_of(head.first("a"), page) != table.page:
                continue
            heads = [
                address_of(cell.first("a"), page).split("/")[1]
                for cell in printed.first("thead").all("th")
                if cell.first("a")
            ]
            for line in printed.first("tbody").all("tr"):
                band = line.first("th").text()
                conditions, words = self._band(band, table)
                for candidate, cell in zip(heads, line.all("td"), strict=True):
                    if cell.first(named="verdict") is None:
                        continue
                    where = {table.decisions[0]: Names(frozenset((candidate,))),
                             self._media_column(table): Names(frozenset((medium,)))}
                    rows.append(
                        Row(
                            page,
                            cell.attributes.get("id", "").removeprefix("rule-"),
                            f"{band} x {candidate}",
                            where | conditions,
                            words,
                            _verdict(cell),
                        )
                    )
        return tuple(rows)

    def mentions(self, tables: Mapping[str, Table], pages: Collection[str] = ()) -> Iterator[Mention]:
        """Every rule that a page names with a verdict outside of its own table and matrix. `pages` are those
        to read; all if none is named."""
        for page in pages or self.pages:
            if page.startswith(_ASKED_OTHERWISE):
                continue
            for rule in self.body(page).all("div", "g-rule"):
                if rule.first("a", "g-id") is not None and rule.first(named="verdict") is not None:
                    yield self._loose_rule(page, rule, tables)
            for line in (*self.body(page).all("tr"), *self.body(page).all("li")):
                link = next(
                    (link for link in line.all("a", "g-id") if _ANCHOR in link.attributes["href"]), None
                )
                verdict = line.first(named="verdict")
                if link is not None and verdict is not None and not _inside_rules(line):
                    yield Mention(page, "", address_of(link, page).split(_ANCHOR)[1], verdict.text())
            yield from self._bands_of_candidate(page, tables)

    def limits(self) -> Iterator[Limit]:
        """Numbers and conditions in the sentences of prose that lead to a rule."""
        for page in (*self.below("choosing/"), "reading/", "about/"):
            for sentence in self._sentences(page):
                for link in sentence.all("a"):
                    if _ANCHOR in link.attributes.get("href", "") and any(
                        sign.isdigit() for sign in link.text()
                    ):
                        yield Limit(page, address_of(link, page).split(_ANCHOR)[1], link.text())

    def loose_numbers(self) -> Iterator[tuple[str, str]]:
        """Sentences of prose with a number outside of a link, by page."""
        for page in (*self.below("choosing/"), "reading/", "about/"):
            for sentence in self._sentences(page):
                text = sentence.text(
                    without=lambda element: element.tag in ("a", "code") or element.has_class("g-small")
                )
                text = " ".join(text.split())
                for name in (*self._quoted, "316L", "C-276", "m3", "mm2", "m³", "mm²"):
                    text = text.replace(name, "")
                if any(sign.isdigit() for sign in text) and not _inside_always(self.body(page), sentence):
                    yield page, text

    @cached_property
    def _quoted(self) -> tuple[str, ...]:
        """What prose takes from the data word for word: the reasons of rules and the names of candidates."""
        reasons = {" ".join(rule["because"].split()) for rule in self._texts["rules"]}
        names = {item["title"] for decision in self._texts["decisions"] for item in decision["items"]}
        return tuple(sorted((one for one in reasons | names if any(sign.isdigit() for sign in one)), key=len, reverse=True))

    def calculators(self) -> Iterator[Calculator]:
        for page in self.below("formulas/"):
            body = self.body(page)
            letters = []
            heads = [head.text() for head in body.first("thead").all("th")]
            for line in body.first("tbody").all("tr"):
                texts = [cell.text(lambda element: element.has_class("g-small")) for cell in cells_of(line)]
                title, unit, valid = (
                    texts[heads.index(head)] for head in ("What it is", "Unit", "Holds for")
                )
                if unit != "constant":
                    letters.append((title, "" if unit == "no unit" else unit, read_number_condition(valid)))
            examples = []
            for block in body.all("div", "g-example"):
                given = [
                    (line.first("dt").text(), line.first("dd").text())
                    for line in block.first("dl").all("div")
                ]
                tolerance = block.first("p", "g-small").text().split("relative difference ")[1].rstrip(".")
                examples.append(Example(tuple(given[:-1]), given[-1][1], float(tolerance)))
            # A formula to read has no calculator; its worked examples hold all the same.
            named = next((block.attributes["data-calculator"] for block in body.all("div")
                          if "data-calculator" in block.attributes), page.split("/")[1])
            yield Calculator(page, named, tuple(letters), tuple(examples))

    # private

    def _table(self, page: str) -> Table:
        body = self.body(page)
        about = self._column_abouts(page)
        tags = body.first("ul", "g-tags")
        decisions = tuple(self.decisions[address_of(item.first("a"), page)]
                          for item in tags.all("li") if item.text().startswith("Judges "))
        policy = "unique" if "Exactly one row meets any answer." in tags.text() else "collect"
        printed = next(body.all("table", "g-table--rules"), None)
        identifier = page.split("/")[1]
        columns, rows = tuple(about.values()), ()
        if printed is not None:
            columns, rows = self._rules(page, identifier, printed, about)
        letters = body.first("ul", "g-columns")
        media = tuple(address_of(link, page).split("#")[0] for link in letters.all("a")) if letters else ()
        return Table(
            page, identifier, decisions, policy, columns, rows, media, self._boxes(page, identifier, columns)
        )

    def _column_abouts(self, page: str) -> dict[str, Column]:
        """What the page says it reads, by title."""
        found = {}
        for item in self.body(page).first("ul", "g-links").all("li"):
            link, about = item.first("a"), item.first("span").text()
            title = link.text()
            source, name = self.source(address_of(link, page), title)
            kind, _, rest = about.partition(", ")
            if rest.startswith("one of "):
                found[title] = Column(name, title, source, "choice")
            else:
                found[title] = Column(name, title, source, "number", *read_range(rest))
        return found

    def _rules(self, page: str, table: str, printed: Element,
               about: Mapping[str, Column]) -> tuple[tuple[Column, ...], tuple[Row, ...]]:
        heads = [head.text() for head in printed.first("thead").all("th")]
        for head in printed.first("thead").all("th"):
            link = head.first("a")
            if link is not None and head.text() in about:
                shown = self.source(address_of(link, page), head.text())
                if shown != (about[head.text()].source, about[head.text()].name):
                    raise Unreadable(f"row of heads, cell {head.text()}: it leads to {shown[1]}")
        missing = [head for head in heads[:-2] if head not in about]
        if missing:
            raise Unreadable(f"row of heads, cell {missing[0]}: it names no column")
        columns = tuple(about[head] for head in heads[:-2])
        rows, verdict, rule = [], "", ""
        for line in printed.all("tr"):
            cells = cells_of(line)
            if line.first("td") is None:
                continue
            if len(cells) > len(columns):
                verdict = _verdict(cells[len(columns)])
                rule = cells[-1].first("a", "g-id").text()
            texts = [cell.text() for cell in cells[:len(columns)]]
            leftover = all(text == "else" for text in texts)
            conditions = {} if leftover else {column.name: self.condition(page, rule, column, text)
                                              for column, text in zip(columns, texts, strict=True)}
            rows.append(
                Row(
                    page,
                    rule,
                    rule,
                    conditions,
                    dict(zip((column.name for column in columns), texts)),
                    verdict,
                    leftover,
                )
            )
        return columns, tuple(rows)

    def _boxes(self, page: str, table: str, columns: tuple[Column, ...]) -> tuple[Row, ...]:
        printed = next((details.first("table") for details in self.body(page).all("details")
                        if details.first("summary").text().startswith("What falls to")), None)
        if printed is None:
            return ()
        titles = {column.title: column for column in columns}
        own = [titles[head.text()] for head in printed.first("thead").all("th")]
        rows = []
        for line in printed.all("tr"):
            texts = [cell.text() for cell in cells_of(line)]
            if line.first("td") is not None:
                rows.append(Row(page, f"{table}.otherwise", "else: " + " | ".join(texts),
                                {column.name: self.condition(page, "else", column, text)
                                 for column, text in zip(own, texts, strict=True)},
                                dict(zip((column.name for column in own), texts)), ""))
        return tuple(rows)

    def _band(self, text: str, table: Table) -> tuple[dict[str, Condition], dict[str, str]]:
        """The conditions of a band; each part belongs to the number column of its unit."""
        conditions: dict[str, Condition] = {}
        words: dict[str, str] = {}
        for part in [] if text.lower() == "all" else text.split(", "):
            try:
                found = read_number_condition(part[:1].lower() + part[1:])
            except Unreadable as problem:
                raise Unreadable(f"row {text}, cell Band: {problem}") from None
            units = found.units if isinstance(found, Numbers) else frozenset()
            columns = [
                column.name for column in table.columns if column.kind == "number" and units == {column.unit}
            ]
            if isinstance(found, Numbers) and not found.spans:  # `not applicable` can only be concentration
                columns = [
                    column.name for column in table.columns if column.kind == "number" and not conditions
                ][:1]
            if len(columns) != 1 or columns[0] in conditions:
                raise Unreadable(f"row {text}, cell Band: nothing says which column '{part}' belongs to")
            conditions[columns[0]] = found
            words[columns[0]] = part
        return conditions, words

    def _media_column(self, table: Table) -> str:
        return next(
            column.name for column in table.columns if column.source == "input" and column.kind == "choice"
        )

    def _loose_rule(self, page: str, rule: Element, tables: Mapping[str, Table]) -> Mention:
        link = next(link for link in rule.all("a", "g-id"))
        identifier = address_of(link, page).split(_ANCHOR)[-1]
        table = tables[identifier.split(".")[0]]
        titles = {column.title: column for column in table.columns}
        lines = []
        for line in rule.all("p", "g-rule__when"):
            conditions: dict[str, Condition] = {}
            for part in line.all("span", "g-when"):
                name = part.first("span", "g-when__name").text()
                words = part.text(lambda element: element.has_class("g-when__name"))
                conditions[titles[name].name] = self.condition(page, identifier, titles[name], words)
            if not line.text().startswith("Whatever"):
                lines.append(conditions)
        return Mention(page, table.id, identifier, _verdict(rule), tuple(lines))

    def _bands_of_candidate(self, page: str, tables: Mapping[str, Table]) -> Iterator[Mention]:
        for section in self.body(page).all("section"):
            printed = section.first("table", "g-table--media")
            if printed is None:
                continue
            table = tables[address_of(section.first("h2").first("a"), page).split("/")[1]]
            for line in printed.first("tbody").all("tr"):
                medium = address_of(line.first("th").first("a"), page).split("/")[1]
                for link in line.all("a", "g-band"):
                    band, _ = self._band(link.first("span", "g-band__when").text(), table)
                    where = {table.decisions[0]: Names(frozenset((page.split("/")[1],))),
                             self._media_column(table): Names(frozenset((medium,)))}
                    yield Mention(page, table.id, address_of(link, page).split(_ANCHOR)[1],
                                  link.first(named="verdict").text(), (where | band,))

    def _sentences(self, page: str) -> Iterator[Element]:
        if page in self.pages:
            yield from self.body(page).all("p")
            yield from self.body(page).all("li")


def built_pages(folder: Path) -> Site:
    """The site that MkDocs has built into a folder."""
    pages = {
        path.parent.relative_to(folder).as_posix().removeprefix(".")
        + ("/" if path.parent != folder else ""): path.read_text("utf-8")
        for path in sorted(folder.rglob("index.html"))
    }
    return Site(
        pages,
        (folder / "assets/pack.json").read_text("utf-8"),
        (folder / "assets/texts.json").read_text("utf-8"),
    )


# private

def _verdict(cell: Element) -> str:
    """The verdict in words; a word that is no verdict is given back as it is."""
    return cell.first(named="verdict").text()


def _inside_rules(line: Element) -> bool:
    """A line of a rule table (read as such) has a cell per column before its verdict."""
    return any(cell.attributes.get("rowspan") for cell in line.all("td"))


def _inside_always(body: Element, sentence: Element) -> bool:
    """The cautions that stand on every page are quoted whole, figures and basis included."""
    return any(sentence is item for block in body.all("aside", "g-always") for item in block.all())
