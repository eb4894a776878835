"""Gives back the words of records for pages: the texts that travel beside a pack."""

from __future__ import annotations

from collections.abc import Mapping

from generator.pack import texts
from generator.pack.model import MIXED_WITH
from generator.read.expected import Case, ExpectedTogether, Witness
from generator.read.records import Basis, Edition, Item, Medium, Source, State, Table, Word
from generator.read.yaml_nodes import Mapping as NodeMapping, Node, Sequence


def basis_text(basis: Basis) -> texts.BasisText:
    """A basis as plain words."""
    return texts.BasisText(
        basis.kind.text, _or_empty(basis.checked), _or_empty(basis.source), _or_empty(basis.clause),
        _or_empty(basis.note))


def edition_text(edition: Edition) -> texts.EditionText:
    """Who publishes the guide."""
    return texts.EditionText(
        edition.company.text, edition.title.text, edition.edition.text, edition.notice.text,
        _or_empty(edition.repository))


def state_text(state: State) -> texts.StateText:
    """An operating state."""
    return texts.StateText(state.id.text, state.title.text, state.help.text)


def item_text(item: Item) -> texts.ItemText:
    """A candidate, a pipe size or the first part of a medium."""
    facts = (*((name.text, value.text) for name, value in item.numbers),
             *((name.text, value.text) for name, value in item.words))
    return texts.ItemText(
        item.id.text, item.title.text, _or_empty(item.about), basis_text(item.basis) if item.basis else None,
        tuple(flag.text for flag in item.flags), tuple(word.text for word in item.synonyms), facts,
        item.place.file, item.place.line)


def medium_text(
        medium: Medium, bands: tuple[texts.BandText, ...], conductivity_symbol: str) -> texts.MediumText:
    """A medium with its bands in words."""
    ends = [word.text for word in medium.conductivity]
    conductivity = f"{ends[0]} to {ends[1]} {conductivity_symbol}" if len(ends) == 2 else ""
    words: Mapping[str, str] = {name.text: value.text for name, value in medium.item.words}
    return texts.MediumText(
        item_text(medium.item), medium.composition.text, _or_empty(medium.cas), conductivity,
        tuple(word.text for word in medium.permeants), words.get("usual_service", ""), bands)


def table_text(table: Table) -> texts.TableText:
    """A rule table."""
    return texts.TableText(
        table.id.text, table.title.text, table.about.text, table.safety is not None
        and table.safety.text == "yes", table.place.file, table.place.line)


def source_text(source: Source) -> texts.SourceText:
    """A source."""
    return texts.SourceText(source.id.text, source.title.text, source.kind.text, source.edition.text,
                            source.checked.text, source.about.text, source.place.file, source.place.line)


def case_text(case: Case) -> texts.CaseText:
    """A reference case, its answers as a person would type them."""
    states: tuple[tuple[Word, Node], ...] = case.application  # type: ignore[assignment]
    application = tuple((state.text, _answers(node)) for state, node in states if state.text != _CONCESSIONS)
    conceded = [item for state, node in states if state.text == _CONCESSIONS and isinstance(node, Sequence)
                for item in node.items]
    expect = tuple(texts.ExpectedText(one.decision.text, one.candidate.text, one.verdict.text,
                                      _or_empty(one.rule), _or_empty(one.because), _at(one.verdict)) for one in case.expect)
    return texts.CaseText(
        case.id.text, case.title.text, case.story.text, application, expect, case.place.file, case.place.line,
        tuple((decision.text, candidate.text) for decision, candidate in case.selection),
        tuple(_answers(item) or () for item in conceded),
        tuple(map(_together, case.together)), tuple(_at(candidate) for _, candidate in case.selection))


def witness_text(witness: Witness) -> texts.WitnessText:
    """A witness, judged or still to be judged."""
    application = tuple((state.text, _answers(node)) for state, node in witness.application)  # type: ignore[arg-type]
    judge = tuple(texts.ExpectedText(one.decision.text, one.candidate.text, one.verdict.text, _or_empty(one.rule),
                                     _or_empty(one.because), _at(one.verdict)) for one in witness.judge)
    return texts.WitnessText(witness.id.text, witness.title.text, application, judge, witness.approver.text,
                             witness.place.file, witness.place.line, tuple(map(_together, witness.together)))


def in_sentence(title: str) -> str:
    """A title inside a sentence: "Highest temperature" becomes "highest temperature"; names and "DN" stay."""
    if title.startswith(_NAMES) or not title[1:2].islower():
        return title
    return title[:1].lower() + title[1:]


# private

_CONCESSIONS = "concessions"         # beside the states of an application
_NAMES = ("Reynolds", "Mohs", "Bayer", "Ohm")       # persons, after whom a quantity is called


def _together(one: ExpectedTogether) -> texts.TogetherText:
    return texts.TogetherText(tuple((decision.text, candidate.text) for decision, candidate in one.keep),
                              one.verdict.text, _or_empty(one.rule), _or_empty(one.because), _at(one.verdict))


def _at(word: Word) -> tuple[int, int]:
    return word.place.line, word.place.column


def _or_empty(word: Word | None) -> str:
    return word.text if word is not None else ""


def _answers(node: Node) -> tuple[tuple[str, str], ...] | None:
    """The (input, answer) pairs of a state; None for a state that is ruled out."""
    if not isinstance(node, NodeMapping):
        return None
    return tuple((key.text, "; ".join(map(_answer, value.items)) if key.text == MIXED_WITH and isinstance(value, Sequence)
                  else _answer(value)) for key, value in node.entries)


def _answer(node: Node) -> str:
    """`{between: [60 degC, 80 degC]}` and `{one_of: [pfa, ptfe]}` in the words of the worksheet."""
    if isinstance(node, Word):
        return node.text
    if isinstance(node, Sequence):
        return " or ".join(map(_answer, node.items))
    key, value = node.entries[0] if node.entries else (None, None)
    if key is not None and key.text == "between" and isinstance(value, Sequence) and len(value.items) == 2:
        low, high = (_answer(item) for item in value.items)
        figure, _, unit = low.partition(" ")
        return f"{figure} to {high}" if unit and high.endswith(f" {unit}") else f"{low} to {high}"
    return _answer(value) if value is not None else ""
