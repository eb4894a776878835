"""Gives back selection records: writes one for an answer, and reads one as the application it was made of."""

from __future__ import annotations

import json
from collections.abc import Mapping
from pathlib import Path

from markupsafe import Markup

from generator.answers.application import ReadApplication, read_application
from generator.answers.figures import OtherUnit
from generator.commands.application_file import read_application_file, read_application_nodes
from generator.commands.at_hand import CannotRun
from generator.evaluate.results import Application
from generator.pack.model import Pack
from generator.pack.texts import Texts
from generator.problems import Place, Problem
from generator.publish.assets import record_style
from generator.read.yaml_nodes import Mapping as MappingNode
from generator.read.yaml_nodes import compose
from generator.render.record import record_page
from generator.render.record_document import RECORD, write_record
from generator.render.requisition import requisition_page, requisition_view, requisition_yaml

ENDINGS = (".html", ".json")
NOT_A_RECORD = "A032"                # a record of another form than `--record` writes
_WRITTEN = {"record": "written as a page or as JSON", "requisition": "written as a page or as YAML"}
_NEEDED = ("made", "edition", "rules", "application", "answer")


def check_target(target: Path, files: list[Path], what: str = "record", endings: tuple[str, ...] = ENDINGS) -> None:
    """Nothing. Raises CannotRun where a record, a requisition or a comparison cannot be made as asked."""
    problems = []
    if target.suffix not in endings:
        problems.append(Problem(Place(target.as_posix()), "Y017",
                                f"a {what} is {'read from YAML' if what == 'comparison' else _WRITTEN[what]}",
                                f"end the file's name with {' or '.join(endings)}"))
    if len(files) != 1:
        problems.append(Problem(Place(target.as_posix()), "Y017", f"a {what} is of one application, not of {len(files)}",
                                "give one file"))
    if problems:
        raise CannotRun(problems)


def put_record(target: Path, texts: Texts, record: dict) -> None:
    """Writes the record as its file's name asks."""
    text = write_record(record) if target.suffix == ".json" else record_page(texts, record, record_style())
    target.write_text(text, "utf-8")


def put_requisition(target: Path, pack: Pack, texts: Texts, application: Application, record: dict) -> None:
    """Writes the requisition as its file's name asks."""
    text = requisition_yaml(pack, texts, application, record) if target.suffix == ".yml" else requisition_page(
        requisition_view(pack, texts, application, record, Markup(record_style())))
    target.write_text(text, "utf-8")


def read_any(pack: Pack, file: str, data: bytes, other_unit: OtherUnit | None = None,
             ) -> tuple[ReadApplication | None, list[Problem], dict | None]:
    """The application of a file or of a record, all problems, and the record itself where it is one."""
    record = _parsed(data)
    if record is None:
        return *read_application_file(pack, file, data, other_unit), None
    lacking = [key for key in _NEEDED if key not in record]
    if lacking or not isinstance(record["application"], Mapping) or not isinstance(record["answer"], Mapping):
        named = ", ".join(f"`{key}`" for key in lacking) or "an application with its answer"
        return None, [Problem(Place(file, 1, 1), NOT_A_RECORD, f"the record lacks {named}",
                              "take a record as `guide select FILE --record OUT.json` wrote it")], None
    reading = read_application(pack, record["application"], other_unit)
    return (reading, [], record) if not reading.problems else (reading, _placed(pack, file, data, other_unit), record)


# private

def _parsed(data: bytes) -> dict | None:
    """The record that stands in the file, or None where it is something else."""
    if not data.lstrip().startswith(b"{") or f'"{RECORD}"'.encode() not in data[:200]:
        return None
    try:
        found = json.loads(data)
    except ValueError:
        return None
    return found if isinstance(found, dict) and RECORD in found else None


def _placed(pack: Pack, file: str, data: bytes, other_unit: OtherUnit | None) -> list[Problem]:
    """The problems of a record's application at their places; JSON is YAML as well."""
    node, problems = compose(file, data)
    if isinstance(node, MappingNode):
        for key, value in node.entries:
            if key.text == "application" and isinstance(value, MappingNode):
                return [*problems, *read_application_nodes(pack, value.entries, value.place, other_unit)[1]]
    return problems
