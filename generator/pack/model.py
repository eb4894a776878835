"""Gives back what the two engines read: the compiled rules, without a sentence in them.

Everything here is frozen, in one order (the data's), and complete: every table covers its whole input space. The
sentences that pages and reasons show travel beside it, in `pack.texts`. The JSON form is `pack.document`.
"""

from __future__ import annotations

from dataclasses import dataclass

VERDICTS = ("unsuitable", "open", "caution", "suitable")      # from bad to good; a verdict's place is its rank
NOT_APPLICABLE = "not_applicable"                             # the option that only `-` and itself match
MEDIUM, CONCENTRATION = "medium", "concentration"             # the inputs that each component of a mixture has its own of
MIXED_WITH = "mixed_with"                                     # the input that further components are typed into

# A node of an expression is a tuple whose first member names it:
#   ("number", 4.0)  ("symbol", "flow")  ("negate", a)  ("add"|"subtract"|"multiply"|"divide", a, b)
#   ("power", a, 0.25)                        fractional or negative constant exponents; whole ones are products
#   ("call", "sqrt", (a, ...))                min max abs sqrt exp log floor ceiling pi log10 sin cos acos
#   ("if", ("<", a, b), then, else)           comparison is < <= > >= =
#   ("interpolate", a, ((x, y), ...))         linear between rising x; no value outside
Expression = tuple


@dataclass(frozen=True, slots=True)
class Interval:
    """Numbers between two ends, in the unit of their column."""

    low: float
    low_in: bool
    high: float
    high_in: bool


@dataclass(frozen=True, slots=True)
class NumberCell:
    """A condition on a number: any of the intervals. `absent` is true when `not applicable` is meant to match."""

    intervals: tuple[Interval, ...]
    absent: bool = False


@dataclass(frozen=True, slots=True)
class ChoiceCell:
    """A condition on a choice: one of the ids (in the input's own order; may name not_applicable)."""

    ids: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Conversion:
    """How a spelled unit becomes the input's unit, exactly: (x * n + k) / d in whole numbers."""

    spelling: str
    n: int
    k: int
    d: int
    note: str = ""


@dataclass(frozen=True, slots=True)
class Refusal:
    """A spelling that is refused on purpose, with the question to ask."""

    spelling: str
    ask: str


@dataclass(frozen=True, slots=True)
class Option:
    """A choice of an input, or a candidate of a decision. `spellings` are lower case, the id and title among them."""

    id: str
    spellings: tuple[str, ...] = ()
    numbers: tuple[tuple[str, float], ...] = ()      # nominal_bore -> 100.0, in the property's unit
    words: tuple[tuple[str, str], ...] = ()


@dataclass(frozen=True, slots=True)
class Input:
    """One line of the data sheet. Numbers lie in [low, high] of `unit`; a blank is the whole of that.

    `recorded`: the records of the media say it, so that a blank is not applicable: what a table says of it is in
    their letters already. A blank is the whole range only while the medium may be one of `asked_for`, whose
    records say nothing of it."""

    id: str
    kind: str                        # number or choice
    per_state: bool
    asked_of: str
    may_be_absent: bool
    unit: str = ""
    low: float = 0.0
    high: float = 0.0
    conversions: tuple[Conversion, ...] = ()
    refusals: tuple[Refusal, ...] = ()
    options: tuple[Option, ...] = ()
    assumed: str = ""                # an answer as typed, or "medium.usual_service"; empty: none
    recorded: bool = False
    asked_for: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Mixture:
    """A kind of pair of media: one of `one` beside one of `other`. A pair may be of several kinds; it is of the
    kind without media where it is of no other. The kinds are the options of the input `mixed_with`."""

    id: str
    one: tuple[str, ...] = ()
    other: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class State:
    id: str
    measuring: bool


@dataclass(frozen=True, slots=True)
class Decision:
    id: str
    candidates: tuple[Option, ...]   # in the committee's order of preference


@dataclass(frozen=True, slots=True)
class Symbol:
    """A name in a formula and the interval of its unit in which the formula holds."""

    id: str
    unit: str
    valid: Interval


