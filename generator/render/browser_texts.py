"""Gives back the texts that the worksheet and the calculators show, as a JSON document: `Texts`, trimmed.

Keys are the field names of `pack.texts`. Left out is what only pages show: places, paragraphs, bands. A rule
has one key more, `link`: the address on the site at which it stands; its `basis` is a place in `bases`, since thousands
of rules share a few.
"""

from __future__ import annotations

import json
from dataclasses import asdict

from generator.pack.texts import BasisText, FormulaText, InputText, ItemText
from generator.render.library import Library, rule_address
from generator.render.record_document import rules_mark


def texts_document(lib: Library) -> str:
    """The document as text, the same bytes for the same data."""
    texts = lib.texts
    edition = texts.edition
    bases: dict[BasisText, int] = {}
    document = {
        "edition": {
            "company": edition.company,
            "title": edition.title,
            "edition": edition.edition,
            "notice": edition.notice,
            "overlay": texts.overlay.title if texts.overlay else "",
            "rules": rules_mark(lib.pack),
        },
        "inputs": [_input(record) for record in texts.inputs],
        "states": [asdict(record) for record in texts.states],
        "decisions": [
            {
                "id": record.id,
                "title": record.title,
                "question": record.question,
                "items": [_item(item) for item in record.items],
            }
            for record in texts.decisions
        ],
        "media": [{"item": _item(record.item)} for record in texts.media],
        "pipe_sizes": [_item(record) for record in texts.pipe_sizes],
        "tables": [{"id": record.id, "title": record.title} for record in texts.tables],
        "rules": [
            {
                "rule": record.rule,
                "table": record.table,
                "because": record.because,
                "basis": bases.setdefault(record.basis, len(bases)),
                "link": rule_address(lib, record.rule),
            }
            for record in texts.rules
        ],
        "formulas": [_formula(record) for record in texts.formulas],
        "derived": [
            {
                "id": record.id,
                "title": record.title,
                "formula": record.formula,
                "unit_symbol": record.unit_symbol,
            }
            for record in texts.derived
        ],
        "sources": [{"id": record.id, "title": record.title} for record in texts.sources],
        "cautions": [{"id": record.id, "text": record.text, "kind": record.kind}
                     for record in texts.cautions],
        "cases": [
            {"id": record.id, "title": record.title, "story": record.story, "application": record.application,
             "concessions": [dict(one) for one in record.concessions]}
            for record in texts.cases
        ],
    }
    document["starters"] = [
        {"id": record.id, "title": record.title, "story": record.story, "application": record.application,
         "concessions": []}
        for record in texts.starters
    ]
    document["bases"] = [_basis(basis) for basis in bases]
    return json.dumps(document, ensure_ascii=False, separators=(",", ":")) + "\n"


# private


def _input(record: InputText) -> dict[str, object]:
    kept = asdict(record)
    del kept["file"], kept["line"]
    return kept


def _item(record: ItemText) -> dict[str, object]:
    return {"id": record.id, "title": record.title, "synonyms": record.synonyms}


def _basis(basis: BasisText) -> dict[str, str]:
    """Empty fields are left out."""
    return {name: value for name, value in asdict(basis).items() if value or name == "kind"}


def _formula(record: FormulaText) -> dict[str, object]:
    return {
        "id": record.id,
        "title": record.title,
        "letter": record.letter,
        "unit_symbol": record.unit_symbol,
        "trap": record.trap,
        "validity": record.validity,
        "symbols": [asdict(symbol) for symbol in record.symbols],
        "examples": [{"given": example.given, "result": example.result} for example in record.examples],
    }
