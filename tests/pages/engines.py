"""Gives back what the two engines decide at a point of a table, and what they make of formulas, answers."""

from __future__ import annotations

import json
import subprocess
import tempfile
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path

from generator.answers.reading import Understood, read_answer
from generator.evaluate.formulas import evaluate_formula
from generator.evaluate.results import Answer, ChoiceSet, NumberSet
from generator.evaluate.tables import TableIndex, index_table, read_table
from generator.pack.model import Conversion, Input, Pack, Symbol

PROJECT = Path(__file__).resolve().parents[2]
OWN_SCRIPTS = PROJECT / "generator" / "browser" / "engine"
_RUNNER = Path(__file__).with_name("decide.mjs")
_FAR = 1e300

Value = float | str | None
Combination = tuple[str, ...]        # candidate ids, in the order of the table's decisions


@dataclass(frozen=True, slots=True)
class Decided:
    """Verdict by its rank and the rules behind it; `worst` and `best` agree at a point."""

    worst: int
    best: int
    rules: tuple[str, ...]


class PythonEngine:
    """The engine of the command line, with the pack that the compiler gives it."""

    name = "Python"

    def __init__(self, pack: Pack) -> None:
        self.pack = pack
        self._indexes: dict[str, TableIndex] = {}

    def decide(self, table: str, points: Sequence[Sequence[Value]]) -> list[dict[Combination, Decided]]:
        """For each point (answers of the columns that are no decisions) what every combination gets."""
        index = self._index(table)
        columns = index.table.columns
        places = [place for place, column in enumerate(columns) if column.source != "decision"]
        return [
            self._named(
                index, {place: _set_of(columns[place].kind, value) for place, value in zip(places, point)}
            )
            for point in points
        ]

    def values(self, formula: str, given: Sequence[Mapping[str, str]]) -> list[NumberSet | None]:
        """A formula's value for answers as typed; None where one is not understood."""
        item = next(item for item in self.pack.formulas if item.id == formula)
        found: list[NumberSet | None] = []
        for typed in given:
            read = {
                symbol.id: read_answer(self._as_answer(symbol), typed[symbol.id]) for symbol in item.symbols
            }
            sets = {name: answer.answer for name, answer in read.items() if isinstance(answer, Understood)}
            found.append(evaluate_formula(item, sets) if len(sets) == len(read) else None)
        return found

    def understood(self, name: str, typed: Sequence[str]) -> list[Answer | None]:
        """The sets that answers as typed stand for; None where one is refused."""
        item = next(item for item in self.pack.inputs if item.id == name)
        read = [read_answer(item, text) for text in typed]
        return [answer.answer if isinstance(answer, Understood) else None for answer in read]

    # private

    def _index(self, table: str) -> TableIndex:
        if table not in self._indexes:
            self._indexes[table] = index_table(
                self.pack, next(one for one in self.pack.tables if one.id == table)
            )
        return self._indexes[table]

    def _named(self, index: TableIndex, answers: dict[int, Answer]) -> dict[Combination, Decided]:
        outcomes = read_table(index, answers, {driven: answers for driven in index.driven})
        return {_ids(self.pack, index.table.decisions, combination): Decided(
            outcome.bounds.worst, outcome.bounds.best,
            tuple(index.table.rows[entry.row].rule for entry in outcome.entries))
            for combination, outcome in outcomes.items()}

    def _as_answer(self, symbol: Symbol) -> Input:
        like = next(
            (item for item in self.pack.inputs if item.kind == "number" and item.unit == symbol.unit), None
        )
        conversions = like.conversions if like else (Conversion(symbol.unit, 1, 0, 1),)
        return Input(symbol.id, "number", False, "", False, symbol.unit, -_FAR, _FAR, conversions)


class BrowserEngine:
    """The engine of the pages in one node process: a folder of scripts, and the text of their pack."""

    name = "JavaScript"

    def __init__(self, scripts: Path, pack: str) -> None:
        self._pack = json.loads(pack)
        self._tables = {table["id"]: table for table in self._pack["tables"]}
        self._ids = {decision["id"]: [candidate["id"] for candidate in decision["candidates"]]
                     for decision in self._pack["decisions"]}
        with tempfile.NamedTemporaryFile("w", suffix=".json", encoding="utf-8", delete=False) as file:
            file.write(pack)
        self._file = Path(file.name)
        self._node = subprocess.Popen(["node", str(_RUNNER), str(scripts), file.name], stdin=subprocess.PIPE,
                                      stdout=subprocess.PIPE, text=True, encoding="utf-8")

    def __enter__(self) -> BrowserEngine:
        return self

    def __exit__(self, *_: object) -> None:
        self._node.stdin.close()
        self._node.wait(timeout=20)
        self._node.stdout.close()
        self._file.unlink()

    def decide(self, table: str, points: Sequence[Sequence[Value]]) -> list[dict[Combination, Decided]]:
        """As PythonEngine.decide."""
        rows, decisions = self._tables[table]["rows"], self._tables[table]["decisions"]
        found = []
        for alike in self._ask({"table": table, "points": points}):
            at_point = {}
            for worst, best, places, combinations in alike:
                decided = Decided(worst, best, tuple(rows[place]["rule"] for place in places))
                for combination in combinations:
                    ids = (
                        self._ids[name][int(place)] for name, place in zip(decisions, combination.split(" "))
                    )
                    at_point[tuple(ids)] = decided
            found.append(at_point)
        return found

    def values(self, formula: str, given: Sequence[Mapping[str, str]]) -> list[NumberSet | None]:
        return [_answer(value) for value in self._ask({"formula": formula, "given": given})]

    def understood(self, name: str, typed: Sequence[str]) -> list[Answer | None]:
        return [_answer(value) for value in self._ask({"input": name, "typed": typed})]

    # private

    def _ask(self, asked: dict[str, object]) -> list:
        self._node.stdin.write(json.dumps(asked, allow_nan=False) + "\n")
        self._node.stdin.flush()
        answer = json.loads(self._node.stdout.readline() or '{"error": "the engine ended"}')
        if "error" in answer:
            raise AssertionError(f"the JavaScript engine failed: {answer['error']}")
        return answer["value"]


Engine = PythonEngine | BrowserEngine


# private

def _set_of(kind: str, value: Value) -> Answer:
    if kind == "choice":
        return ChoiceSet((str(value),))
    return NumberSet((), True) if value is None else NumberSet(((value, value),))


def _answer(value: dict | None) -> Answer | None:
    if value is None:
        return None
    if "ids" in value:
        return ChoiceSet(tuple(value["ids"]))
    return NumberSet(tuple((low, high) for low, high in value["intervals"]), value["absent"])


def _ids(pack: Pack, decisions: tuple[str, ...], combination: tuple[int, ...]) -> Combination:
    own = {decision.id: decision.candidates for decision in pack.decisions}
    return tuple(own[name][place].id for name, place in zip(decisions, combination))
