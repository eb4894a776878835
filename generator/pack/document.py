"""Gives back a pack or its texts as a JSON document, a pack from its document, and a pack's JSON Schema.

The only place that knows the form: keys are the names of the dataclasses' fields, every field is written,
collections are lists of records (JavaScript would reorder the keys of maps), nodes of expressions are lists.
Equal packs give equal bytes.
"""

from __future__ import annotations

import json
import types
import typing
from collections.abc import Mapping
from dataclasses import fields, is_dataclass

from generator.pack.model import ChoiceCell, Expression, NumberCell, Pack
from generator.pack.texts import Texts

FORMAT = 1


def to_document(pack: Pack, edition: str) -> dict[str, object]:
    """The pack as plain lists and dicts; `edition` names the state of data/ that it was made from."""
    return {"format": FORMAT, "edition": edition, **_record(pack)}


def from_document(document: Mapping[str, object]) -> Pack:
    """The pack of a document. Raises ValueError when it has another form."""
    if document.get("format") != FORMAT:
        raise ValueError(f"this is no pack of format {FORMAT}")
    fields_of_pack = {key: value for key, value in document.items() if key not in ("format", "edition")}
    return typing.cast(Pack, _read(Pack, fields_of_pack, "pack"))


def texts_to_document(told: Texts, edition: str) -> dict[str, object]:
    """The texts as plain lists and dicts; `version` names the state of data/ that they were made from."""
    return {"format": FORMAT, "version": edition, **_record(told)}


def write_pack(pack: Pack, edition: str) -> str:
    """The pack as JSON on one line: the same text for the same pack."""
    return _as_text(to_document(pack, edition))


def read_pack(text: str) -> Pack:
    """The pack that `write_pack` wrote. Raises ValueError when the text is something else."""
    document = json.loads(text)
    if not isinstance(document, dict):
        raise ValueError(f"this is no pack of format {FORMAT}")
    return from_document(document)


def write_texts(told: Texts, edition: str) -> str:
    """The texts as JSON on one line: the same text for the same texts."""
    return _as_text(texts_to_document(told, edition))


def json_schema() -> dict[str, object]:
    """The JSON Schema (2020-12) of a pack's document."""
    definitions: dict[str, object] = {"Expression": _EXPRESSION}
    top = _schema_of_record(Pack, definitions)
    properties = {"format": {"const": FORMAT}, "edition": {"type": "string"},
                  **typing.cast(dict[str, object], top["properties"])}
    return {"$schema": "https://json-schema.org/draft/2020-12/schema", "title": "Pack of a selection guide",
            "description": "Compiled rules, all that an engine reads. A unique table is complete and disjoint.",
            **top, "properties": properties, "required": list(properties),
            "$defs": dict(sorted(definitions.items()))}


# private

# A node names itself first; what follows depends on the name, and nodes stand inside nodes.
_EXPRESSION = {
    "description": "A node: its name, then its parts.", "type": "array", "minItems": 2,
    "prefixItems": [{"enum": ["number", "symbol", "negate", "add", "subtract", "multiply", "divide", "power",
                              "call", "if", "interpolate"]}]}


def _as_text(document: Mapping[str, object]) -> str:
    return json.dumps(document, ensure_ascii=False, separators=(",", ":"), allow_nan=False) + "\n"


def _record(record: typing.Any) -> dict[str, object]:
    return {field.name: _plain(getattr(record, field.name)) for field in fields(record)}


def _plain(value: object) -> object:
    if is_dataclass(value) and not isinstance(value, type):
        return _record(value)
    return [_plain(item) for item in value] if isinstance(value, tuple) else value


def _read(wanted: object, value: object, where: str) -> object:
    if wanted is Expression:
        return _node(value)
    if wanted == NumberCell | ChoiceCell:
        return _read(
            ChoiceCell if isinstance(value, Mapping) and "ids" in value else NumberCell, value, where)
    if isinstance(wanted, type) and is_dataclass(wanted):
        return _read_record(wanted, value, where)
    if typing.get_origin(wanted) is tuple:
        return _read_tuple(typing.get_args(wanted), value, where)
    if wanted is float and isinstance(value, int) and not isinstance(value, bool):
        return float(value)
    if type(value) is not wanted:                          # not isinstance: True is no number here
        raise ValueError(f"{where} is not {getattr(wanted, '__name__', wanted)}")
    return value


def _read_record(wanted: type, value: object, where: str) -> object:
    hints = typing.get_type_hints(wanted)
    if not isinstance(value, Mapping) or set(value) != set(hints):
        raise ValueError(f"{where} has not exactly the fields {', '.join(hints)}")
    return wanted(**{name: _read(hint, value[name], f"{where}.{name}") for name, hint in hints.items()})


def _read_tuple(members: tuple[object, ...], value: object, where: str) -> tuple[object, ...]:
    if not isinstance(value, list):
        raise ValueError(f"{where} is not a list")
    if members[-1] is ...:
        return tuple(_read(members[0], item, f"{where}[{place}]") for place, item in enumerate(value))
    if len(members) != len(value):
        raise ValueError(f"{where} has not {len(members)} members")
    return tuple(_read(member, item, where) for member, item in zip(members, value, strict=True))


def _node(value: object) -> object:
    return tuple(_node(item) for item in value) if isinstance(value, list) else value


def _schema_of(wanted: object, definitions: dict[str, object]) -> dict[str, object]:
    if wanted is Expression:
        return {"$ref": "#/$defs/Expression"}
    if isinstance(wanted, types.UnionType):
        return {"anyOf": [_schema_of(one, definitions) for one in typing.get_args(wanted)]}
    if isinstance(wanted, type) and is_dataclass(wanted):
        if wanted.__name__ not in definitions:
            definitions[wanted.__name__] = {}              # keeps its place while its members are described
            definitions[wanted.__name__] = _schema_of_record(wanted, definitions)
        return {"$ref": f"#/$defs/{wanted.__name__}"}
    if typing.get_origin(wanted) is tuple:
        members = typing.get_args(wanted)
        if members[-1] is ...:
            return {"type": "array", "items": _schema_of(members[0], definitions)}
        return {"type": "array", "prefixItems": [_schema_of(member, definitions) for member in members],
                "minItems": len(members), "maxItems": len(members)}
    names: dict[object, str] = {str: "string", bool: "boolean", int: "integer", float: "number"}
    return {"type": names[wanted]}


def _schema_of_record(wanted: type, definitions: dict[str, object]) -> dict[str, object]:
    hints = typing.get_type_hints(wanted)
    return {"type": "object", "additionalProperties": False, "required": list(hints),
            "properties": {name: _schema_of(hint, definitions) for name, hint in hints.items()}}
