"""Gives back `guide compare OLD`: where the rules of another data folder say something else, region by region."""

from __future__ import annotations

import argparse
from pathlib import Path

from generator.analyse.comparison import Comparison, Difference, Said, compare_packs
from generator.commands.at_hand import chosen_overlay, need_knowledge_base
from generator.commands.printing import print_json
from generator.compile.knowledge import load_with_findings


def add_to(commands: argparse._SubParsersAction) -> argparse.ArgumentParser:
    """The command's arguments."""
    parser = commands.add_parser("compare", help="show where two versions of the rules part", description=__doc__)
    parser.add_argument("old", type=Path, metavar="OLD", help="the older data folder; the newer one is --data")
    parser.add_argument("--table", metavar="ID", help="one table only")
    parser.set_defaults(run=run)
    return parser


def run(options: argparse.Namespace) -> int:
    """Always 0: a difference is no fault. Folders with gaps or overlaps are compared as if these were waived."""
    need_knowledge_base(options.old)
    which = chosen_overlay(options)
    old, old_texts, _ = load_with_findings(options.old, overlay=which)
    new, new_texts, _ = load_with_findings(options.data, overlay=which)
    found = [one for one in compare_packs(old, old_texts, new, new_texts) if options.table in (None, one.table)]
    if options.json:
        print_json({"tables": [as_record(one) for one in found]})
    else:
        print("\n".join(line for one in found for line in as_lines(one)) or "both say the same everywhere")
    return 0


def as_record(one: Comparison) -> dict[str, object]:
    """The regions of one table for a script."""
    return {"table": one.table, "notes": list(one.notes), "differences": [
        {"region": each.region, "changes_verdict": each.changes_verdict,
         "old": {"verdict": each.old.verdict, "rules": list(each.old.rules)},
         "new": {"verdict": each.new.verdict, "rules": list(each.new.rules)}} for each in one.differences]}


def as_lines(one: Comparison) -> list[str]:
    """The table's name, its notes, then a line per region."""
    return [f"{one.table}:", *(f"  {note}" for note in one.notes), *(_line(each) for each in one.differences)]


# private

def _line(one: Difference) -> str:
    what = f"{one.old.verdict} -> {one.new.verdict}" if one.changes_verdict else f"{one.new.verdict} by another rule"
    return f"  {what}: {one.region} [{_rules(one.old)} -> {_rules(one.new)}]"


def _rules(said: Said) -> str:
    return ", ".join(said.rules) or "no rule"
