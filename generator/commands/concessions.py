"""Gives back `guide concessions FOLDER...`: how often each rule was conceded in the files of some folders, by whom
and until when."""

from __future__ import annotations

import argparse
from collections.abc import Iterable
from datetime import date
from pathlib import Path

from generator.analyse.concessions import ConcededRule, Use, conceded_rules, needless_uses
from generator.answers.concessions import CONCESSIONS
from generator.commands.application_file import read_application_file, units_known_to_pint
from generator.commands.at_hand import CannotRun, chosen_overlay, read_applications
from generator.commands.printing import print_json
from generator.compile.knowledge import load_pack
from generator.evaluate.conceded import conceded
from generator.evaluate.prepared import prepare
from generator.evaluate.select import select
from generator.pack.texts import Texts
from generator.problems import Place, Problem, Refused
from generator.read.knowledge_base import read_folder
from generator.render.concession_words import concession_records, concession_sentence

_READ = (".yml", ".yaml", ".json")


def add_to(commands: argparse._SubParsersAction) -> argparse.ArgumentParser:
    """The command's arguments."""
    parser = commands.add_parser("concessions", help="count the concessions of many applications", description=__doc__)
    parser.add_argument("folders", type=Path, nargs="+", metavar="FOLDER",
                        help="folders (or files) of applications and records; files without concessions are passed over")
    parser.set_defaults(run=run)
    return parser


def run(options: argparse.Namespace) -> int:
    """0, however many there are. Refused carries the problems of the files that have concessions."""
    files = _files(options.folders)
    pack, texts = load_pack(options.data, overlay=chosen_overlay(options))
    prepared = prepare(pack)
    other_unit = units_known_to_pint(read_folder(options.data, options.data.resolve().parent, None)[0].quantities)
    today = date.today().isoformat()
    uses: list[Use] = []
    problems: list[Problem] = []
    having = [(name, data) for name, data in files if CONCESSIONS.encode() in data]
    for name, data in having:
        reading, found = read_application_file(pack, name, data, other_unit)
        problems += found
        if reading is not None and not found and reading.application.concessions:
            selected = select(prepared, reading.application)
            uses += [Use(name, one) for one in conceded(selected, reading.application.concessions, today)]
    if problems:
        raise Refused(problems)
    rules = conceded_rules(uses)
    if options.json:
        print_json({"files": len(files), "rules": [_record(texts, one) for one in rules],
                    "needless": _uses(texts, needless_uses(uses))})
        return 0
    print("\n".join([*(line for one in rules for line in _lines(texts, one)),
                     *_needless_lines(texts, needless_uses(uses)),
                     f"{len(files)} files, {len(uses)} concessions, {len(rules)} rules conceded"]))
    return 0


# private

def _files(folders: Iterable[Path]) -> list[tuple[str, bytes]]:
    lacking = [Problem(Place(folder.as_posix()), "Y014", "there is no such folder or file", "check the path")
               for folder in folders if not folder.exists()]
    if lacking:
        raise CannotRun(lacking)
    return read_applications(path for folder in folders for path in (
        sorted(path for path in folder.rglob("*") if path.is_file() and path.suffix in _READ)
        if folder.is_dir() else [folder]))


def _uses(texts: Texts, uses: Iterable[Use]) -> list[dict]:
    return [{"file": use.where, **concession_records(texts, (use.conceded,))[0]} for use in uses]


def _record(texts: Texts, one: ConcededRule) -> dict:
    because = next(rule.because for rule in texts.rules if rule.rule == one.rule)
    return {"rule": one.rule, "because": because, "times": len(one.uses), "concessions": _uses(texts, one.uses)}


def _lines(texts: Texts, one: ConcededRule) -> list[str]:
    told = _record(texts, one)
    return [f"{one.rule}: conceded {told['times']} time{'' if told['times'] == 1 else 's'}; {told['because']}",
            *(_use_line(use) for use in told["concessions"])]


def _needless_lines(texts: Texts, uses: tuple[Use, ...]) -> list[str]:
    return ["needless", *(_use_line(use) for use in _uses(texts, uses))] if uses else []


def _use_line(use: dict) -> str:
    return f"  {use['file']}: {use['title']} {concession_sentence(use)}"
