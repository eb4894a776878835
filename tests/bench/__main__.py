"""Prints how long reading, compiling, proving, selecting and building take, with the machine they took it on.

Every figure is the median and the 95th percentile of repeated runs in one process, on the shipped data. `--site 0`
leaves out the builds of the site, which take longest.
"""

from __future__ import annotations

import argparse
import json
import os
import platform
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable, Sequence
from datetime import date
from pathlib import Path
from statistics import median

from generator.analyse.cases import answer_case
from generator.analyse.comparison import compare_tables
from generator.analyse.findings import findings
from generator.analyse.space import table_boxes, table_space
from generator.boxes.split import overlaps, uncovered
from generator.compile.knowledge import compile_knowledge
from generator.evaluate.margins import margins
from generator.evaluate.prepared import prepare
from generator.evaluate.results import Application
from generator.evaluate.select import choose, judge, select
from generator.evaluate.situation import situation_of
from generator.first_run import find_chromium
from generator.pack.document import to_document
from generator.pack.model import Pack
from generator.pack.texts import Texts
from generator.read.knowledge_base import read_folder
from tests.agreement.limits import limits_of
from tests.agreement.summary import document_of
from tests.bench.five_states import STATES, as_typed, five_state_applications
from tests.bench.keystrokes import BETWEEN_KEYS, keystrokes
from tests.bench.made_tables import SHAPES, made_table
from tests.bench.sites import build_guide, build_plain, write_plain

PROJECT = Path(__file__).resolve().parents[2]
DRAWN = 200                                      # points with five states
SELECTING = Path(__file__).with_name("select.mjs")


