"""Gives back `guide select FILE...`: applications to verdicts with reasons."""

from __future__ import annotations

import argparse
from datetime import date
from pathlib import Path

from generator.commands.application_file import units_known_to_pint
from generator.commands.at_hand import chosen_overlay, read_applications
from generator.commands.printing import print_json
from generator.commands.letter_files import check_folder, put_letters
from generator.commands.offer import compare
from generator.commands.record_file import check_target, put_record, put_requisition, read_any
from generator.compile.knowledge import load_pack
from generator.evaluate.margins import margins
from generator.evaluate.next_question import next_question
from generator.evaluate.prepared import Prepared, prepare
from generator.evaluate.results import Application
from generator.evaluate.select import choose, judge
from generator.evaluate.situation import situation_of
from generator.problems import Refused
from generator.read.knowledge_base import read_folder
from generator.render.answer_document import Answered, Understood, answer_document
from generator.render.answer_text import answer_lines
from generator.render.record_document import changed_words, compared, record_document, rules_mark


def add_to(commands: argparse._SubParsersAction) -> argparse.ArgumentParser:
    """The command's arguments."""
    parser = commands.add_parser("select", help="decide applications", description=__doc__)
    parser.add_argument("files", type=Path, nargs="+", metavar="FILE",
                        help="an application (.yml): id, title, normal: {input: answer}, cleaning: {...} or none, ...")
    parser.add_argument("--reasons", action="store_true", help="print every reason and margin, not only those that decide")
    parser.add_argument("--record", type=Path, metavar="OUT",
                        help="write the selection record of one FILE: a page to sign (.html), or to read back (.json)")
    parser.add_argument("--requisition", type=Path, metavar="OUT",
                        help="write what is required of the sensor: a page (.html), or YAML with the form of an offer (.yml)")
    parser.add_argument("--offer", type=Path, metavar="OFFER",
                        help="hold an offered sensor (.yml) against one FILE instead of printing its verdicts")
    parser.add_argument("--letters", type=Path, metavar="FOLDER",
                        help="write what is open of one FILE as letters (.txt), one to each who usually knows the answers")
    parser.set_defaults(run=run)
    return parser


def run(options: argparse.Namespace) -> int:
    """0 when every application was decided, whatever the verdicts; Refused carries the problems of all files.

    With problems, JSON says beside them what could be read (1), and no verdict.
    """
    if options.record:
        check_target(options.record, options.files)
    if options.requisition:
        check_target(options.requisition, options.files, "requisition", (".html", ".yml"))
    if options.offer:
        check_target(options.offer, options.files, "comparison", (".yml", ".yaml"))
    if options.letters:
        check_folder(options.letters, options.files)
    files = read_applications(options.files)
    pack, texts = load_pack(options.data, overlay=chosen_overlay(options))
    prepared = prepare(pack)
    other_unit = units_known_to_pint(read_folder(options.data, options.data.resolve().parent, None)[0].quantities)
    readings, problems, records = [], [], []
    for name, data in files:
        reading, found, record = read_any(pack, name, data, other_unit)
        problems += found
        readings.append(reading)
        records.append(record)
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
    today = date.today().isoformat()
    understood = [tuple(Understood(one.state, one.input, one.typed, one.understood) for one in reading.understood)
                  for reading in readings]
    answered = tuple(_answered(prepared, reading.application, words)
                     for reading, words in zip(readings, understood, strict=True))
    document = answer_document(pack, texts, answered, today)
    told = [(name, record, answer) for (name, _), record, answer in zip(files, records, document["applications"], strict=True)
            if record is not None]
    document["records"] = [compared(name, record, answer) for name, record, answer in told]
    made = record_document(pack, texts, readings[0].application, understood[0], document["applications"][0], today)
    if options.record:
        put_record(options.record, texts, made)
    if options.requisition:
        put_requisition(options.requisition, pack, texts, readings[0].application, made)
    if options.letters:
        put_letters(options.letters, pack, texts, answered[0])
    if options.offer:
        return compare(options, pack, texts, readings[0].application, other_unit)
    if options.json:
        print_json(document)
    else:
        for _, record, answer in told:
            print("\n".join([*changed_words(record, answer, rules_mark(pack)), ""]))
        print("\n".join(answer_lines(document, options.reasons)))
    return 0


# private

def _answered(prepared: Prepared, application: Application, understood: tuple[Understood, ...]) -> Answered:
    judged = judge(prepared, application)
    selected = choose(prepared, application, judged)
    return (application, selected, understood, margins(situation_of(prepared, application, judged), selected),
            next_question(prepared.pack, selected))
