"""Gives back `guide check`: everything the data can get wrong, each fault in one line with what to type instead."""

from __future__ import annotations

import argparse
from pathlib import Path

from generator.analyse.approvals import check_witnesses
from generator.analyse.cases import check_cases
from generator.analyse.examples import check_examples
from generator.commands.printing import print_json, print_problems
from generator.compile.knowledge import load_pack
from generator.evaluate.prepared import prepare
from generator.render.prose import check_prose


def add_to(commands: argparse._SubParsersAction) -> argparse.ArgumentParser:
    """The command's arguments."""
    parser = commands.add_parser("check", help="check the knowledge base and the prose", description=__doc__)
    parser.add_argument("--guide", type=Path, default=Path("guide"), help="the prose pages (default: guide)")
    parser.set_defaults(run=run)
    return parser


def run(options: argparse.Namespace) -> int:
    """Reads, compiles, works the formulas' examples, runs the reference cases and reads the prose: 0 clean, 1 not."""
    pack, texts = load_pack(options.data)
    prepared = prepare(pack)
    problems = [*check_examples(pack, texts), *check_cases(prepared, texts),
                *check_witnesses(prepared, texts),
                *(check_prose(options.guide, pack, texts) if options.guide.is_dir() else [])]
    counts = {"tables": len(pack.tables), "rules": len(texts.rules), "rows": sum(len(t.rows) for t in pack.tables),
              "media": len(texts.media), "formulas": len(pack.formulas), "cases": len(texts.cases),
              "witnesses": len(texts.witnesses)}
    if options.json:
        print_json({"problems": [problem.as_record() for problem in sorted(problems)], "counts": counts})
    elif problems:
        print_problems(sorted(problems), False)
    else:
        print("clean: " + ", ".join(f"{number} {name}" for name, number in counts.items()))
    return 1 if problems else 0
