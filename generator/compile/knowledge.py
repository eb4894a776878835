"""Gives back the pack and its texts from a knowledge base, or every problem of meaning in it."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from datetime import date
from pathlib import Path
from typing import TypeVar

from generator.boxes.words import describe_set
from generator.compile.advice import compile_advice
from generator.compile.chemistry import CONCENTRATION, TEMPERATURE, BandSets, band_sets
from generator.compile.completeness import Finding
from generator.compile.derived import compile_derived, in_order
from generator.compile.formulas import compile_formula
from generator.compile.inputs import Compiled, compile_decision, compile_input
from generator.compile.mixtures import compile_mixtures
from generator.compile.overlay import compile_figures, overlay_text, reordered
from generator.compile.quantities import Vocabulary, vocabulary
from generator.compile.recalled import mark_recalled
from generator.compile.series import compile_series
from generator.compile.tables import compile_table
from generator.compile.waivers import apply_waivers, unwaived
from generator.compile import wording
from generator.pack import model, texts
from generator.pack.model import Pack
from generator.pack.texts import Texts
from generator.problems import Problem, Refused
from generator.read.knowledge_base import WhichOverlay, read_folder
from generator.read.overlay_records import Overlay, OverlayRule
from generator.read.records import KnowledgeBase, Medium

T = TypeVar("T")
R = TypeVar("R")


def load_pack(folder: Path, root: Path | None = None, today: date | None = None,
              overlay: WhichOverlay = None) -> tuple[Pack, Texts]:
    """The pack and texts of a data folder. Raises `Refused` with all problems of reading or of compiling.

    Places name files relative to `root` (without it: to the folder's parent). `today` decides which waivers
    have ended. `overlay`: None for the base alone, the one that guide.yml names ("named"), or a folder.
    """
    base, problems = read_folder(folder, root or folder.resolve().parent, overlay)
    if base is None:
        raise Refused(problems)
    pack, told, problems = compile_knowledge(base, today or date.today())
    if pack is None or told is None:
        raise Refused(problems)
    return pack, told


def load_with_findings(folder: Path, root: Path | None = None, today: date | None = None,
                       overlay: WhichOverlay = None) -> tuple[Pack, Texts, list[Problem]]:
    """As `load_pack`, but where only findings stand (G...) the pack is given as it is when all of them are waived."""
    base, problems = read_folder(folder, root or folder.resolve().parent, overlay)
    if base is None:
        raise Refused(problems)
    pack, told, problems = compile_with_findings(base, today or date.today())
    if pack is None or told is None:
        raise Refused(problems)
    return pack, told, problems


def compile_knowledge(base: KnowledgeBase, today: date) -> tuple[Pack | None, Texts | None, list[Problem]]:
    """Pack and texts, or None for both and all problems by place. A record that fails hides no other."""
    pack, told, problems = compile_with_findings(base, today)
    return (None, None, problems) if problems else (pack, told, [])


def compile_with_findings(base: KnowledgeBase, today: date) -> tuple[Pack | None, Texts | None, list[Problem]]:
    """As `compile_knowledge`, but pack and texts also where only findings stand; the texts tell them as not waived."""
    problems: list[Problem] = []
    words, found = vocabulary(base.quantities)
    problems += found
    columns: dict[str, Compiled] = {}
    inputs = _each(base.inputs, lambda record: compile_input(record, base, words), problems, columns)
    decisions = _each(base.decisions, lambda record: compile_decision(record, base, words), problems, columns)
    order = tuple(decision.id for decision, _ in decisions)
    series = _kept((compile_series(record, words) for record in base.series), problems)
    series_by_id = {one.id: one for _, _, one in series}
    # A formula of a series that failed would only repeat its problem.
    whole = len(series) == len(base.series)
    formulas = _kept((compile_formula(record, words, series_by_id) for record in base.formulas if whole), problems)
    overlay = base.overlay
    figures = _each(overlay.figures if overlay else (), lambda record: compile_figures(record, words, order), problems,
                    columns)
    derived = _each(
        in_order(base.derived), lambda record: compile_derived(record, base, words, columns, order), problems,
        columns)
    bands, media = _media(base, words, columns, problems)
    table_columns = {name: compiled.column for name, compiled in columns.items()}
    # A table that reads a record which failed is left out: the record's own problem is the one to mend.
    ready = [record for record in base.tables if all(name.text in columns for name in record.inputs)]
    tables = sorted(
        _kept((compile_table(record, table_columns, order, base.media, bands, _laid(overlay, record.id.text))
               for record in ready), problems),
        key=lambda one: _reading_order(one.table, order))
    advice = _kept((compile_advice(record, columns) for record in base.cautions
                    if all(cell.column.text in columns for cell in record.when)), problems)
    findings: tuple[Finding, ...] = tuple(finding for table in tables for finding in table.findings)
    standing, waived = apply_waivers(findings, base.waivers, today)
    # A waiver of a table that could not be compiled is neither used nor idle.
    if problems:
        problems += [problem for problem in standing if problem.code not in ("G005", "G006")]
        return None, None, sorted(set(problems))
    decisions = [reordered(overlay, *each) for each in decisions]
    pack = Pack(
        tuple(one for one, _ in inputs),
        tuple(model.State(state.id.text, state.measuring.text == "yes") for state in base.states),
        tuple(one for one, _ in decisions), tuple(one for one, _ in formulas),
        tuple(one for one, _ in derived), tuple(table.table for table in tables),
        series=tuple(one for one, _, _ in series), advice=tuple(one for one, _ in advice),
        figures=tuple(one for one, _ in figures), mixtures=compile_mixtures(base))
    told = Texts(
        wording.edition_text(base.edition), tuple(one for _, one in inputs),
        tuple(map(wording.state_text, base.states)), tuple(one for _, one in decisions), media,
        tuple(map(wording.item_text, base.pipe_sizes)), tuple(map(wording.table_text, base.tables)),
        tuple(rule for table in tables for rule in table.rules), tuple(one for _, one in formulas),
        tuple(one for _, one in derived), tuple(map(wording.source_text, base.sources)),
        tuple(text for _, text in advice), tuple(map(wording.case_text, base.cases)),
        (*waived, *unwaived(findings, waived)),
        tuple(map(wording.witness_text, base.witnesses)), series=tuple(one for _, one, _ in series),
        mixtures=tuple(map(wording.item_text, base.mixtures)),
        overlay=overlay and overlay_text(overlay, tuple(change for table in tables for change in table.changes),
                                         tuple(text for _, text in figures)),
        starters=tuple(map(wording.case_text, base.starters)))
    return mark_recalled(pack, told), told, sorted(set(standing))


# private

def _laid(overlay: Overlay | None, table: str) -> tuple[OverlayRule, ...]:
    """The overlay's rules for one table of the base."""
    return tuple(rule for one in overlay.rules if one.table.text == table for rule in one.rules) if overlay else ()


def _reading_order(table: model.Table, decisions: tuple[str, ...]) -> tuple[int, list[int]]:
    """Tables of one decision first, by decision, then shared ones: a candidate by itself is read first."""
    return len(table.decisions), [decisions.index(name) for name in table.decisions]


def _kept(results: Iterable[T | list[Problem]], problems: list[Problem]) -> list[T]:
    """What was compiled; the problems of what was not are collected."""
    kept: list[T] = []
    for result in results:
        if isinstance(result, list):
            problems += result
        else:
            kept.append(result)
    return kept


def _each(records: Iterable[R], compile_one: Callable[[R], tuple[T, object, Compiled] | list[Problem]],
          problems: list[Problem], columns: dict[str, Compiled]) -> list[tuple[T, object]]:
    """Compiles records one by one, each able to use the columns of those before it."""
    made = []
    for record in records:
        result = compile_one(record)
        if isinstance(result, list):
            problems += result
            continue
        one, text, compiled = result
        columns[compiled.column.domain.name] = compiled
        made.append((one, text))
    return made


def _media(base: KnowledgeBase, words: Vocabulary, columns: dict[str, Compiled],
           problems: list[Problem]) -> tuple[dict[str, dict[str, BandSets]], tuple[texts.MediumText, ...]]:
    """Where each band of each medium holds, by medium and band, and the media in words."""
    conductivity = columns.get("conductivity")
    symbol = conductivity.column.domain.unit if conductivity else "µS/cm"
    if CONCENTRATION not in columns or TEMPERATURE not in columns:
        return {medium.item.id.text: {} for medium in base.media}, ()
    concentration, temperature = columns[CONCENTRATION].column, columns[TEMPERATURE].column
    bands: dict[str, dict[str, BandSets]] = {}
    told = []
    for medium in base.media:
        sets = band_sets(medium, concentration.domain, temperature.domain, problems)
        bands[medium.item.id.text] = sets
        told.append(wording.medium_text(medium, tuple(
            _band_text(medium, band_id, one, columns) for band_id, one in sets.items()), symbol))
    return bands, tuple(told)


def _band_text(medium: Medium, band_id: str, sets: BandSets, columns: dict[str, Compiled]) -> texts.BandText:
    band = next(one for one in medium.bands if one.id.text == band_id)
    notes = {name.text: note.text for name, note in medium.notes}
    own = {name.text: note.text for name, note in band.notes}
    letters = tuple((name.text, letter.text,
                     own.get(name.text) or (notes.get(name.text, "") if letter.text in "CX" else ""))
                    for name, letter in band.letters)
    concentration, temperature = columns[CONCENTRATION].column, columns[TEMPERATURE].column
    return texts.BandText(
        band_id, describe_set(concentration.domain.axis, sets.concentration, concentration.words),
        describe_set(temperature.domain.axis, sets.temperature, temperature.words), letters,
        band.id.place.line)
