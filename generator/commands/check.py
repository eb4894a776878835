"""Gives back `guide check`: everything the data can get wrong, each fault in one line with what to type instead."""

from __future__ import annotations

import argparse
from pathlib import Path

from generator.analyse.approvals import check_witnesses
from generator.analyse.cases import check_cases, check_starters
from generator.analyse.examples import check_examples
from generator.analyse.finding import KIND_OF, Finding, idle_waivers, unwaived_first
from generator.analyse.findings import findings
from generator.commands.at_hand import chosen_overlay
from generator.commands.printing import print_json, print_problems
from generator.compile.knowledge import load_pack, load_with_findings
from generator.evaluate.prepared import prepare
from generator.pack.model import Pack
from generator.pack.texts import Texts
from generator.problems import Problem, Refused
from generator.publish.load import load_worked
from generator.render.prose import check_prose


def add_to(commands: argparse._SubParsersAction) -> argparse.ArgumentParser:
    """The command's arguments."""
    parser = commands.add_parser("check", help="check the knowledge base and the prose", description=__doc__)
    parser.add_argument("--guide", type=Path, default=Path("guide"), help="the prose pages (default: guide)")
    parser.add_argument("--findings", action="store_true",
                        help="print what is worth a look as well: it fails nothing (with --json it is always there)")
    parser.set_defaults(run=run)
    return parser


def run(options: argparse.Namespace) -> int:
    """Reads, compiles, works the formulas' examples, runs the reference cases and reads the prose, for the base alone and
    for the base with its overlay: 0 clean, 1 not."""
    which = chosen_overlay(options)
    shows = options.findings or options.json
    pack, texts, standing = load_with_findings(options.data)
    if standing and not shows:
        raise Refused(standing)
    prepared = prepare(pack)
    found = findings(pack, texts, prepared) if shows or texts.waived else ()
    problems = [*standing, *idle_waivers(found, texts), *check_examples(pack, texts), *check_cases(prepared, texts),
                *check_starters(prepared, texts), *check_witnesses(prepared, texts),
                *(_check_guide(options.guide, pack, texts) if options.guide.is_dir() else [])]
    whole = load_pack(options.data, overlay=which) if which is not None and not standing else (pack, texts)
    overlay = whole[1].overlay
    if overlay is not None:
        problems += [*check_cases(prepare(whole[0]), whole[1]),
                     *(_check_guide(options.guide, *whole) if options.guide.is_dir() else [])]
        problems = sorted(set(problems))
    counts = {"tables": len(pack.tables), "rules": len(texts.rules), "rows": sum(len(t.rows) for t in pack.tables),
              "media": len(texts.media), "formulas": len(pack.formulas), "cases": len(texts.cases),
              "witnesses": len(texts.witnesses)}
    if overlay is not None:
        counts |= {f"rules of {overlay.id}": len({one.rule for one in whole[1].rules} - {one.rule for one in texts.rules}),
                   f"cases of {overlay.id}": len(overlay.cases)}
    if options.json:
        print_json({"problems": [problem.as_record() for problem in sorted(problems)],
                    "findings": [as_record(one) for one in found], "counts": counts})
        return 1 if problems else 0
    if options.findings:
        print("\n".join(map(as_line, unwaived_first(found))) or "no findings")
    if problems:
        print_problems(sorted(problems), False)
    else:
        print("clean: " + ", ".join(f"{number} {name}" for name, number in counts.items()))
    return 1 if problems else 0


def as_record(one: Finding) -> dict[str, object]:
    """A finding for a script: what a waiver would name, whether it fails the check, where, and who waived it."""
    waived = one.waived
    return {"key": one.key, "kind": one.kind, "fails": KIND_OF[one.kind].fails and waived is None, "table": one.table,
            "rules": list(one.rules), "region": one.region, "message": one.message, "file": one.file, "line": one.line,
            "waived": waived and {"reason": waived.reason, "approver": waived.approver, "until": waived.until}}


def as_line(one: Finding) -> str:
    """A finding in one line, with its key or with who waived it."""
    end = f"waived until {one.waived.until} by {one.waived.approver}: {one.waived.reason}" if one.waived else \
        f"waive with `{one.key}`"
    return f"{one.file}:{one.line}: {KIND_OF[one.kind].code}: {one.message}; {end}"


# private

def _check_guide(guide_dir: Path, pack: Pack, texts: Texts) -> list[Problem]:
    """What is wrong in the prose, and in the small tables that it explains the rules with."""
    worked = load_worked(guide_dir)
    problems = check_prose(guide_dir, pack, texts, worked)
    if worked:
        problems += [*check_examples(*worked), *check_cases(prepare(worked[0]), worked[1])]
    return problems
