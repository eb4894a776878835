"""Gives back every place where the pages of a site say something else than the engines decide."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Mapping, Sequence
from itertools import product

from generator.pack.model import Pack
from generator.pack.model import Table as PackTable
from tests.pages.conditions import Anything, Condition, Names, Unreadable
from tests.pages.differences import Difference, Findings, difference_at
from tests.pages.engines import Combination, Decided, Engine
from tests.pages.points import Value, number_range, points_inside, table_points
from tests.pages.reading import Site
from tests.pages.shown import VERDICT_WORDS, Mention, Row, Table

NO_EFFECT = Decided(len(VERDICT_WORDS) - 1, len(VERDICT_WORDS) - 1, ())
_PART = 4000                                     # points that are asked in one line


def compare_tables(site: Site, engines: Sequence[Engine], pack: Pack, names: Collection[str] = (),
                   media: Collection[str] = ()) -> Findings:
    """The tables with the matrices that continue them, at points inside cells, on every limit and beside it.
    `names` are the tables to compare and `media` the media to try them in; all if none is named."""
    findings = Findings()
    wanted = set(names)
    compiled = {table.id: table for table in pack.tables}
    printed: dict[str, Table] = {}
    for page in site.below("tables/"):
        name = page.split("/")[1]
        if wanted and name not in wanted:
            continue
        try:
            printed[name] = site.table(page)
            rows = with_letters(site, printed[name])
        except Unreadable as problem:
            findings.add(_unreadable(page, name, problem))
            continue
        if name not in compiled:
            findings.add(Difference(page, name, "-", "-", "any point", "the engines know no such table"))
            continue
        _compare(findings, printed[name], rows, engines, pack, compiled[name], media)
        _compare_boxes(findings, printed[name], engines, pack, compiled[name])
    for name in (wanted or set(compiled)) - set(printed) - {key[1] for key in findings.differences}:
        findings.add(
            Difference(
                f"tables/{name}/", name, "-", "-", "any point", "the engines decide by it; no page shows it"
            )
        )
    return findings


def with_letters(site: Site, table: Table) -> tuple[Row, ...]:
    """The rows of a table, those on the pages of the media among them."""
    return table.rows + tuple(row for page in table.media for row in site.letters(page, table))


def compare_repeated(site: Site, engines: Sequence[Engine], pack: Pack) -> Findings:
    """Rule tables that prose repeats: row by row like the table's own page, or else asked of the engines."""
    findings = Findings()
    try:
        for table in site.tables_in_prose():
            own = site.table(f"tables/{table.id}/")
            findings.counts["tables in prose"] += 1
            if [_said(row) for row in own.rows] != [_said(row) for row in table.rows]:
                compiled = next(item for item in pack.tables if item.id == table.id)
                _compare(findings, table, with_letters(site, table), engines, pack, compiled)
    except Unreadable as problem:
        findings.add(_unreadable("choosing/", "-", problem))
    return findings


def compare_mentions(site: Site, pages: Iterable[str] = ()) -> Findings:
    """Rules on the pages of candidates, media, sources and in the register, against their table."""
    findings = Findings()
    tables = {table.id: table for table in site.tables()}
    rows: dict[str, list[Row]] = {}
    for table in tables.values():
        for row in with_letters(site, table):
            rows.setdefault(row.rule, []).append(row)
    wanted = set(pages)
    for mention in site.mentions(tables, wanted):
        findings.counts["rules named elsewhere"] += 1
        findings.counts["with their conditions"] += bool(mention.conditions)
        own = rows.get(mention.rule, [])
        table = mention.rule.split(".")[0]
        verdicts = {row.verdict for row in own}
        if verdicts != {mention.verdict}:
            findings.add(
                Difference(
                    mention.page,
                    table,
                    mention.rule,
                    "Verdict",
                    "every point of the rule",
                    f"it says {mention.verdict}, the table {' and '.join(sorted(verdicts)) or 'nothing'}",
                )
            )
        for line in mention.conditions:
            if not any(_same_conditions(line, row, mention, tables[table]) for row in own):
                findings.add(
                    Difference(
                        mention.page,
                        table,
                        mention.rule,
                        "Conditions",
                        "the limits of the rule",
                        "no row of the rule in its table has these conditions",
                    )
                )
    return findings


# private

