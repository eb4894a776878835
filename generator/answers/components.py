"""Gives back what a medium is mixed with: `sodium chloride brine at 5 mass %; hydrogen peroxide at 10 mass %`.

Each component is a medium, and after `at` its concentration; a semicolon parts two of them. A blank and `none`
say that the medium stands by itself. Twin of browser/engine/components.js.
"""

from __future__ import annotations

from dataclasses import dataclass

from generator.answers import faults
from generator.answers.figures import Fault, OtherUnit
from generator.answers.reading import ABSENT, BLANK, read_answer
from generator.answers.wording import shown, squeeze
from generator.evaluate.results import Component
from generator.pack.model import CONCENTRATION, MEDIUM, Pack

NONE = "none"
BETWEEN = ";"                        # parts two components
AT = " at "                          # parts a medium and its concentration
MOST_COMPONENTS = 8                  # beside the medium itself


@dataclass(frozen=True, slots=True)
class UnderstoodMixture:
    """`text` is the mixture in ids and own units; empty `components` where there are none. `unknown` as in `Understood`."""

    text: str
    components: tuple[Component, ...]
    unknown: tuple[str, ...] = ()


def read_components(pack: Pack, text: str, other_unit: OtherUnit | None = None) -> UnderstoodMixture | Fault:
    """The components of a typed mixture, or what is wrong with the first that cannot be read."""
    typed = squeeze(text)
    if typed == "" or typed.lower() == BLANK:
        return UnderstoodMixture(BLANK, ())
    if typed.lower() in (NONE, ABSENT):
        return UnderstoodMixture(NONE, ())
    inputs = {item.id: item for item in pack.inputs}
    texts: list[str] = []
    components: list[Component] = []
    unknown: list[str] = []
    for part in typed.split(BETWEEN):
        medium, at, concentration = _parted(squeeze(part))
        if medium == "":
            return Fault(faults.WRONG_MIXTURE, f"a component of '{shown(typed)}' has no name",
                         f"write the medium before `{AT.strip()}`, and `{BETWEEN}` only between two components")
        liquid = read_answer(inputs[MEDIUM], medium, pack.inputs, other_unit)
        if isinstance(liquid, Fault):
            return liquid
        strength = read_answer(inputs[CONCENTRATION], concentration, pack.inputs, other_unit)
        if isinstance(strength, Fault):
            return strength
        components.append(Component(liquid.answer, strength.answer))
        unknown += liquid.unknown
        texts.append(f"{liquid.text}{AT}{strength.text}" if at else liquid.text)
    if len(components) > MOST_COMPONENTS:
        return Fault(faults.WRONG_MIXTURE, f"'{shown(typed)}' names {len(components)} components",
                     f"name the {MOST_COMPONENTS} that matter most; what a test has shown of the whole counts more")
    return UnderstoodMixture(f"{BETWEEN} ".join(texts), tuple(components), tuple(unknown))


# private

def _parted(part: str) -> tuple[str, str, str]:
    """The medium, whether a concentration follows, and the concentration."""
    medium, at, concentration = part.rpartition(AT)
    return (squeeze(medium), at, concentration) if at else (part, "", "")
