"""Gives back faults of media: letters that are missing or for unknown materials, bands given twice."""

from __future__ import annotations

from generator.problems import Problem
from generator.read.known import Known
from generator.read.records import Band, KnowledgeBase, Medium, Word
from generator.read.shown import shown

LETTERED = ("liner", "electrode_material")      # the decisions whose candidates every band gives a letter
SERVICE = "service"                             # the input that a medium's usual service answers
_KINDS = ("candidates",)


def check(base: KnowledgeBase, known: Known) -> list[Problem]:
    """All media with their bands."""
    materials = {item.id.text: decision for decision in LETTERED
                 for item in known.candidates.get(decision, ())}
    return [problem for medium in base.media for problem in _medium(medium, materials, known)]


# private

def _medium(medium: Medium, materials: dict[str, str], known: Known) -> list[Problem]:
    problems: list[Problem] = []
    options = known.options(SERVICE)
    for _, service in medium.item.words:
        problems += known.unknown(service, options.ids if options else (), f"choice of input '{SERVICE}'",
                                  ("inputs",))
    for word in (word for notes in (medium.notes, *(band.notes for band in medium.bands)) for word,
                 _ in notes):
        problems += known.unknown(word, materials, "liner or electrode material", _KINDS)
    for band in medium.bands:
        problems += _letters(medium, band, materials, known)
    return [*problems, *_bands_twice(medium)]


def _letters(medium: Medium, band: Band, materials: dict[str, str], known: Known) -> list[Problem]:
    named = {word.text for word, _ in band.letters}
    problems = [problem for word, _ in band.letters
                for problem in known.unknown(word, materials, "liner or electrode material", _KINDS)]
    missing = [material for material in materials if material not in named]
    if missing and not known.incomplete.intersection(("media", *_KINDS)):
        problems.append(Problem(band.id.place, "X021",
                                f"band '{band.id}' of '{medium.item.id}' has no letter for "
                                f"{', '.join(missing)}", "add A, C, X or O for each; O where nobody knows"))
    return problems


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