def _compare(findings: Findings, table: Table, rows: Sequence[Row], engines: Sequence[Engine], pack: Pack,
             compiled: PackTable, media: Collection[str] = ()) -> None:
    if not _same_columns(findings, table, pack, compiled):
        return
    points = table_points(pack, compiled, rows, media)
    names = [column.name for column in compiled.columns if column.source != "decision"]
    shown = _Shown(table, rows, names, points, pack)
    findings.counts["tables"] += 1
    findings.counts["rows and cells"] += len(rows)
    findings.counts["points"] += len(points)
    for begin in range(0, len(points), _PART):
        part = points[begin:begin + _PART]
        answers = [engine.decide(table.id, part) for engine in engines]
        for place, point in enumerate(part):
            for combination in shown.combinations:
                matched = shown.at(point, combination)
                said = _verdict_of(table, matched)
                for engine, answer in zip(engines, answers):
                    decided = answer[place].get(combination, NO_EFFECT)
                    findings.counts["verdicts"] += 1
                    if said is None or said != decided.worst or decided.worst != decided.best or \
                            {row.rule for row in matched} != set(decided.rules):
                        at = dict(zip(names, point))
                        findings.add(
                            difference_at(table, rows, matched, combination, at, engine, decided, compiled))


class _Shown:
    """What the page says at a point for a combination of candidates, by bits per printed condition."""

    def __init__(
        self,
        table: Table,
        rows: Sequence[Row],
        names: Sequence[str],
        points: Sequence[tuple[Value, ...]],
        pack: Pack,
    ) -> None:
        self._rows, self._names = rows, names
        own = {
            decision.id: [candidate.id for candidate in decision.candidates] for decision in pack.decisions
        }
        self.combinations: list[Combination] = list(product(*(own[name] for name in table.decisions)))
        plain = [place for place, row in enumerate(rows) if not row.leftover]
        self._leftover = next((row for row in rows if row.leftover), None)
        self._values: list[dict[Value, int]] = []
        for place, name in enumerate(names):
            values = {point[place] for point in points}
            conditions: dict[Condition, int] = {}
            for number in plain:
                condition = rows[number].conditions.get(name, Anything())
                conditions[condition] = conditions.get(condition, 0) | 1 << number
            self._values.append(
                {
                    value: sum(bits for condition, bits in conditions.items() if condition.holds(value))
                    for value in values
                }
            )
        self._spoken = {
            combination: sum(
                1 << number
                for number in plain
                if all(
                    rows[number].conditions.get(name, Anything()).holds(candidate)
                    for name, candidate in zip(table.decisions, combination)
                )
            )
            for combination in self.combinations
        }
        self._last: tuple[tuple[Value, ...], int] | None = None
        self._found: dict[int, tuple[Row, ...]] = {}

    def at(self, point: tuple[Value, ...], combination: Combination) -> tuple[Row, ...]:
        if self._last is None or self._last[0] is not point:
            bits = -1
            for values, value in zip(self._values, point):
                bits &= values[value]
            self._last = point, bits
        bits = self._last[1] & self._spoken[combination]
        if bits not in self._found:
            matched = tuple(self._rows[place] for place in _places(bits))
            self._found[bits] = matched if matched or self._leftover is None else (self._leftover,)
        return self._found[bits]


def _verdict_of(table: Table, matched: Sequence[Row]) -> int | None:
    """The rank of what the page says; None where it says nothing, too much, or a word that is no verdict."""
    if any(row.verdict not in VERDICT_WORDS for row in matched) or (
        table.policy == "unique" and len(matched) != 1
    ):
        return None
    return min((VERDICT_WORDS.index(row.verdict) for row in matched), default=NO_EFFECT.worst)


def _same_columns(findings: Findings, table: Table, pack: Pack, compiled: PackTable) -> bool:
    """Whether heads, ranges and units of the page are those of the compiled table."""
    fine = True
    for shown, column in zip(table.columns, compiled.columns):
        if (shown.name, shown.source, shown.kind) != (column.name, column.source, column.kind):
            fine = False
            findings.add(Difference(table.page, table.id, "heads", shown.title, "every point",
                                    f"the page has {shown.name} where the engines read {column.name}"))
        elif column.kind == "number":
            low, high, _ = number_range(pack, column.name)
            if (shown.low, shown.high) != (low, high):
                findings.add(
                    Difference(
                        table.page,
                        table.id,
                        "What it reads",
                        shown.title,
                        f"{low} and {high}",
                        f"the page says {shown.low} to {shown.high}",
                    )
                )
            if not means_unit(pack, shown.unit, _unit_of(pack, column.name)):
                fine = False
                findings.add(
                    Difference(
                        table.page,
                        table.id,
                        "What it reads",
                        shown.title,
                        "every point",
                        f"the page has {shown.unit}, the engines {_unit_of(pack, column.name)}",
                    )
                )
    if len(table.columns) != len(compiled.columns):
        findings.add(
            Difference(table.page, table.id, "heads", "-", "every point", "columns are missing or added")
        )
        return False
    if table.decisions != compiled.decisions or table.policy != compiled.hit_policy:
        findings.add(Difference(table.page, table.id, "heads", "-", "every point",
                                f"the page says {table.policy} for {', '.join(table.decisions)}"))
        return False
    return fine


