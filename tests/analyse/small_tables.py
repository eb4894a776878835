"""Gives back random little packs of one or two tables, and applications of single answers, for tests of
mutants.
"""

from __future__ import annotations

from hypothesis import strategies as st

from generator.evaluate.results import Application, ChoiceSet, NumberSet, StateAnswers
from generator.pack.model import (
    VERDICTS,
    ChoiceCell,
    Column,
    Decision,
    Input,
    Interval,
    NumberCell,
    Option,
    Pack,
    Row,
    State,
    Table,
)
from generator.pack.texts import BasisText, CaseText, EditionText, ExpectedText, RuleText, Texts

CUTS = (0.0, 10.0, 20.0, 30.0, 40.0)
COLOURS = ("red", "green", "blue", "grey")
CANDIDATES = ("first", "second", "third")
BASIS = BasisText("common_practice")


@st.composite
def packs(draw: st.DrawFn) -> tuple[Pack, Texts]:
    """A pack of one unique and perhaps one collect table over a number, a colour and the candidates of one
    decision.
    """
    tables = [_unique(draw)]
    if draw(st.booleans()):
        tables.append(_collect(draw))
    return _pack(tables)


def one_limit() -> tuple[Pack, Texts]:
    """One unique table with one limit at 20 for all candidates: suitable up to it, unsuitable above."""
    return _pack([_table("limits", "unique", [
        ("limits.cold", VERDICTS.index("suitable"), (CANDIDATES, COLOURS, (CUTS[0], True, 20.0, True))),
        ("limits.hot", VERDICTS.index("unsuitable"), (CANDIDATES, COLOURS, (20.0, False, CUTS[-1], True)))])])


def rule_of_one_candidate() -> tuple[Pack, Texts]:
    """A unique table with a rule for `first` alone, and a collect table that is as bad there."""
    everywhere, bad = (CUTS[0], True, CUTS[-1], True), VERDICTS.index("unsuitable")
    return _pack([
        _table("limits", "unique", [
            ("limits.first", bad, (CANDIDATES[:1], COLOURS, everywhere)),
            ("limits.others", VERDICTS.index("suitable"), (CANDIDATES[1:], COLOURS, everywhere))]),
        _table("screen", "collect", [("screen.cold", bad, (CANDIDATES, COLOURS, (CUTS[0], True, 10.0, True)))])])


def application(heat: float, colour: str) -> Application:
    """Single answers to both inputs."""
    return Application("point", "", (StateAnswers("normal", (
        ("heat", NumberSet(((heat, heat),))), ("colour", ChoiceSet((colour,))))),))


def case(heat: str, colour: str, expect: tuple[tuple[str, str, str], ...]) -> CaseText:
    """A case that expects a verdict and a rule of some candidates."""
    return CaseText(
        "case",
        "",
        "",
        (("normal", (("heat", heat), ("colour", colour))),),
        tuple(ExpectedText("part", candidate, verdict, rule, "") for candidate, verdict, rule in expect),
        "case.yml",
        1,
    )


# private

def _pack(tables: list[Table]) -> tuple[Pack, Texts]:
    pack = Pack(
        (Input("heat", "number", False, "process", False, "1", CUTS[0], CUTS[-1]),
         Input("colour", "choice", False, "process", False, options=tuple(map(_option, COLOURS)))),
        (State("normal", True),), (Decision("part", tuple(map(_option, CANDIDATES))),), (), (), tuple(tables))
    rules = tuple(RuleText(row.rule, table.id, "author", "because", BASIS, f"{table.id}.yml", 1)
                  for table in tables for row in table.rows)
    return pack, Texts(EditionText("", "", "", "", ""), (), (), (), (), (), (), rules, (), (), (), (), ())


def _option(name: str) -> Option:
    return Option(name, (name,))


def _unique(draw: st.DrawFn) -> Table:
    """Splits of the space, so that the rows are complete and disjoint."""
    boxes = [(CANDIDATES, COLOURS, (CUTS[0], True, CUTS[-1], True))]
    for _ in range(draw(st.integers(1, 6))):
        parts, colours, heat = boxes.pop(draw(st.integers(0, len(boxes) - 1)))
        how = draw(st.sampled_from(("part", "colour", "heat")))
        inner = [cut for cut in CUTS if heat[0] < cut < heat[2]]
        if how == "part" and len(parts) > 1:
            at = draw(st.integers(1, len(parts) - 1))
            boxes += [(parts[:at], colours, heat), (parts[at:], colours, heat)]
        elif how == "colour" and len(colours) > 1:
            at = draw(st.integers(1, len(colours) - 1))
            boxes += [(parts, colours[:at], heat), (parts, colours[at:], heat)]
        elif how == "heat" and inner:
            cut, behind = draw(st.sampled_from(inner)), draw(st.booleans())
            boxes += [
                (parts, colours, (*heat[:2], cut, behind)),
                (parts, colours, (cut, not behind, *heat[2:])),
            ]
        else:
            boxes.append((parts, colours, heat))
    rows = [(f"limits.rule{at}", draw(st.integers(0, 3)), box) for at, box in enumerate(boxes)]
    return _table("limits", "unique", rows)


def _collect(draw: st.DrawFn) -> Table:
    rows = []
    for at in range(draw(st.integers(1, 3))):
        low, high = sorted(draw(st.lists(st.sampled_from(CUTS), min_size=2, max_size=2, unique=True)))
        parts = tuple(one for one in CANDIDATES if draw(st.booleans())) or CANDIDATES
        colours = tuple(one for one in COLOURS if draw(st.booleans())) or COLOURS
        ends = (low, low == CUTS[0] or draw(st.booleans()), high, high == CUTS[-1] or draw(st.booleans()))
        rows.append((f"screen.rule{at}", draw(st.integers(0, 2)), (parts, colours, ends)))
    return _table("screen", "collect", rows)


def _table(name: str, policy: str, rows: list) -> Table:
    cells: tuple[list, list, list] = ([], [], [])
    made = []
    for rule, verdict, (parts, colours, heat) in rows:
        wanted = (
            None if parts == CANDIDATES else ChoiceCell(parts),
            None if colours == COLOURS else ChoiceCell(colours),
            None if heat == (CUTS[0], True, CUTS[-1], True) else NumberCell((Interval(*heat),)),
        )
        places = []
        for known, cell in zip(cells, wanted):
            if cell is not None and cell not in known:
                known.append(cell)
            places.append(-1 if cell is None else known.index(cell))
        made.append(Row(rule, verdict, tuple(places)))
    columns = (
        Column("part", "choice", "decision", tuple(cells[0])),
        Column("colour", "choice", "input", tuple(cells[1])),
        Column("heat", "number", "input", tuple(cells[2])),
    )
    return Table(name, policy, True, ("part",), columns, tuple(made))
