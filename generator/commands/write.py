"""Gives back `guide write FOLDER`: the guide's pages as plain files, for any site generator."""

from __future__ import annotations

import argparse
from pathlib import Path

from generator.commands.at_hand import chosen_overlay
from generator.commands.printing import print_json, print_problems
from generator.compile.knowledge import load_pack
from generator.publish.load import load_worked
from generator.publish.plain import write_site
from generator.render.prose import check_prose


def add_to(commands: argparse._SubParsersAction) -> argparse.ArgumentParser:
    """The command's arguments."""
    parser = commands.add_parser("write", help="write the guide's pages as plain files", description=__doc__)
    parser.add_argument("folder", type=Path, help="where to; made if missing, files of the same name are replaced")
    parser.add_argument("--guide", type=Path, default=Path("guide"), help="the prose pages (default: guide)")
    parser.add_argument("--no-scores", action="store_true", help="do not count how well the cases pin the rules")
    parser.set_defaults(run=run)
    return parser


def run(options: argparse.Namespace) -> int:
    """Writes the pages; 0, or 1 when a page refers to something that does not exist."""
    base = load_pack(options.data)
    which = chosen_overlay(options)
    pack, texts = load_pack(options.data, overlay=which) if which is not None else base
    problems = check_prose(options.guide, pack, texts, load_worked(options.guide))
    if problems:
        print_problems(problems, options.json)
        return 1
    written, failing = write_site(pack, texts, options.guide, options.folder, "none" if options.no_scores else "count",
                                  base)
    if options.json:
        print_json({"folder": str(options.folder), "files": [str(path) for path in written], "failing": failing})
    else:
        print(f"{len(written)} files in {options.folder}" + (f"; {failing}: run `guide check`" if failing else ""))
    return 0
