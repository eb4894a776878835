"""Gives the tests of this folder the shipped guide, and its verdict on a measuring point in typed answers."""

from __future__ import annotations

from dataclasses import replace
from functools import cache
from pathlib import Path

from generator.answers.reading import Understood, read_answer
from generator.evaluate.prepared import Prepared, prepare
from generator.evaluate.results import Answer, Application, CandidateResult, NumberSet, StateAnswers
from generator.evaluate.select import select
from generator.pack.model import Input, Pack, Table
from generator.pack.texts import Texts
from tests import shipped

DATA = Path(__file__).resolve().parents[2] / "data"
CHEMISTRY = {"medium", "concentration", "temperature_max"}
# A measuring point where nothing but the medium stands in the way.
EASY = {"solids": "none", "particle_hardness": "not applicable", "oil_or_solvent": "none",
        "chloride": "0 mg/L", "conductivity": "5000 uS/cm", "conductivity_temperature": "25 degC",
        "temperature_coefficient": "2 %/K", "density": "1000 kg/m3", "viscosity": "1 mPa.s",
        "service": "clean", "flow_min": "20 m3/h", "flow_normal": "50 m3/h", "flow_max": "70 m3/h",
        "temperature_min": "0 degC", "pressure_min": "1.1 bar abs", "pressure_max": "3 bar gauge",
        "vacuum_protection": "open_line", "temperature_step": "0 K", "altitude": "0 m", "pipe_size": "dn100",
        "pipe_wall": "bare_metal", "cathodic_protection": "none", "stray_current": "no",
        "hygienic_required": "no", "drinking_water_approval": "no"}


@cache
def shipped_pack() -> Pack:
    """The pack that the data of this repository compiles to."""
    return shipped.base()[0]


@cache
def whole_guide() -> Prepared:
    """The shipped pack, ready to answer."""
    return shipped.prepared_base()


@cache
def chemistry_alone() -> Prepared:
    """The shipped pack with no other tables than those made of the media's letters."""
    pack = shipped_pack()
    return prepare(replace(pack, tables=tuple(table for table in pack.tables if is_chemistry(table))))


def is_chemistry(table: Table) -> bool:
    """Whether the table judges one decision by medium, strength and temperature and by nothing else."""
    names = {column.name for column in table.columns}
    return len(table.decisions) == 1 and names == CHEMISTRY | set(table.decisions)


@cache
def shipped_texts() -> Texts:
    """The texts of that pack."""
    return shipped.base()[1]


def in_unit(formula: str, symbol: str, typed: str) -> float:
    """What a person typed for a symbol of a formula, read as its calculator reads it, in the symbol's unit."""
    text = next(one for one in shipped_texts().formulas if one.id == formula)
    asked = next(one for one in text.symbols if one.id == symbol)
    number, unit = split(typed)
    if unit == asked.unit:
        return number
    line = Input(symbol, "number", False, "", False, asked.unit, -1e300, 1e300, asked.conversions, asked.refusals)
    read = read_answer(line, typed)
    assert isinstance(read, Understood), f"{symbol} of {formula}: {typed!r} was refused: {read}"
    return single(read.answer)


def split(typed: str) -> tuple[float, str]:
    """`50 m3/h` as 50.0 and `m3/h`."""
    number, unit = typed.split(" ", 1)
    return float(number), unit


def single(answer: object) -> float:
    """The one number of a set of one."""
    assert isinstance(answer, NumberSet) and not answer.absent and len(answer.intervals) == 1, answer
    low, high = answer.intervals[0]
    assert low == high
    return low


def shipped_input(name: str) -> Input:
    """The input with this id."""
    return next(item for item in shipped_pack().inputs if item.id == name)


def understood(name: str, typed: str) -> Answer:
    """The answer that the guide reads in this text; the test fails if it reads none."""
    read = read_answer(shipped_input(name), typed)
    assert isinstance(read, Understood), f"{name}: {typed!r} was refused: {read}"
    return read.answer


def judged(guide: Prepared, answers: dict[str, str], decision: str, candidate: str) -> CandidateResult:
    """What the guide says of one candidate in normal operation, while everything else is blank."""
    normal = StateAnswers("normal", tuple((name, understood(name, typed)) for name, typed in answers.items()))
    selected = select(guide, Application("outside", "A point from outside", (normal,)))
    found = next(result for result in selected.decisions if result.decision == decision)
    return next(result for result in found.candidates if result.candidate == candidate)
