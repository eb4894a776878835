"""Gives back the files that pages need beside themselves: styles, scripts, and the pack with its texts."""

from __future__ import annotations

import json
from pathlib import Path

from generator.pack.document import write_pack
from generator.render.addresses import PACK_FILE, TEXTS_FILE
from generator.render.answer_document import answer_schema
from generator.render.browser_texts import texts_document
from generator.render.library import Library

ANSWER_SCHEMA_FILE = "assets/answer.schema.json"      # for scripts that read `guide select --json`
STYLES = ("assets/guide.css", "assets/worksheet.css", "assets/map.css", "assets/record.css")

_OWN = Path(__file__).with_name("assets")
_BROWSER = Path(__file__).parent.parent / "browser"
_SERVED = (".js", ".css")


def record_style() -> str:
    """The style of the selection record, to stand inside its file."""
    return (_OWN / "record.css").read_text("utf-8")


def asset_files(lib: Library) -> dict[str, bytes]:
    """Path on the site and content of every asset, in order of path."""
    files = {
        f"assets/{path.relative_to(folder).as_posix()}": path.read_bytes()
        for folder in (_OWN, _BROWSER)
        for path in sorted(folder.rglob("*"))
        if path.suffix in _SERVED
    }
    files[PACK_FILE] = write_pack(lib.pack, lib.texts.edition.edition).encode("utf-8")
    files[TEXTS_FILE] = texts_document(lib).encode("utf-8")
    files[ANSWER_SCHEMA_FILE] = json.dumps(answer_schema(), indent=1).encode("utf-8")
    return dict(sorted(files.items()))
