"""Gives back the rules that the media's letters make for one decision: one per medium, band and candidate.

A band holds from just above the next lower temperature of the same concentration up to and including its own;
the lowest has no lower end. A letter's reason is the band's own note, else for C and X the medium's note.
"""

from __future__ import annotations

from dataclasses import dataclass

from generator.boxes.sets import Box, ChoiceAxis, Choices, NumberAxis, Numbers, Span, whole
from generator.compile.cells import ColumnDomain, Unreadable, number_set
from generator.compile.completeness import Ruled
from generator.compile.wording import basis_text, in_sentence
from generator.pack.model import VERDICTS
from generator.pack.texts import RuleText
from generator.problems import Problem
from generator.read.records import Band, Medium, Word

VERDICT_OF = {"A": "suitable", "C": "caution", "X": "unsuitable", "O": "open"}
MEDIUM, CONCENTRATION, TEMPERATURE = "medium", "concentration", "temperature_max"


@dataclass(frozen=True, slots=True)
class BandSets:
    """Where a band holds."""

    concentration: Numbers
    temperature: Numbers


def band_sets(medium: Medium, concentration: ColumnDomain, temperature: ColumnDomain,
              problems: list[Problem]) -> dict[str, BandSets]:
    """The sets of each band by id; a band that cannot be read is left out and reported."""
    axis = temperature.axis
    assert isinstance(axis, NumberAxis)
    lowest: dict[str, float] = {}
    found: dict[str, BandSets] = {}
    for band in sorted(medium.bands, key=lambda one: float(one.up_to.text)):
        try:
            picked = number_set(band.concentration, concentration)
        except Unreadable as fault:
            problems.append(fault.problem)
            continue
        group, end = _same(band), float(band.up_to.text)
        if not axis.low <= end <= axis.high:
            problems.append(Problem(
                band.up_to.place, "C002", f"band '{band.id}' of '{medium.item.id}' ends at {band.up_to}, "
                "which no answer can reach", f"stay within {axis.low:g} to {axis.high:g} {temperature.unit}"))
            continue
        start, included = (lowest[group], False) if group in lowest else (axis.low, True)
        lowest[group] = end
        found[band.id.text] = BandSets(picked, Numbers((Span(start, included, end, True),)))
    return found


def letter_rules(table: str, names: tuple[str, ...], domains: tuple[ColumnDomain, ...], decision: str,
                 media: tuple[Medium, ...], titles: dict[str, str],
                 bands: dict[str, dict[str, BandSets]]) -> tuple[tuple[Ruled, ...], tuple[RuleText, ...]]:
    """The rows of one table and their texts; `names` and `domains` of its columns, `titles` of candidates."""
    everything = {name: whole(domain.axis) for name, domain in zip(names, domains, strict=True)}
    axis = domains[names.index(decision)].axis
    assert isinstance(axis, ChoiceAxis)
    rows: list[Ruled] = []
    told: list[RuleText] = []
    for medium in media:
        basis = basis_text(medium.item.basis) if medium.item.basis else None
        for band in medium.bands:
            sets = bands[medium.item.id.text].get(band.id.text)
            letters = {name.text: letter for name, letter in band.letters}
            if sets is None or basis is None:
                continue
            for candidate in axis.ids:
                if candidate not in letters:
                    continue
                letter = letters[candidate]
                picked = {
                    **everything, MEDIUM: Choices((medium.item.id.text,)), CONCENTRATION: sets.concentration,
                    TEMPERATURE: sets.temperature, decision: Choices((candidate,))}
                box: Box = tuple(picked[name] for name in names)
                rule = f"{table}.{medium.item.id}.{band.id}.{candidate}"
                rows.append(Ruled(rule, VERDICTS.index(VERDICT_OF[letter.text]), box, letter.place))
                told.append(RuleText(
                    rule, table, "letter", _because(medium, band, candidate, letter, titles[candidate]),
                    basis, letter.place.file, letter.place.line))
    return tuple(rows), tuple(told)


# private

def _same(band: Band) -> str:
    """Bands of one concentration share this text."""
    return "".join(band.concentration.text.split())


def _because(medium: Medium, band: Band, candidate: str, letter: Word, title: str) -> str:
    own = next((note.text for name, note in band.notes if name.text == candidate), None)
    if own is not None:
        return own
    general = next((note.text for name, note in medium.notes if name.text == candidate), None)
    if general is not None and letter.text in "CX":
        return general
    name = medium.item.title.text
    sentences = {"A": f"{title} is not attacked by {in_sentence(name)} in this band.",
                 "C": f"{title} stands {in_sentence(name)} in this band only with care.",
                 "X": f"{title} does not stand {in_sentence(name)} in this band.",
                 "O": f"{title} in {in_sentence(name)} has no letter here without a test or supplier data."}
    return sentences[letter.text]
