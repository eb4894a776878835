"""Gives back expressions, sets and a small pack, drawn or made by hand, for the tests of the engines."""

from __future__ import annotations

import random

from generator.evaluate.expressions import Span
from generator.pack.model import (Argument, Conversion, Decision, Derived, Expression, Formula, Input,
Interval, Mixture, Option, Pack, Refusal, State, Symbol)

SYMBOLS = ("a", "b", "c")
_TWO_SIDED = ("add", "subtract", "multiply", "divide")
_ONE_SIDED = ("abs", "sqrt", "exp", "log", "log10", "floor", "ceiling", "sin", "cos", "acos")


def draw_expression(rng: random.Random, depth: int) -> Expression:
    """Any expression of the language that is at most `depth` levels deep."""
    kind = rng.random()
    if depth == 0 or kind < 0.15:
        return ("symbol", rng.choice(SYMBOLS)) if rng.random() < 0.7 else ("number", draw_number(rng))
    part = lambda: draw_expression(rng, depth - 1)  # noqa: E731
    if kind < 0.6:
        return (rng.choice(_TWO_SIDED), part(), part())
    if kind < 0.65:
        return ("negate", part())
    if kind < 0.72:
        return ("power", part(), rng.choice((0.25, 0.5, 1.5, -0.25, -1.0, -2.0, 2.0, 3.0, 0.0)))
    if kind < 0.86:
        return ("call", rng.choice(_ONE_SIDED), (part(),))
    if kind < 0.92:
        return ("call", rng.choice(("min", "max")), tuple(part() for _ in range(rng.randint(1, 3))))
    if kind < 0.93:
        return ("call", "pi", ())
    if kind < 0.97:
        return ("if", (rng.choice(("<", "<=", ">", ">=", "=")), part(), part()), part(), part())
    return ("interpolate", part(), ((-2.0, 1.0), (0.0, 3.5), (1.0, 3.5), (40.0, -1.0)))


def draw_number(rng: random.Random) -> float:
    """A number that formulas meet: small whole ones, zero, and plain decimals of both signs."""
    return rng.choice((0.0, 1.0, -1.0, 2.0, 100.0, float(rng.randint(-5, 5)), round(rng.uniform(-50, 50), 3),
                       round(rng.uniform(0, 1), 6)))


def draw_span(rng: random.Random) -> Span:
    """Two numbers in order, now and then the same."""
    low, high = sorted((draw_number(rng), draw_number(rng)))
    return Span(low, low if rng.random() < 0.2 else high)


def closed(low: float, high: float) -> Interval:
    return Interval(low, True, high, True)