def means_unit(pack: Pack, printed: str, unit: str) -> bool:
    """Whether a printed unit is the unit of the engines: the same text, or a spelling of it."""
    if printed == unit or (printed, unit) == ("", "1") or _as_typed(printed) == unit:
        return True
    return any(conversion.spelling == printed and (conversion.n, conversion.k, conversion.d) == (1, 0, 1)
               for item in pack.inputs if item.unit == unit for conversion in item.conversions)


def _as_typed(printed: str) -> str:
    """A printed unit in the letters of a keyboard: `µm/(m·K)` is `um/m/K`."""
    for sign, typed in (("Ω", "ohm"), ("µ", "u"), ("°", "deg"), ("²", "2"), ("³", "3"), ("·", ".")):
        printed = printed.replace(sign, typed)
    head, _, below = printed.partition("/(")
    return f"{head}/{below.removesuffix(')').replace('.', '/')}" if below else printed


def _unit_of(pack: Pack, name: str) -> str:
    return next(item.unit for item in (*pack.inputs, *pack.derived) if item.id == name)


def _compare_boxes(findings: Findings, table: Table, engines: Sequence[Engine], pack: Pack,
                   compiled: PackTable) -> None:
    """The regions that are said to fall to the last row do, at their corners and in the middle."""
    names = [column.name for column in compiled.columns if column.source != "decision"]
    own = {decision.id: [candidate.id for candidate in decision.candidates] for decision in pack.decisions}
    for box in table.boxes:
        points = points_inside(pack, compiled, box)
        findings.counts["regions of else"] += 1
        findings.counts["points"] += len(points)
        spoken = [combination for combination in product(*(own[name] for name in table.decisions))
                  if all(box.conditions[name].holds(candidate)
                         for name, candidate in zip(table.decisions, combination))]
        if not points or not spoken:
            findings.add(Difference(table.page, table.id, box.cell, "-", "-", "the region is empty"))
        for engine in engines:
            for point, answer in zip(points, engine.decide(table.id, points)):
                for combination in spoken:
                    decided = answer.get(combination, NO_EFFECT)
                    findings.counts["verdicts"] += 1
                    if decided.rules != (box.rule,):
                        where = ", ".join(f"{name} {value}" for name, value in zip(
                            (*table.decisions, *names), (*combination, *point)))
                        findings.add(
                            Difference(
                                table.page,
                                table.id,
                                box.cell,
                                "the region",
                                where,
                                f"{engine.name} decides by {', '.join(decided.rules) or 'nothing'}",
                            )
                        )


def _same_conditions(line: Mapping[str, Condition], row: Row, mention: Mention, table: Table) -> bool:
    """Whether a line printed elsewhere has a row's conditions; what the page is about may be left out."""
    about = mention.page.rstrip("/").split("/")[-1]
    for name in {*line, *row.conditions}:
        own = row.conditions.get(name, Anything())
        said = line.get(name, Anything())
        if said != own and not (isinstance(said, Anything) and isinstance(own, Names) and about in own.ids):
            return False
    return True


def _said(row: Row) -> tuple:
    return (
        row.rule,
        tuple(sorted(row.conditions.items(), key=lambda item: item[0])),
        row.verdict,
        row.leftover,
    )


def _unreadable(page: str, table: str, problem: Unreadable) -> Difference:
    where, _, said = str(problem).partition(": ")
    row, _, cell = where.removeprefix("row ").partition(", cell ")
    return Difference(page, table, row, cell, "every point", said or str(problem))


def _places(bits: int) -> list[int]:
    found = []
    while bits:
        lowest = bits & -bits
        found.append(lowest.bit_length() - 1)
        bits ^= lowest
    return found
