"""Gives back the sentences of the small pack: two media with bands, sources, a caution, a reference case."""

from __future__ import annotations

from generator.pack.texts import (
    BandText,
    BasisText,
    CaseText,
    CautionText,
    ConstantText,
    DecisionText,
    DerivedText,
    EditionText,
    ExampleText,
    ExpectedText,
    FormulaText,
    InputText,
    ItemText,
    MediumText,
    RuleText,
    SourceText,
    StateText,
    SymbolText,
    TableText,
    Texts,
)

PRACTICE = BasisText("common_practice")
HANDBOOK = BasisText(
    "handbook", checked="recalled", source="corrosion_handbook", clause="chapter on seawater"
)


def small_texts(repository: str = "") -> Texts:
    """The sentences of the small pack."""
    return Texts(
        edition=EditionText(
            "Ninefold Process Works", "Sensor guide", "edition one", "An invented company.", repository
        ),
        inputs=(
            InputText(
                "medium",
                "Medium",
                "Process",
                "What flows.",
                "Chemistry stays open.",
                "process",
                "",
                True,
                (("seawater", "Seawater"), ("nitric_acid", "Nitric acid"), ("unlisted", "Not listed here")),
                (),
                "data/inputs.yml",
                1,
            ),
            InputText(
                "temperature_max",
                "Highest temperature",
                "Process",
                "In this state.",
                "Liners stay open.",
                "process",
                "°C",
                True,
                (),
                (("degC", ""), ("degF", "")),
                "data/inputs.yml",
                9,
            ),
            InputText(
                "concentration",
                "Concentration",
                "Process",
                "By mass.",
                "Chemistry stays open.",
                "laboratory",
                "mass %",
                True,
                (),
                (("mass %", ""),),
                "data/inputs.yml",
                19,
            ),
            InputText(
                "flow_normal",
                "Normal flow",
                "Process",
                "Most of the time.",
                "Sizes stay open.",
                "process",
                "m³/h",
                False,
                (),
                (("m3/h", ""), ("gpm", "US gallons")),
                "data/inputs.yml",
                29,
            ),
        ),
        states=(
            StateText("normal", "Normal operation", "It measures."),
            StateText("cleaning", "Cleaning", "Hot."),
        ),
        decisions=(
            DecisionText(
                "size",
                "Size",
                "Which size?",
                "The bore.",
                (
                    _item("dn50", "DN 50", "size", (("nominal_bore", "50 mm"),)),
                    _item("dn100", "DN 100", "size", (("nominal_bore", "100 mm"),)),
                ),
            ),
            DecisionText(
                "liner",
                "Liner",
                "Which liner?",
                "The tube's inner skin.",
                (
                    _item("pfa", "PFA", "liner"),
                    _item("polyurethane", "Polyurethane", "liner"),
                    _item("soft_rubber", "Soft rubber <natural>", "liner"),
                ),
            ),
        ),
        media=(
            _medium("seawater", "Seawater", ("depositing_insulating",)),
            _medium("nitric_acid", "Nitric acid", ()),
            MediumText(_item("unlisted", "Not listed here", "media"), "", "", "", (), "", ()),
        ),
        pipe_sizes=(),
        tables=(
            TableText(
                "liner_temperature",
                "Liner against temperature",
                "Heat ends a liner.",
                True,
                "data/tables/liner_temperature.yml",
                1,
            ),
            TableText(
                "liner_chemistry",
                "Liner against the medium",
                "Letters.",
                True,
                "data/tables/liner_chemistry.yml",
                1,
            ),
            TableText(
                "size_velocity",
                "Size against velocity",
                "A window.",
                False,
                "data/tables/size_velocity.yml",
                1,
            ),
        ),
        rules=_rules(),
        formulas=(_formula(),),
        derived=(
            DerivedText(
                "velocity_normal", "Velocity at normal flow", "mean_velocity", "m/s", "data/derived.yml", 1
            ),
        ),
        sources=(
            SourceText(
                "corrosion_handbook",
                "A corrosion handbook",
                "handbook",
                "third edition",
                "recalled",
                "Tables of attack.",
                "data/sources.yml",
                1,
            ),
        ),
        cautions=(CautionText("drain", "Depressurise and drain before opening.", PRACTICE),),
        cases=(
            CaseText(
                "warm_water",
                "Warm water",
                "A line at sixty degrees.",
                (("normal", (("medium", "seawater"), ("temperature_max", "60 degC"))), ("cleaning", None)),
                (
                    ExpectedText(
                        "liner",
                        "polyurethane",
                        "unsuitable",
                        "liner_temperature.polyurethane_hot",
                        "Too hot.",
                    ),
                ),
                "data/cases/warm_water.yml",
                1,
            ),
        ),
    )