def main() -> int:
    """Runs every measurement once; 0."""
    parser = argparse.ArgumentParser(prog="python -m tests.bench", description=__doc__)
    parser.add_argument("--runs", type=int, default=9, metavar="N", help="of everything but the site (default: 9)")
    parser.add_argument("--site", type=int, default=3, metavar="N", help="builds of each site (default: 3)")
    parser.add_argument("--points", action="store_true", help="only the points with five states: engines and keystroke")
    parser.add_argument("--built", type=Path, metavar="FOLDER", help="the guide built before, for the keystroke")
    options = parser.parse_args()
    print("\n".join(machine()))
    print(f"\n{'what':<74}{'runs':>5}{'median':>13}{'95 %':>13}")
    show("read data/", taken(lambda: read_folder(PROJECT / "data", PROJECT), options.runs))
    base, problems = read_folder(PROJECT / "data", PROJECT)
    assert base is not None, problems
    show("compile it", taken(lambda: compile_knowledge(base, date.today()), options.runs))
    pack, texts, problems = compile_knowledge(base, date.today())
    assert pack is not None and texts is not None, problems
    if options.points:
        five_states(pack)
        typing(pack, options.built)
        return 0
    for rules, columns, state in SHAPES:
        axes, boxes = made_table(rules, columns, state)
        show(f"gaps of {rules} x {columns}, {state}", taken(lambda: uncovered(axes, boxes), options.runs))
        show(f"overlaps of {rules} x {columns}, {state}", taken(lambda: list(overlaps(axes, boxes)), options.runs))
    for table in sorted(pack.tables, key=lambda one: -len(one.rows))[:3]:
        axes = table_space(pack, table)
        boxes = table_boxes(table, axes)
        show(f"gaps of {table.id} ({len(boxes)} rows)", taken(lambda: uncovered(axes, boxes), options.runs))
        show(f"overlaps of {table.id}", taken(lambda: list(overlaps(axes, boxes)), options.runs))
        show(f"{table.id} compared with itself", taken(
            lambda: compare_tables((pack, texts, table), (pack, texts, table)), options.runs))
    show("all findings", taken(lambda: findings(pack, texts, prepare(pack)), max(1, options.runs // 3)))
    selecting(pack, texts, options.runs)
    five_states(pack)
    typing(pack, options.built)
    if options.site:
        building(options.site)
    return 0


def machine() -> list[str]:
    """What the figures were measured on, and how busy it was."""
    cpu = next((line.partition(":")[2].strip() for line in _text(Path("/proc/cpuinfo")).splitlines()
                if line.startswith("model name")), platform.processor() or "unknown processor")
    node = subprocess.run(["node", "--version"], capture_output=True, text=True).stdout.strip()
    load = f"{os.getloadavg()[0]:.1f}" if hasattr(os, "getloadavg") else "unknown"
    return [f"{cpu}, {os.cpu_count()} processors, load {load} at the start; {platform.system()} {platform.release()}",
            f"Python {platform.python_version()}, Node {node}"]


def taken(work: Callable[[], object], runs: int) -> list[float]:
    """Seconds of each run, after one that is not counted."""
    work()
    return [_seconds(work) for _ in range(runs)]


def show(what: str, seconds: Sequence[float]) -> None:
    """One line: median and 95th percentile in milliseconds."""
    ordered = sorted(seconds)
    late = ordered[min(len(ordered) - 1, int(0.95 * len(ordered)))]
    print(f"{what:<74}{len(ordered):>5}{1000 * median(ordered):>10.2f} ms{1000 * late:>10.2f} ms", flush=True)


def selecting(pack: Pack, texts: Texts, runs: int) -> None:
    """One selection per reference case and run, in Python and in JavaScript."""
    prepared = prepare(pack)
    asked = [answered.reading.application for case in texts.cases
             if (answered := answer_case(prepared, case)).selected is not None]
    for application in asked:
        select(prepared, application)
    seconds = [_seconds(lambda: select(prepared, application)) for _ in range(runs) for application in asked]
    show(f"select one of {len(asked)} reference cases, Python", seconds)
    show(f"select one of {len(asked)} reference cases, JavaScript", _in_javascript(pack, asked, runs))


def five_states(pack: Pack) -> None:
    """The whole `select` of drawn applications with five states, once each, in Python and in JavaScript."""
    prepared = prepare(pack)
    drawn = five_state_applications(limits_of(pack), DRAWN)
    select(prepared, drawn[0])
    what = f"verdicts and leading selections, {DRAWN} points with five states"
    show(f"{what}, Python", [_seconds(lambda: select(prepared, application)) for application in drawn])
    show(f"{what}, Node", _in_javascript(pack, drawn, 1))
    judged = [(one, judge(prepared, one)) for one in drawn]
    chosen = [(one, known, choose(prepared, one, known)) for one, known in judged]
    show("all of their margins beside that, Python",
         [_seconds(lambda: margins(situation_of(prepared, one, known), selected)) for one, known, selected in chosen])
    show("all of their margins beside that, Node", _in_javascript(pack, drawn, 1, "margins"))


def typing(pack: Pack, built: Path | None) -> None:
    """A keystroke in the worksheet on drawn applications with five states, in Chromium."""
    chromium = find_chromium()
    if not chromium:
        print("no Chromium: keystrokes are not measured")
        return
    typed = [as_typed(pack, one) for one in five_state_applications(limits_of(pack), DRAWN)]
    with tempfile.TemporaryDirectory() as folder:
        if built is None:
            build_guide(PROJECT, Path(folder))
        taken = keystrokes(built or Path(folder), chromium, typed)
    show(f"keystroke to leading verdicts, {STATES} states, Chromium", taken["first"])
    show(f"the same of a key {BETWEEN_KEYS} ms after another", taken["next"])
    show("keystroke to every verdict and reason drawn", taken["all"])


def building(runs: int) -> None:
    """The guide against a plain MkDocs build of the same pages, turn by turn so that both see the same machine."""
    ours, plain = [], []
    with tempfile.TemporaryDirectory() as folder:
        pages = write_plain(PROJECT, Path(folder) / "plain")
        build_guide(PROJECT, Path(folder) / "site")              # counts the pinning scores, which are kept
        for _ in range(runs):
            ours.append(_seconds(lambda: build_guide(PROJECT, Path(folder) / "site")))
            plain.append(_seconds(lambda: build_plain(Path(folder) / "plain")))
    show(f"build the guide: rules, {pages} pages, site", ours)
    show(f"plain MkDocs build of the same {pages} pages, written before", plain)


# private

def _in_javascript(pack: Pack, asked: list[Application], runs: int, what: str = "select") -> list[float]:
    """Seconds of each selection in Node, or of the margins that are found after it."""
    with tempfile.TemporaryDirectory() as folder:
        file = Path(folder) / "asked.json"
        file.write_text(json.dumps({"pack": to_document(pack, ""), "applications": [document_of(one) for one in asked],
                                    "runs": runs, "what": what}, allow_nan=False), "utf-8")
        done = subprocess.run(["node", str(SELECTING), str(file)], capture_output=True, text=True, check=True)
    return json.loads(done.stdout)


def _seconds(work: Callable[[], object]) -> float:
    start = time.perf_counter()
    work()
    return time.perf_counter() - start


def _text(path: Path) -> str:
    return path.read_text("utf-8") if path.is_file() else ""


if __name__ == "__main__":
    sys.exit(main())
