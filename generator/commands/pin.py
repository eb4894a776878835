"""Gives back `guide pin`: how well cases pin the rules, and applications that a person may judge to pin the
rest.
"""

from __future__ import annotations

import argparse
from dataclasses import replace
from pathlib import Path

from generator.analyse.cases import in_words, judged_cases
from generator.analyse.mutants import Mutant
from generator.analyse.pinning import Pinning, Score, pinning_scores
from generator.analyse.witnesses import Proposal, Proposals, propose
from generator.answers.application import NORMAL
from generator.answers.pins import instead
from generator.commands.at_hand import CannotRun, chosen_overlay
from generator.commands.printing import print_json
from generator.compile.knowledge import load_pack
from generator.evaluate.prepared import prepare
from generator.pack.model import Pack
from generator.problems import Place, Problem

QUICKLY = """quickly, while you write a table:
  guide pin --table ID --score     its score, and each change of it that nothing notices (seconds)
  guide pin --table ID --most 10   applications that would notice the most of them
Put what you know of such an application into a reference case (cases/*.yml): answers just on the limit and just
beyond it, the verdict of each candidate and why, written before the rule is run. A case that names the rule
(`rule:`) also notices the change where another rule is as bad. Then run the first line again."""


def add_to(commands: argparse._SubParsersAction) -> argparse.ArgumentParser:
    """The command's arguments."""
    parser = commands.add_parser("pin", help="score the cases, propose witnesses", description=__doc__, epilog=QUICKLY,
                                 formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--table", action="append", default=[], metavar="ID",
                        help="only this rule table (may be given several times); also lists what nobody notices")
    parser.add_argument("--score", action="store_true", help="only the scores, no proposals")
    parser.add_argument(
        "--most", type=int, metavar="N", help="the N proposals that notice most (default: all)"
    )
    parser.add_argument(
        "--write",
        action="store_true",
        help="write the proposals to witnesses/ of the data folder; no verdict is filled in, and the check "
        "fails until a person has judged and approved each",
    )
    parser.set_defaults(run=run)
    return parser


def run(options: argparse.Namespace) -> int:
    """Scores, proposals, files; 0. Of the base alone, unless --overlay asks for the rules and cases of a company."""
    which = chosen_overlay(options) if options.overlay is not None else None
    if which is not None and options.write:
        raise CannotRun([Problem(Place(options.overlay.as_posix()), "Y015", "witnesses belong to the base",
                                 "write cases for an overlay by hand, in its folder cases/")])
    pack, texts = load_pack(options.data, overlay=which)
    texts = replace(texts, cases=judged_cases(texts))
    _need_tables(options.table, [table.id for table in pack.tables])
    prepared = prepare(pack)
    pinning = pinning_scores(prepared, texts, tables=options.table)
    proposed = Proposals((), ()) if options.score else propose(prepared, texts, pinning.survivors)
    kept = proposed.proposals[:options.most]
    files = write(options.data, pack, kept) if options.write else []
    if options.json:
        print_json({"scores": scores_record(pinning), "unnoticed": _unnoticed(pinning), "proposals": [_record(one) for one in kept],
                    "beyond": [_words(one) for one in proposed.beyond],
                    "files": [str(file) for file in files]})
        return 0
    print("\n".join(score_lines(pinning)))
    if options.table:
        print("\n".join(f"unnoticed: {line}" for line in _unnoticed(pinning)) or "every change is noticed")
    for one in kept:
        judged = ", ".join(map(in_words, one.judge))
        print(f"{one.id}: {len(one.notices)} mutants by {judged}")
    if not options.score:
        noticed = sum(len(one.notices) for one in kept)
        print(f"{len(kept)} applications (a greedy cover) would notice {noticed} of {len(pinning.survivors)} "
              f"mutants; for {len(proposed.beyond)} none was found")
    if files:
        print(f"{len(files)} files in {options.data / 'witnesses'}, each to be judged: verdict, because, approver")
    return 0


def score_lines(pinning: Pinning) -> list[str]:
    """The scores in sentences."""
    kinds = ", ".join(f"{kind} {score.percent:.0f} %" for kind, score in pinning.by_kind)
    return [f"cases alone notice {_share(pinning.hand_written)} mutants of author rules",
            f"with approved witnesses {_share(pinning.with_witnesses)} ({kinds})",
            f"left out: {pinning.equivalent} that change no verdict of their table, "
            f"{pinning.masked} that other rules mask",
            f"letters pinned by cases and witnesses: {_share(pinning.letters)}",
            f"author rules that nothing pins: {', '.join(pinning.unpinned) or 'none'}"]


def scores_record(pinning: Pinning) -> dict[str, object]:
    """The scores for a script."""
    def record(score: Score) -> dict[str, object]:
        return {"noticed": score.noticed, "mutants": score.mutants, "percent": round(score.percent, 1)}

    return {
        "hand_written": record(pinning.hand_written),
        "with_witnesses": record(pinning.with_witnesses),
        "by_kind": {kind: record(score) for kind, score in pinning.by_kind},
        "equivalent": pinning.equivalent,
        "masked": pinning.masked,
        "letters": record(pinning.letters),
        "unpinned": list(pinning.unpinned),
    }


def write(data: Path, pack: Pack, proposals: tuple[Proposal, ...]) -> list[Path]:
    """One file per proposal; a file that is there already is never touched."""
    folder = data / "witnesses"
    folder.mkdir(exist_ok=True)
    written = []
    for one in proposals:
        path = folder / f"{one.id}.yml"
        with path.open("x", encoding="utf-8") as file:
            file.write(witness_file(pack, one))
        written.append(path)
    return written


def witness_file(pack: Pack, proposal: Proposal) -> str:
    """The file of a witness, with what a person fills in left empty."""
    lines = [f"id: {proposal.id}", f'title: "{proposal.title}"', "application:", f"  {NORMAL}:"]
    lines += [f'    {name}: "{answer}"' for name, answer in proposal.answers]
    lines += [f"  {state.id}: none" for state in pack.states if state.id != NORMAL]
    single = [keep[0] for keep in proposal.judge if len(keep) == 1]
    several = [keep for keep in proposal.judge if len(keep) > 1]
    for decision, candidate in single:
        lines += ["judge:"] if (decision, candidate) == single[0] else []
        lines += [f"  - decision: {decision}", f"    candidate: {candidate}", "    verdict:", "    because:"]
    for keep in several:
        lines += ["together:"] if keep == several[0] else []
        pairs = ", ".join(f"{decision}: {candidate}" for decision, candidate in keep)
        lines += [f"  - keep: {{{pairs}}}", "    verdict:", "    because:"]
    return "\n".join([*lines, "approver:", ""])


# private

def _need_tables(names: list[str], known: list[str]) -> None:
    problems = [Problem(Place("--table"), "Y016", f"there is no rule table '{name}'", instead(name, known))
                for name in names if name not in known]
    if problems:
        raise CannotRun(problems)


def _unnoticed(pinning: Pinning) -> list[str]:
    return [_words(mutant) for mutant in pinning.survivors]


def _words(mutant: Mutant) -> str:
    return f"{', '.join(mutant.rules)}: {mutant.what}"


def _share(score: Score) -> str:
    return f"{score.noticed} of {score.mutants} ({score.percent:.1f} %)"


def _record(one: Proposal) -> dict[str, object]:
    return {"id": one.id, "title": one.title, NORMAL: dict(one.answers), "notices": len(one.notices),
            "judge": [dict(keep) for keep in one.judge]}
