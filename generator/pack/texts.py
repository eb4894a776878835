"""Gives back what pages and reasons show: the sentences, bases and places that belong to a pack, by id.

The engines never read this. Numbers and conditions are printed from the pack itself, so that a page cannot differ
from what is decided; here stand only words.
"""

from __future__ import annotations

from dataclasses import dataclass, field

from generator.pack.basis_text import BasisText
from generator.pack.model import Conversion, Refusal
from generator.pack.overlay_texts import OverlayText


@dataclass(frozen=True, slots=True)
class RuleText:
    """`origin` is author, letter (from a medium's record), overlay (a rule laid over a table of the base), otherwise, or
    no_value."""

    rule: str
    table: str
    origin: str
    because: str
    basis: BasisText
    file: str
    line: int


@dataclass(frozen=True, slots=True)
class InputText:
    id: str
    title: str
    group: str
    help: str
    blank: str
    asked_of: str
    unit_symbol: str
    safety: bool
    options: tuple[tuple[str, str], ...]      # id, title
    units: tuple[tuple[str, str], ...]        # spelling, note; the input's own unit first
    file: str
    line: int
    first: bool = False                       # one of the few questions that the worksheet begins with


@dataclass(frozen=True, slots=True)
class StateText:
    id: str
    title: str
    help: str


@dataclass(frozen=True, slots=True)
class ItemText:
    """A candidate or a pipe size. `facts` are (name, value with unit) pairs."""

    id: str
    title: str
    about: str
    basis: BasisText | None
    flags: tuple[str, ...]
    synonyms: tuple[str, ...]
    facts: tuple[tuple[str, str], ...]
    file: str
    line: int


@dataclass(frozen=True, slots=True)
class DecisionText:
    id: str
    title: str
    question: str
    about: str
    items: tuple[ItemText, ...]


@dataclass(frozen=True, slots=True)
class BandText:
    """`temperature` and `concentration` as intervals in words with units; letters as (material, letter, note)."""

    id: str
    concentration: str
    temperature: str
    letters: tuple[tuple[str, str, str], ...]
    line: int


@dataclass(frozen=True, slots=True)
class MediumText:
    item: ItemText
    composition: str
    cas: str
    conductivity: str                # "100 to 1000 µS/cm", or empty
    permeants: tuple[str, ...]
    usual_service: str
    bands: tuple[BandText, ...]


@dataclass(frozen=True, slots=True)
class TableText:
    id: str
    title: str
    about: str
    safety: bool
    file: str
    line: int


@dataclass(frozen=True, slots=True)
class SymbolText:
    id: str
    title: str
    letter: str
    unit: str                        # spelling, as in the pack
    unit_symbol: str                 # as printed
    conversions: tuple[Conversion, ...] = ()          # what a calculator reads, into that unit
    refusals: tuple[Refusal, ...] = ()


@dataclass(frozen=True, slots=True)
class ConstantText:
    id: str
    title: str
    letter: str
    value: str
    basis: BasisText


@dataclass(frozen=True, slots=True)
class ExampleText:
    """`given` and `result` as typed, with units; `arguments` and `expected` the same in the units of the formula."""

    given: tuple[tuple[str, str], ...]        # symbol id, value with unit
    result: str
    tolerance: str
    source: str
    worked: str
    arguments: tuple[tuple[str, float], ...] = ()
    expected: float = 0.0
    file: str = ""
    line: int = 0


@dataclass(frozen=True, slots=True)
class FormulaText:
    """`printed` is the expression before unit conversions (nodes as in `pack.model`), for MathML."""

    id: str
    title: str
    about: str
    letter: str
    unit_symbol: str
    expression: str
    printed: tuple
    symbols: tuple[SymbolText, ...]
    constants: tuple[ConstantText, ...]
    validity: str
    accuracy: str
    trap: str
    basis: BasisText
    examples: tuple[ExampleText, ...]
    file: str
    line: int
    subject: str = ""
    calculator: bool = True


@dataclass(frozen=True, slots=True)
class SeriesColumnText:
    id: str
    title: str
    unit_symbol: str
    basis: BasisText | None          # where it is not that of the series


@dataclass(frozen=True, slots=True)
class SeriesText:
    """`axis` is what the rows stand for, `unit_symbol` its unit; empty where rows are names."""

    id: str
    title: str
    about: str
    axis: str
    unit_symbol: str
    columns: tuple[SeriesColumnText, ...]
    trap: str
    basis: BasisText
    file: str
    line: int


