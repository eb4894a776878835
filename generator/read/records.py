"""Gives back the records of data/ as the author typed them: every scalar is a Word with its place, nothing is converted.
The reader checks shape (known keys, required keys, lists and mappings where they belong); the compiler gives meaning."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from generator.problems import Place
from generator.read.expected import Case, Witness
from generator.read.word import Word

if TYPE_CHECKING:
    from generator.read.overlay_records import Overlay
    from generator.read.series_records import Series
    from generator.read.waiver_records import Waiver


@dataclass(frozen=True, slots=True)
class Basis:
    """Why a figure may be believed. `kind` is standard, handbook, physics, common_practice, company or supplier."""

    place: Place
    kind: Word
    checked: Word | None = None      # read, run or recalled
    source: Word | None = None       # id of a source record
    clause: Word | None = None
    note: Word | None = None


@dataclass(frozen=True, slots=True)
class Spelling:
    text: Word                       # what a person types: "gpm"
    pint: Word                       # what pint calls it: "gallon/minute"
    note: Word | None = None         # shown with what was understood: "US gallons"


@dataclass(frozen=True, slots=True)
class Refusal:
    text: Word                       # a spelling that is refused on purpose: "%", "bar"
    ask: Word                        # the question: "by mass or by volume? type `10 mass %`"


@dataclass(frozen=True, slots=True)
class Quantity:
    """A kind of number with its one unit (data/quantities.yml)."""

    id: Word
    title: Word
    unit: Word                       # the spelling in which numbers of this quantity are stored and compared
    symbol: Word                     # how the unit is printed: "m³/h"
    spellings: tuple[Spelling, ...]
    refused: tuple[Refusal, ...] = ()


@dataclass(frozen=True, slots=True)
class Choice:
    id: Word
    title: Word
    synonyms: tuple[Word, ...] = ()
    words: tuple[tuple[Word, Word], ...] = ()       # as in Item: flange_rating -> a column of that series


@dataclass(frozen=True, slots=True)
class Input:
    """One line of the data sheet (data/inputs.yml)."""

    id: Word
    title: Word
    kind: Word                       # number, choice or yes_no
    per: Word                        # application (shared by all states) or state
    group: Word                      # heading on the worksheet
    help: Word
    asked_of: Word                   # who usually knows it, and gets the letter that asks: one of ADDRESSEES
    blank: Word                      # what a blank means, in a sentence
    quantity: Word | None = None     # for a number
    range: Word | None = None        # for a number: closed S-FEEL interval in the quantity's unit, "[0..100]"
    choices: tuple[Choice, ...] = ()
    choices_from: Word | None = None  # id of a collection: media, mixtures, pipe_sizes
    not_applicable: Word | None = None  # yes: the answer `not applicable` is allowed
    safety: Word | None = None       # yes: may never have an assumed value
    assumed: Word | None = None      # a value, or `medium.usual_service`
    recorded: Word | None = None     # yes: the media's records say it, so a blank leaves nothing open,
    asked_with: Word | None = None   # except for the media with this flag
    first: Word | None = None        # yes: one of the few questions that the worksheet begins with


@dataclass(frozen=True, slots=True)
class State:
    id: Word
    title: Word
    measuring: Word                  # yes or no
    help: Word


@dataclass(frozen=True, slots=True)
class Item:
    """A candidate of a catalogue, a medium, a kind of mixture or a pipe size: an option that an answer or a decision can name."""

    id: Word
    title: Word
    place: Place
    basis: Basis | None = None
    about: Word | None = None
    synonyms: tuple[Word, ...] = ()
    flags: tuple[Word, ...] = ()     # `with abrasive` means every item with that flag; a mixture: of its two media
    numbers: tuple[tuple[Word, Word], ...] = ()     # name -> number with unit: nominal_bore -> "100 mm"
    words: tuple[tuple[Word, Word], ...] = ()       # name -> word: usual_service -> clean


@dataclass(frozen=True, slots=True)
class Band:
    id: Word
    concentration: Word              # S-FEEL in the unit of input `concentration`, or "-"
    up_to: Word                      # highest temperature, in the unit of input `temperature_max`
    letters: tuple[tuple[Word, Word], ...]
    notes: tuple[tuple[Word, Word], ...] = ()


@dataclass(frozen=True, slots=True)
class Medium:
    item: Item
    composition: Word
    cas: Word | None
    conductivity: tuple[Word, ...]   # low and high in uS/cm, or none
    notes: tuple[tuple[Word, Word], ...]
    bands: tuple[Band, ...]
    permeants: tuple[Word, ...] = ()


@dataclass(frozen=True, slots=True)
class Decision:
    id: Word
    title: Word
    catalogue: Word                  # folder below data/catalogues
    question: Word
    about: Word


@dataclass(frozen=True, slots=True)
class Catalogue:
    id: Word                         # the folder's name
    items: tuple[Item, ...]          # in the committee's order of preference


@dataclass(frozen=True, slots=True)
class Cell:
    """One condition: `test` for one text, `items` for a list; `negated` for a list written `{not: [..]}`."""

    column: Word
    place: Place
    test: Word | None = None
    items: tuple[Word, ...] | None = None
    negated: bool = False


@dataclass(frozen=True, slots=True)
class Rule:
    id: Word
    place: Place
    when: tuple[Cell, ...]
    then: Word                       # suitable, caution, unsuitable or open
    because: Word
    basis: Basis
    needs: Word | None = None        # supplier_data: an `open` that waits for a supplier's figure, and for nothing else


@dataclass(frozen=True, slots=True)
class Otherwise:
    place: Place
    verdict: Word
    because: Word
    basis: Basis | None = None


@dataclass(frozen=True, slots=True)
class Table:
    id: Word
    place: Place
    title: Word
    about: Word
    hit_policy: Word                 # unique, collect; any, first and priority are rewritten as unique
    while_: Word                     # always or measuring
    inputs: tuple[Word, ...]         # column names: inputs, decisions, derived values
    rules: tuple[Rule, ...]
    rules_from: Word | None = None   # media: rows from the letters of the media for this table's decision
    otherwise: Otherwise | None = None
    safety: Word | None = None


@dataclass(frozen=True, slots=True)
class Symbol:
    id: Word
    title: Word
    letter: Word                     # as printed: Q, D, σ
    unit: Word
    range: Word                      # S-FEEL interval of validity in that unit


@dataclass(frozen=True, slots=True)
class Constant:
    id: Word
    title: Word
    letter: Word
    value: Word                      # with unit: "25 degC"
    basis: Basis


@dataclass(frozen=True, slots=True)
class Example:
    given: tuple[tuple[Word, Word], ...]
    result: Word                     # number with unit
    tolerance: Word                  # relative, e.g. 1e-6
    source: Word                     # where the expected figure comes from
    worked: Word                     # the arithmetic in words


@dataclass(frozen=True, slots=True)
class Formula:
    id: Word
    place: Place
    title: Word
    about: Word
    letter: Word
    unit: Word
    symbols: tuple[Symbol, ...]
    constants: tuple[Constant, ...]
    expression: Word
    validity: Word
    accuracy: Word
    trap: Word
    basis: Basis
    examples: tuple[Example, ...]
    subject: Word | None = None      # heading among the formulas
    calculator: Word | None = None   # no: a page to read, without a calculator


@dataclass(frozen=True, slots=True)
class Derived:
    """A formula bound to inputs, item properties or other derived values (data/derived.yml)."""

    id: Word
    place: Place
    title: Word
    formula: Word
    with_: tuple[tuple[Word, Word], ...]   # symbol -> input id, derived id, `size.nominal_bore`, `medium.x`
    range: Word                      # S-FEEL interval in the result's unit; outside it there is no value


@dataclass(frozen=True, slots=True)
class Source:
    id: Word
    title: Word
    kind: Word                       # standard, handbook, physics, common_practice, company, supplier
    edition: Word
    checked: Word                    # read, run or recalled
    about: Word
    place: Place


@dataclass(frozen=True, slots=True)
class Caution:
    id: Word
    text: Word
    basis: Basis
    kind: Word | None = None         # caution (also where it is not given) or hand_over
    when: tuple[Cell, ...] = ()      # as in a rule, over inputs and decisions


@dataclass(frozen=True, slots=True)
class Edition:
    """Who publishes the guide (data/guide.yml)."""

    company: Word
    title: Word
    edition: Word
    notice: Word                     # e.g. that the company and its data are invented
    repository: Word | None = None   # address for "edit this record", joined with the file
    overlay: Word | None = None      # folder of the company's overlay, below data/


@dataclass(frozen=True, slots=True)
class KnowledgeBase:
    """Everything in data/, cross-checked."""
    edition: Edition
    quantities: tuple[Quantity, ...]
    inputs: tuple[Input, ...]
    states: tuple[State, ...]
    decisions: tuple[Decision, ...]
    catalogues: tuple[Catalogue, ...]
    media: tuple[Medium, ...]
    pipe_sizes: tuple[Item, ...]
    tables: tuple[Table, ...]
    formulas: tuple[Formula, ...]
    derived: tuple[Derived, ...]
    sources: tuple[Source, ...]
    cautions: tuple[Caution, ...]
    cases: tuple[Case, ...]
    waivers: tuple[Waiver, ...]
    witnesses: tuple[Witness, ...] = ()
    series: tuple[Series, ...] = ()
    overlay: Overlay | None = None   # joined to all of the above
    starters: tuple[Case, ...] = ()
    mixtures: tuple[Item, ...] = ()