def small_pack() -> Pack:
    """A pack by hand: every kind of input and of argument, no tables."""
    celsius = (Conversion("degC", 1, 0, 1), Conversion("°C", 1, 0, 1), Conversion("C", 1, 0, 1),
               Conversion("degF", 5, -160, 9), Conversion("K", 20, -5463, 20))
    flow = (
        Conversion("m3/h", 1, 0, 1),
        Conversion("m³/h", 1, 0, 1),
        Conversion("L/s", 18, 0, 5),
        Conversion("gpm", 56781176760, 0, 250000000000, "US gallons"),
        Conversion("imp gpm", 2727654, 0, 10000000),
    )
    gauge = (Conversion("bar gauge", 1, 0, 1), Conversion("barg", 1, 0, 1),
             Conversion("psig", 8896443230521, 0, 129032000000000))
    not_gauge = (Refusal("bar", "gauge or absolute? type `6 barg`"), Refusal("psi", "gauge or absolute? "
                                                                                    "type `90 psig`"),
                 Refusal("bara", "this is a gauge pressure; type `6 barg`"))
    yes_no = (Option("yes", ("yes",)), Option("no", ("no",)))
    service = (Option("clean", ("clean", "clean liquid")), Option("slurry", ("slurry",)),
               Option("sticky", ("sticky", "coating or scaling")))
    medium = (
        Option("water", ("water", "drinking water", "h2o"), (), (("usual_service", "clean"),)),
        Option(
            "ore_slurry", ("ore_slurry", "ore slurry"), (("density", 1.4),), (("usual_service", "slurry"),)
        ),
        Option("brine", ("brine", "salt water", "h2o"), (("density", 1.2),), ()),
        Option("unlisted", ("unlisted", "not listed")),
    )
    sizes = tuple(
        Option(f"dn{bore}", (f"dn{bore}",), (("nominal_bore", float(bore)),)) for bore in (25, 100, 400)
    )
    return Pack(
        inputs=(
            Input("medium", "choice", True, "process", False, options=medium),
            Input(
                "service", "choice", True, "process", False, options=service, assumed="medium.usual_service"
            ),
            Input("temperature_max", "number", True, "process", False, "degC", -50.0, 250.0, celsius),
            Input("flow_max", "number", True, "process", True, "m3/h", 0.0, 10000.0, flow),
            Input(
                "pressure_max", "number", True, "process", False, "bar gauge", -1.0, 400.0, gauge, not_gauge
            ),
            Input(
                "concentration",
                "number",
                True,
                "laboratory",
                True,
                "mass %",
                0.0,
                100.0,
                (Conversion("mass %", 1, 0, 1),),
                (Refusal("%", "by mass or by volume? type `10 mass " "%`"),),
            ),
            Input(
                "elevation",
                "number",
                False,
                "piping",
                False,
                "m",
                -500.0,
                5000.0,
                (Conversion("m", 1, 0, 1), Conversion("ft", 381, 0, 1250)),
                assumed="0 m",
            ),
            Input("pipe_size", "choice", False, "piping", True, options=sizes),
            Input("cathodic", "choice", False, "corrosion", True, options=yes_no),
            Input("ratio", "number", False, "process", False, "1", 0.0, 10.0, (Conversion("1", 1, 0, 1),)),
            Input("mixed_with", "choice", True, "process", True, options=(Option("salty"), Option("not_recorded")),
                  recorded=True),
        ),
        mixtures=(Mixture("salty", ("brine",), ("water", "ore_slurry")), Mixture("not_recorded")),
        states=(State("normal", True), State("cleaning", False), State("steaming", False)),
        decisions=(
            Decision("size", sizes + (Option("odd", ("odd",)),)),
            Decision(
                "liner",
                (
                    Option("pfa", ("pfa",), (("thickness", 3.0),)),
                    Option("rubber", ("rubber",), (("thickness", 5.0),)),
                ),
            ),
        ),
        formulas=(
            Formula(
                "mean_velocity",
                "m/s",
                (
                    Symbol("flow", "m3/h", closed(0, 20000)),
                    Symbol("bore", "mm", Interval(0, False, 3000, True)),
                ),
                (
                    "divide",
                    ("divide", ("multiply", ("number", 4.0), ("symbol", "flow")), ("number", 3600.0)),
                    (
                        "multiply",
                        ("call", "pi", ()),
                        (
                            "multiply",
                            ("divide", ("symbol", "bore"), ("number", 1000.0)),
                            ("divide", ("symbol", "bore"), ("number", 1000.0)),
                        ),
                    ),
                ),
            ),
            Formula(
                "difference",
                "mm",
                (Symbol("outer", "mm", closed(0, 3000)), Symbol("wall", "mm", closed(0, 50))),
                ("subtract", ("symbol", "outer"), ("multiply", ("number", 2.0), ("symbol", "wall"))),
            ),
            Formula(
                "root", "1", (Symbol("x", "1", closed(-100, 100)),), ("call", "sqrt", (("symbol", "x"),))
            ),
        ),
        derived=(
            Derived(
                "lined_bore",
                "difference",
                "mm",
                (
                    Argument("outer", "candidate", "size", "nominal_bore"),
                    Argument("wall", "candidate", "liner", "thickness"),
                ),
                ("size", "liner"),
                closed(0, 3000),
            ),
            Derived(
                "velocity",
                "mean_velocity",
                "m/s",
                (
                    Argument("flow", "input", "flow_max"),
                    Argument("bore", "candidate", "size", "nominal_bore"),
                ),
                ("size",),
                closed(0, 50),
            ),
            Derived(
                "lined_velocity",
                "mean_velocity",
                "m/s",
                (Argument("flow", "input", "flow_max"), Argument("bore", "derived", "lined_bore")),
                ("size", "liner"),
                closed(0, 100),
            ),
            Derived(
                "pipe_velocity",
                "mean_velocity",
                "m/s",
                (
                    Argument("flow", "input", "flow_max"),
                    Argument("bore", "option", "pipe_size", "nominal_bore"),
                ),
                (),
                Interval(0, False, 100, True),
            ),
            Derived(
                "root_of_celsius",
                "root",
                "1",
                (Argument("x", "input", "temperature_max", "", 9, 160, 5),),
                (),
                closed(0, 30),
            ),
        ),
        tables=(),
    )