@dataclass(frozen=True, slots=True)
class Formula:
    """`expression` already holds the unit conversions: symbols in their own units in, `unit` out."""

    id: str
    unit: str
    symbols: tuple[Symbol, ...]
    expression: Expression


@dataclass(frozen=True, slots=True)
class SeriesColumn:
    """`points` are (place on the axis, figure) in rising order; of named rows the place is the row's place in `rows`."""

    id: str
    unit: str
    points: tuple[tuple[float, float], ...]


@dataclass(frozen=True, slots=True)
class Series:
    """A table of figures. With `unit` its rows are numbers in that unit, and between two of them a straight line holds;
    without one `rows` are their names."""

    id: str
    unit: str
    rows: tuple[str, ...]
    columns: tuple[SeriesColumn, ...]


@dataclass(frozen=True, slots=True)
class Argument:
    """Where a symbol of a derived value comes from: kind is input, derived, candidate (property of the decision's
    candidate), figure (a number for each pair of candidates), or option (property of a choice input's option).
    `n, k, d` convert to the symbol's unit."""

    symbol: str
    kind: str
    name: str
    property: str = ""
    n: int = 1
    k: int = 0
    d: int = 1


@dataclass(frozen=True, slots=True)
class Figure:
    """A number for pairs of candidates of two decisions; a pair that is not named has no value. `values` are (candidate
    of the first decision, of the second, number in `unit`)."""

    id: str
    unit: str
    decisions: tuple[str, ...]       # in the order of `Pack.decisions`
    values: tuple[tuple[str, str, float], ...]


@dataclass(frozen=True, slots=True)
class Derived:
    """A formula bound to its arguments. `decisions` are those whose candidate it needs. Outside `valid`: no value."""

    id: str
    formula: str
    unit: str
    arguments: tuple[Argument, ...]
    decisions: tuple[str, ...]
    valid: Interval


@dataclass(frozen=True, slots=True)
class Column:
    """`kind` number or choice; `source` input, derived or decision; `cells` are the distinct conditions in it."""

    name: str
    kind: str
    source: str
    cells: tuple[NumberCell | ChoiceCell, ...]


@dataclass(frozen=True, slots=True)
class Row:
    """`cells[i]` is the place of the condition in column i's cells, or -1 for any answer. `recalled` are places in
    `Pack.recalled`."""

    rule: str
    verdict: int                     # rank in VERDICTS
    cells: tuple[int, ...]
    recalled: tuple[int, ...] = ()


@dataclass(frozen=True, slots=True)
class Table:
    """Rows in the author's order, those of `otherwise` last. unique: the rows are disjoint and cover everything.
    collect: rows only take away; where none matches, the table has no effect."""

    id: str
    hit_policy: str                  # unique or collect
    always: bool                     # False: only in measuring states
    decisions: tuple[str, ...]       # one to three, in the order of `Pack.decisions`
    columns: tuple[Column, ...]
    rows: tuple[Row, ...]


@dataclass(frozen=True, slots=True)
class Condition:
    """What an answer, or the candidate of a decision, must be."""

    name: str
    cell: NumberCell | ChoiceCell


@dataclass(frozen=True, slots=True)
class Advice:
    """What goes with a result where all conditions hold; without any, always. `kind` is caution or hand_over."""

    id: str
    kind: str
    conditions: tuple[Condition, ...]


@dataclass(frozen=True, slots=True)
class Recalled:
    """A document that figures were quoted from by memory: the id of a source, and its clause or nothing."""

    source: str
    clause: str


@dataclass(frozen=True, slots=True)
class Pack:
    """The only door between the compiler and everything after it."""

    inputs: tuple[Input, ...]
    states: tuple[State, ...]
    decisions: tuple[Decision, ...]
    formulas: tuple[Formula, ...]
    derived: tuple[Derived, ...]     # an argument of kind derived stands earlier in the tuple
    tables: tuple[Table, ...]
    recalled: tuple[Recalled, ...] = ()
    advice: tuple[Advice, ...] = ()
    series: tuple[Series, ...] = ()
    figures: tuple[Figure, ...] = ()
    mixtures: tuple[Mixture, ...] = ()