@dataclass(frozen=True, slots=True)
class DerivedText:
    id: str
    title: str
    formula: str
    unit_symbol: str
    file: str
    line: int


@dataclass(frozen=True, slots=True)
class SourceText:
    id: str
    title: str
    kind: str
    edition: str
    checked: str
    about: str
    file: str
    line: int


@dataclass(frozen=True, slots=True)
class CautionText:
    """A caution, or (`kind` hand_over) something to hand over with the sensor. `where` says when, in words; empty:
    always."""

    id: str
    text: str
    basis: BasisText
    kind: str = "caution"
    where: str = ""


@dataclass(frozen=True, slots=True)
class ExpectedText:
    """`at` is the line and column of the verdict in the file."""

    decision: str
    candidate: str
    verdict: str
    rule: str
    because: str
    at: tuple[int, int] = field(default=(1, 1), compare=False)


@dataclass(frozen=True, slots=True)
class TogetherText:
    """What is expected of these (decision, candidate) pairs together; `at` as in `ExpectedText`."""

    keep: tuple[tuple[str, str], ...]
    verdict: str
    rule: str
    because: str
    at: tuple[int, int] = field(default=(1, 1), compare=False)


@dataclass(frozen=True, slots=True)
class CaseText:
    """`application` is (state, answers or None when ruled out) with answers as (input, text) pairs, as typed. `selection`
    is (decision, candidate) of the leading selection, as far as the case expects one, `selection_at` the line and column of
    each; `concessions` are (key, text) pairs each."""

    id: str
    title: str
    story: str
    application: tuple[tuple[str, tuple[tuple[str, str], ...] | None], ...]
    expect: tuple[ExpectedText, ...]
    file: str
    line: int
    selection: tuple[tuple[str, str], ...] = ()
    concessions: tuple[tuple[tuple[str, str], ...], ...] = ()
    together: tuple[TogetherText, ...] = ()
    selection_at: tuple[tuple[int, int], ...] = field(default=(), compare=False)


@dataclass(frozen=True, slots=True)
class WitnessText:
    """An application that pins what no case does, as `guide pin` proposes it. `judge` and `together` are expectations
    like a case's; a verdict or because is empty, and `approver` too, until a person has filled them in."""

    id: str
    title: str
    application: tuple[tuple[str, tuple[tuple[str, str], ...] | None], ...]
    judge: tuple[ExpectedText, ...]
    approver: str
    file: str
    line: int
    together: tuple[TogetherText, ...] = ()


@dataclass(frozen=True, slots=True)
class WaivedText:
    """A finding that the committee accepts for a time: the check's own sentence, and who says why and until when.

    Without an approver nobody has accepted it yet. A waiver of what the compiler does not look for has no sentence, and
    the place of the waiver itself.
    """

    finding: str                     # its key: code, table, and the rules or the region
    message: str
    reason: str
    approver: str
    until: str
    file: str
    line: int
    rules: tuple[str, ...] = ()
    region: str = ""


@dataclass(frozen=True, slots=True)
class EditionText:
    company: str
    title: str
    edition: str
    notice: str
    repository: str


@dataclass(frozen=True, slots=True)
class Texts:
    edition: EditionText
    inputs: tuple[InputText, ...]
    states: tuple[StateText, ...]
    decisions: tuple[DecisionText, ...]
    media: tuple[MediumText, ...]
    pipe_sizes: tuple[ItemText, ...]
    tables: tuple[TableText, ...]
    rules: tuple[RuleText, ...]
    formulas: tuple[FormulaText, ...]
    derived: tuple[DerivedText, ...]
    sources: tuple[SourceText, ...]
    cautions: tuple[CautionText, ...]
    cases: tuple[CaseText, ...]
    waived: tuple[WaivedText, ...] = ()
    witnesses: tuple[WitnessText, ...] = ()
    series: tuple[SeriesText, ...] = ()
    overlay: OverlayText | None = None
    starters: tuple[CaseText, ...] = ()              # answers to begin with, by duty; they expect nothing
    mixtures: tuple[ItemText, ...] = ()       # the kinds; flags are those of the two media


def series_bases(text: SeriesText) -> tuple[BasisText, ...]:
    """Every basis that a series rests on: its own and those of its columns."""
    return (text.basis, *(column.basis for column in text.columns if column.basis is not None))


def series_read(printed: object) -> frozenset[str]:
    """The ids of the series that a formula reads, from its expression as written."""
    if not isinstance(printed, tuple):
        return frozenset()
    own = {printed[1]} if printed[:1] in (("column",), ("choose",)) else set()
    return frozenset(own).union(*map(series_read, printed))