# private


def _item(identifier: str, title: str, folder: str, facts: tuple[tuple[str, str], ...] = ()) -> ItemText:
    return ItemText(
        identifier,
        title,
        f"About {identifier}.",
        PRACTICE,
        (),
        (f"{identifier} so called",),
        facts,
        f"data/catalogues/{folder}/{identifier}.yml",
        1,
    )


def _medium(identifier: str, title: str, flags: tuple[str, ...]) -> MediumText:
    item = ItemText(identifier, title, "", HANDBOOK, flags, ("brine",), (), f"data/media/{identifier}.yml", 1)
    bands = tuple(
        BandText(
            band,
            "",
            temperature,
            (("pfa", "A", ""), ("polyurethane", "X", "Hydrolysis."), ("soft_rubber", "C", "Slow ageing.")),
            5,
        )
        for band, temperature in (("b1", "up to 40 °C"), ("b2", "above 40 up to 90 °C"))
    )
    return MediumText(
        item, "about three per cent salts", "7732-18-5", "30000 to 60000 µS/cm", (), "clean", bands
    )


def _rules() -> tuple[RuleText, ...]:
    def author(table: str, name: str, because: str, origin: str = "author") -> RuleText:
        return RuleText(f"{table}.{name}", table, origin, because, PRACTICE, f"data/tables/{table}.yml", 12)

    letters = tuple(
        RuleText(
            f"liner_chemistry.{medium}.{band}.{liner}",
            "liner_chemistry",
            "letter",
            "The letter of the medium's record.",
            HANDBOOK,
            f"data/media/{medium}.yml",
            5,
        )
        for medium in ("seawater", "nitric_acid")
        for band in ("b1", "b2")
        for liner in ("pfa", "polyurethane", "soft_rubber")
    )
    return (
        author("liner_temperature", "polyurethane_within", "It keeps its strength."),
        author("liner_temperature", "polyurethane_hot", "Hot water hydrolyses polyurethane."),
        author("liner_temperature", "pfa", "Far from its limit."),
        author("liner_temperature", "otherwise", "No figure; ask the supplier.", "otherwise"),
        *letters,
        author("liner_chemistry", "otherwise", "Outside what is known.", "otherwise"),
        author("size_velocity", "too_fast", "Wear & noise."),
        author("size_velocity", "beside_window", "Outside the preferred window."),
        author("size_velocity", "no_value", "There is no velocity.", "no_value"),
    )


def _formula() -> FormulaText:
    square = ("multiply", ("symbol", "bore"), ("symbol", "bore"))
    printed = (
        "divide",
        ("multiply", ("number", 4.0), ("symbol", "flow")),
        ("multiply", ("call", "pi", ()), square),
    )
    return FormulaText(
        "mean_velocity",
        "Mean velocity",
        "How fast it runs.",
        "v",
        "m/s",
        "4 * flow / (pi() * bore * bore)",
        printed,
        (SymbolText("flow", "Volume flow", "Q", "m3/h", "m³/h"), SymbolText("bore", "Bore", "D", "mm", "mm")),
        (ConstantText("reference", "Reference", "T_r", "25 °C", PRACTICE),),
        "A full pipe.",
        "Exact.",
        "The pipe's bore in place of the liner's.",
        BasisText("physics"),
        (
            ExampleText(
                (("flow", "36 m3/h"), ("bore", "100 mm")), "1.27324 m/s", "1e-5", "by hand", "0.01 / 0.007854"
            ),
        ),
        "data/formulas/mean_velocity.yml",
        1,
    )
