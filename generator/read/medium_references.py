"""Gives back faults of media: letters that are missing or for unknown materials, bands given twice.

A material that no medium judges is taken as new: the chemistry tables say of it what `otherwise` says.
"""

from __future__ import annotations

from generator.problems import Problem
from generator.read.known import Known
from generator.read.records import KnowledgeBase, Medium, Word
from generator.read.shown import shown

LETTERED = ("liner", "electrode_material", "gasket")    # the decisions whose candidates every band gives a letter
SERVICE = "service"                             # the input that a medium's usual service answers
_KINDS = ("candidates",)


def check(base: KnowledgeBase, known: Known) -> list[Problem]:
    """All media with their bands."""
    materials = {item.id.text: decision for decision in LETTERED
                 for item in known.candidates.get(decision, ())}
    judged = {word.text for medium in base.media for band in medium.bands for word, _ in band.letters}
    expected = [material for material in materials if material in judged]
    return [problem for medium in base.media for problem in _medium(medium, materials, expected, known)]


# private

def _medium(medium: Medium, materials: dict[str, str], expected: list[str], known: Known) -> list[Problem]:
    problems: list[Problem] = []
    options = known.options(SERVICE)
    for _, service in medium.item.words:
        problems += known.unknown(service, options.ids if options else (), f"choice of input '{SERVICE}'",
                                  ("inputs",))
    for word in (word for notes in (medium.notes, *(band.notes for band in medium.bands)) for word,
                 _ in notes):
        problems += known.unknown(word, materials, "liner, electrode material or gasket", _KINDS)
    problems += [problem for band in medium.bands for word, _ in band.letters
                 for problem in known.unknown(word, materials, "liner, electrode material or gasket", _KINDS)]
    if not known.incomplete.intersection(("media", *_KINDS)):
        problems += _missing_letters(medium, expected)
    return [*problems, *_bands_twice(medium)]


def _missing_letters(medium: Medium, expected: list[str]) -> list[Problem]:
    """One line for the medium, at its first band without a letter for a material that some medium judges."""
    missing = {band.id: [material for material in expected
                         if all(word.text != material for word, _ in band.letters)] for band in medium.bands}
    short = [band for band, materials in missing.items() if materials]
    if not short:
        return []
    materials = [one for one in expected if any(one in lacking for lacking in missing.values())]
    where = (f"{len(short)} of its {len(medium.bands)} bands, first in '{short[0]}'" if len(short) > 1
             else f"band '{short[0]}'")
    return [Problem(short[0].place, "X021",
                    f"'{medium.item.id}' has no letter for {', '.join(materials)} in {where}",
                    "add A, C, X or O for each; O where nobody knows")]


def _bands_twice(medium: Medium) -> list[Problem]:
    """Bands of one concentration need different temperatures, or the compiler could not tell them apart."""
    first: dict[tuple[str, float], Word] = {}
    problems: list[Problem] = []
    for band in medium.bands:
        seen = first.setdefault((band.concentration.text, float(band.up_to.text)), band.id)
        if seen is not band.id:
            problems.append(Problem(band.up_to.place, "X022",
                                    f"band '{band.id}' of '{medium.item.id}' has the concentration "
                                    f"{shown(band.concentration.text)} and temperature of band '{seen}'",
                                    "change one of the two, or delete it"))
    return problems
