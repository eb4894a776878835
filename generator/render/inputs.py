"""Gives back the data sheet as a page: what each input is, who knows it, and what its blank means."""

from __future__ import annotations

from dataclasses import dataclass

from generator.pack.model import MIXED_WITH
from generator.pack.texts import InputText
from generator.problems import Place
from generator.render import addresses, parts, words
from generator.render.library import Library, is_media
from generator.render.page import Heading, Page, SearchEntry
from generator.render.printing import printed


@dataclass(frozen=True, slots=True)
class UnitView:
    spelling: str
    note: str


@dataclass(frozen=True, slots=True)
class OptionView:
    """An answer that may be chosen, and what it means where that is not plain."""

    title: str
    about: str


@dataclass(frozen=True, slots=True)
class InputView:
    """`options` are the answers of a choice; those of a long list of media are links in `media` instead."""

    anchor: str
    id: str
    title: str
    help: str
    facts: tuple[parts.Fact, ...]
    units: tuple[UnitView, ...]
    refused: tuple[parts.Fact, ...]
    options: tuple[OptionView, ...]
    media: parts.Link | None
    tables: tuple[parts.Link, ...]
    place: str


@dataclass(frozen=True, slots=True)
class GroupView:
    anchor: str
    title: str
    inputs: tuple[InputView, ...]


@dataclass(frozen=True, slots=True)
class StateView:
    title: str
    measuring: str
    help: str


@dataclass(frozen=True, slots=True)
class InputsView:
    groups: tuple[GroupView, ...]
    states: tuple[StateView, ...]
    record: parts.Record


def inputs_page(lib: Library) -> Page:
    """The whole data sheet, by the headings of the worksheet."""
    groups: dict[str, list[InputText]] = {}
    for text in lib.texts.inputs:
        groups.setdefault(text.group, []).append(text)
    views = tuple(
        GroupView(f"group-{number}", title, tuple(_input_view(lib, text) for text in found))
        for number, (title, found) in enumerate(groups.items(), start=1)
    )
    measuring = {state.id: state.measuring for state in lib.pack.states}
    states = tuple(
        StateView(text.title, "measures" if measuring[text.id] else "does not measure", text.help)
        for text in lib.texts.states
    )
    first = lib.texts.inputs[0]
    place = Place(first.file, first.line)
    view = InputsView(views, states, parts.record(lib, place))
    search = tuple(
        SearchEntry(item.anchor, item.title, f"{item.help} {item.id}")
        for group in views
        for item in group.inputs
    )
    return Page(
        uri=addresses.uri_of(addresses.INPUTS),
        title="The data sheet",
        section=("Look up",),
        body=printed("inputs.html", view),
        source=place,
        headings=(
            Heading("states", "Operating states"),
            *(Heading(group.anchor, group.title) for group in views),
        ),
        search=(SearchEntry("", "The data sheet", "inputs units ranges blank"), *search),
    )


# private


def _input_view(lib: Library, text: InputText) -> InputView:
    record = lib.inputs[text.id]
    media = is_media(lib, text.id) if record.kind == "choice" else False
    facts = [
        ("Asked of", words.capital(words.spelled(text.asked_of))),
        ("Given", "for every operating state" if record.per_state else "once for the measuring point"),
        ("Range", _range(lib, text) if record.kind == "number" else ""),
        ("A blank means", text.blank),
        ("Not applicable", "may be answered" if record.may_be_absent else ""),
        ("Assumed if blank", _assumed(record.assumed)),
        ("Safety", "never assumed" if text.safety else ""),
    ]
    return InputView(
        anchor=f"input-{text.id}",
        id=text.id,
        title=text.title,
        help=text.help,
        facts=tuple(parts.Fact(name, value) for name, value in facts if value),
        units=tuple(UnitView(spelling, note) for spelling, note in text.units),
        refused=tuple(parts.Fact(refusal.spelling, refusal.ask) for refusal in record.refusals),
        options=() if media else _options(lib, text),
        media=parts.link(addresses.MEDIA, words.counted(len(text.options), "medium", "media"))
        if media
        else None,
        tables=_tables(lib, text.id),
        place=parts.place_text(text.file, text.line),
    )


def _options(lib: Library, text: InputText) -> tuple[OptionView, ...]:
    """The titles of the options; of the kinds of mixture with what they mean and rest on."""
    if text.id != MIXED_WITH:
        return tuple(OptionView(title, "") for _, title in text.options)
    return tuple(OptionView(kind.title, f"{kind.about} ({words.spelled(kind.basis.kind)}{kind.basis.checked and ', '}{kind.basis.checked})")
                 for kind in lib.texts.mixtures)


def _range(lib: Library, text: InputText) -> str:
    record = lib.inputs[text.id]
    return f"{words.number_text(record.low)} to {words.number_text(record.high, text.unit_symbol)}"


def _assumed(assumed: str) -> str:
    if not assumed:
        return ""
    if assumed.startswith("medium."):
        return f"the medium\u2019s {words.spelled(assumed.removeprefix('medium.'))}; marked as assumed"
    return f"{assumed}; marked as assumed"


def _tables(lib: Library, identifier: str) -> tuple[parts.Link, ...]:
    """The tables that read an input, directly or through a computed value."""
    names = {identifier}
    for derived in lib.pack.derived:
        if any(
            argument.name in names and argument.kind in ("input", "derived", "option")
            for argument in derived.arguments
        ):
            names.add(derived.id)
    return tuple(
        parts.link(addresses.table(table.id), lib.table_texts[table.id].title)
        for table in lib.pack.tables
        if any(column.name in names for column in table.columns)
    )
