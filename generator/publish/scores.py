"""Gives back the pinning scores of a guide, counted once for the same rules, cases and program and kept in a folder."""

from __future__ import annotations

import json
from pathlib import Path

from generator.render.library import Library
from generator.render.pinned import Record, count, name_of

KEPT_AT_MOST = 20                    # files; older ones are thrown away
_PROGRAM = Path(__file__).resolve().parents[1]


def kept_scores(lib: Library, folder: Path, may_count: bool = True) -> Record | None:
    """The scores; None where they are not kept and `may_count` is false, because someone waits for a page."""
    program = b"".join(path.read_bytes() for room in ("analyse", "evaluate") for path in sorted(
        (_PROGRAM / room).glob("*.py"))) + (_PROGRAM / "render" / "pinned.py").read_bytes()
    kept = folder / f"pinning-{name_of(lib, program)}.json"
    if kept.is_file():
        return json.loads(kept.read_text("utf-8"))
    if not may_count:
        return None
    record = count(lib)
    folder.mkdir(parents=True, exist_ok=True)
    unfinished = kept.with_suffix(".part")
    unfinished.write_text(json.dumps(record), "utf-8")
    unfinished.replace(kept)
    for old in sorted(folder.glob("pinning-*.json"), key=lambda path: path.stat().st_mtime)[:-KEPT_AT_MOST]:
        old.unlink(missing_ok=True)
    return record
