"""Gives back a small pack, made by hand: liner and size, three tables, one formula."""

from __future__ import annotations

from generator.pack.model import (
    Argument,
    ChoiceCell,
    Column,
    Decision,
    Derived,
    Formula,
    Input,
    Interval,
    NumberCell,
    Option,
    Pack,
    Refusal,
    Row,
    State,
    Symbol,
    Table,
)

UNSUITABLE, OPEN, CAUTION, SUITABLE = range(4)


def interval(low: float, low_in: bool, high: float, high_in: bool) -> NumberCell:
    return NumberCell((Interval(low, low_in, high, high_in),))


def small_pack() -> Pack:
    """Liner and size, judged by temperature, by medium and by velocity."""
    liners = Decision("liner", (Option("pfa"), Option("polyurethane"), Option("soft_rubber")))
    sizes = Decision(
        "size",
        (
            Option("dn50", numbers=(("nominal_bore", 50.0),)),
            Option("dn100", numbers=(("nominal_bore", 100.0),)),
        ),
    )
    inputs = (
        Input(
            "medium",
            "choice",
            True,
            "process",
            False,
            options=(Option("seawater"), Option("nitric_acid"), Option("unlisted")),
        ),
        Input("temperature_max", "number", True, "process", False, "degC", -50.0, 250.0),
        Input(
            "concentration",
            "number",
            True,
            "laboratory",
            True,
            "mass %",
            0.0,
            100.0,
            refusals=(Refusal("%", "by mass or by volume?"),),
        ),
        Input("flow_normal", "number", True, "process", False, "m3/h", 0.0, 10000.0),
    )
    return Pack(
        inputs=inputs,
        states=(State("normal", True), State("cleaning", False)),
        decisions=(sizes, liners),
        formulas=(
            Formula(
                "mean_velocity",
                "m/s",
                (
                    Symbol("flow", "m3/h", Interval(0.0, True, 1e6, True)),
                    Symbol("bore", "mm", Interval(0.0, False, 1000.0, True)),
                ),
                ("symbol", "flow"),
            ),
        ),
        derived=(
            Derived(
                "velocity_normal",
                "mean_velocity",
                "m/s",
                (
                    Argument("flow", "input", "flow_normal"),
                    Argument("bore", "candidate", "size", "nominal_bore"),
                ),
                ("size",),
                Interval(0.0, True, 100.0, True),
            ),
        ),
        tables=(_temperature(), _chemistry(), _velocity()),
    )


# private


def _temperature() -> Table:
    within, hot, rest = (
        interval(-50.0, True, 40.0, True),
        interval(40.0, False, 250.0, True),
        interval(-50.0, True, 250.0, True),
    )
    return Table(
        "liner_temperature",
        "unique",
        True,
        ("liner",),
        (
            Column(
                "liner",
                "choice",
                "decision",
                (ChoiceCell(("polyurethane",)), ChoiceCell(("pfa",)), ChoiceCell(("soft_rubber",))),
            ),
            Column("temperature_max", "number", "input", (within, hot, rest)),
        ),
        (
            Row("liner_temperature.polyurethane_within", SUITABLE, (0, 0)),
            Row("liner_temperature.polyurethane_hot", UNSUITABLE, (0, 1)),
            Row("liner_temperature.pfa", SUITABLE, (1, -1)),
            Row("liner_temperature.otherwise", OPEN, (2, -1)),
        ),
    )


def _chemistry() -> Table:
    bands = (
        interval(-50.0, True, 40.0, True),
        interval(40.0, False, 90.0, True),
        interval(90.0, False, 250.0, True),
    )
    liners, media = ("pfa", "polyurethane", "soft_rubber"), ("seawater", "nitric_acid")
    verdicts = {"pfa": SUITABLE, "polyurethane": UNSUITABLE, "soft_rubber": CAUTION}
    rows = [
        Row(
            f"liner_chemistry.{medium}.b{band + 1}.{liner}",
            verdicts[liner],
            (place, -1, band, liners.index(liner)),
        )
        for place, medium in enumerate(media)
        for band in (0, 1)
        for liner in liners
    ]
    rows += [
        Row("liner_chemistry.otherwise", OPEN, (2, -1, -1, -1)),
        Row("liner_chemistry.otherwise", OPEN, (3, -1, 2, -1)),
    ]
    return Table(
        "liner_chemistry",
        "unique",
        True,
        ("liner",),
        (
            Column(
                "medium",
                "choice",
                "input",
                (
                    ChoiceCell(("seawater",)),
                    ChoiceCell(("nitric_acid",)),
                    ChoiceCell(("unlisted",)),
                    ChoiceCell(media),
                ),
            ),
            Column("concentration", "number", "input", (interval(0.0, True, 100.0, True),)),
            Column("temperature_max", "number", "input", bands),
            Column("liner", "choice", "decision", tuple(ChoiceCell((liner,)) for liner in liners)),
        ),
        tuple(rows),
    )


def _velocity() -> Table:
    return Table(
        "size_velocity",
        "collect",
        False,
        ("size",),
        (
            Column("size", "choice", "decision", ()),
            Column(
                "velocity_normal",
                "number",
                "derived",
                (
                    interval(10.0, False, 100.0, True),
                    NumberCell((), True),
                    NumberCell((Interval(0.0, True, 1.0, False), Interval(3.0, False, 10.0, True))),
                ),
            ),
        ),
        (
            Row("size_velocity.too_fast", UNSUITABLE, (-1, 0)),
            Row("size_velocity.beside_window", CAUTION, (-1, 2)),
            Row("size_velocity.no_value", OPEN, (-1, 1)),
        ),
    )
