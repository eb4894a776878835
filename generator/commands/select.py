"""Gives back `guide select FILE...`: applications to verdicts with reasons."""

from __future__ import annotations

import argparse
from datetime import date
from pathlib import Path

from generator.commands.application_file import read_application_file, units_known_to_pint
from generator.commands.at_hand import chosen_overlay, read_applications
from generator.commands.printing import print_json
from generator.compile.knowledge import load_pack
from generator.evaluate.prepared import prepare
from generator.evaluate.select import select
from generator.problems import Refused
from generator.read.knowledge_base import read_folder
from generator.render.answer_document import Understood, answer_document
from generator.render.answer_text import answer_lines


def add_to(commands: argparse._SubParsersAction) -> argparse.ArgumentParser:
    """The command's arguments."""
    parser = commands.add_parser("select", help="decide applications", description=__doc__)
    parser.add_argument("files", type=Path, nargs="+", metavar="FILE",
                        help="an application (.yml): id, title, normal: {input: answer}, cleaning: {...} or none, ...")
    parser.add_argument("--reasons", action="store_true", help="print every reason, not only those that decide")
    parser.set_defaults(run=run)
    return parser


def run(options: argparse.Namespace) -> int:
    """0 when every application was decided, whatever the verdicts; Refused carries the problems of all files.

    With problems, JSON says beside them what could be read (1), and no verdict.
    """
    files = read_applications(options.files)
    pack, texts = load_pack(options.data, overlay=chosen_overlay(options))
    prepared = prepare(pack)
    other_unit = units_known_to_pint(read_folder(options.data, options.data.resolve().parent, None)[0].quantities)
    readings, problems = [], []
    for name, data in files:
        reading, found = read_application_file(pack, name, data, other_unit)
        problems += found
        readings.append(reading)
    if problems and options.json:
        understood = [
            {"file": name, "state": one.state, "input": one.input, "typed": one.typed, "taken": one.understood}
            for (name, _), reading in zip(files, readings, strict=True) if reading is not None
            for one in reading.understood]
        print_json({"problems": [problem.as_record() for problem in sorted(set(problems))],
                    "understood": understood})
        return 1
    if problems:
        raise Refused(problems)
    document = answer_document(pack, texts, tuple(
        (reading.application, select(prepared, reading.application),
         tuple(Understood(one.state, one.input, one.typed, one.understood) for one in reading.understood))
        for reading in readings), date.today().isoformat())
    if options.json:
        print_json(document)
    else:
        print("\n".join(answer_lines(document, options.reasons)))
    return 0
