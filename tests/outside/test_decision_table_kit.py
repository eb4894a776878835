"""Says that rules match as the DMN technology compatibility kit expects it, in both engines.

The kit (dmn-tck/tck, compliance level 2; its authors offer it under a Creative Commons licence) is read where it lies, beside the
project or where DMN_KIT says; nothing of it is copied, and without it these tests skip. Its decision tables become rule tables of
ours, one for each of their rules, so that the reasons of a verdict name every rule that matches; the kit's own hit policy then
makes its result of them. Ours has only two, unique and collect, and results of its own.
"""

from __future__ import annotations

import json
import os
import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path
from xml.etree import ElementTree

import pytest

from generator.answers.application import read_application
from generator.compile.knowledge import load_pack
from generator.evaluate.prepared import prepare
from generator.evaluate.select import select
from tests.agreement.summary import Engine, compare, document_of
from tests.shipped import ROOT

KIT = Path(os.environ.get("DMN_KIT", ROOT.parent / "shared" / "dmn-tck" / "level-2"))
MODELS = sorted(path for path in KIT.glob("*/*.dmn") if "decisionTable" in path.read_text("utf-8"))
pytestmark = pytest.mark.skipif(not MODELS, reason="the DMN compatibility kit is not here")

Output = tuple[str, ...]                         # one entry per output column, as text
BASIS = {"kind": "common_practice"}


@dataclass(frozen=True)
class Rule:
    cells: dict[str, str]                        # by input; without those that any answer matches
    output: Output


@dataclass(frozen=True)
class Kit:
    """A decision table of the kit and what is asked of it: typed answers, and the result that it expects."""

    policy: str
    inputs: dict[str, str]                       # name: number, string or boolean
    order: tuple[tuple[str, ...], ...]           # allowed outputs per column, the first has priority
    rules: tuple[Rule, ...]
    asked: tuple[tuple[dict[str, str], list[Output]], ...]


@pytest.fixture(scope="module")
def engine() -> Iterator[Engine]:
    made = Engine()
    yield made
    made.close()


@pytest.mark.parametrize("path", MODELS, ids=lambda path: path.parent.name)
def test_rules_that_match_give_the_result_that_the_kit_expects(
        path: Path, engine: Engine, tmp_path: Path, record_property) -> None:
    kit = read_kit(path)
    write_data(kit, tmp_path / "data")
    pack, _ = load_pack(tmp_path / "data")
    engine.take(pack)
    assert len(kit.asked) == 3
    for answers, expected in kit.asked:
        read = read_application(pack, {"id": "asked", "title": "Asked", "normal": answers})
        assert read.problems == () and len(read.application.states[0].answers) == len(kit.inputs)
        ours = select(prepare(pack), read.application)
        matched = [kit.rules[int(reason.rule.split("_")[-1])] for reason in ours.decisions[0].candidates[0].reasons
                   if reason.verdict == "unsuitable"]
        assert result_of(kit, matched) == expected
        engine.ask({"applications": [document_of(read.application)]})
        assert compare(engine, [read.application], [ours])[0] == []
    record_property("counted", f"{path.parent.name}: {len(kit.asked)} results of the DMN kit met in both engines")


def test_every_decision_table_of_the_kit_is_taken() -> None:
    assert len(MODELS) == 17


# private

def result_of(kit: Kit, matched: Sequence[Rule]) -> list[Output]:
    """The outputs of the rules that match, as the kit's hit policy joins them; a single one is a list of one."""
    found = [rule.output for rule in sorted(matched, key=kit.rules.index)]

    def rank(output: Output) -> list[int]:
        return [allowed.index(entry) if allowed else 0 for entry, allowed in zip(output, kit.order, strict=True)]

    if kit.policy == "UNIQUE":
        assert len(found) <= 1
    elif kit.policy == "ANY":
        assert len(set(found)) <= 1
        return found[:1]
    elif kit.policy == "FIRST":
        return found[:1]
    elif kit.policy == "PRIORITY":
        return sorted(found, key=rank)[:1]
    elif kit.policy == "OUTPUT ORDER":
        return sorted(found, key=rank)
    elif kit.policy in ("COLLECT MIN", "COLLECT SUM", "COLLECT COUNT"):
        numbers = [float(number) if number[-1:].isdigit() else 0.0 for number, in found]
        return [(f"{ {'MIN': min, 'SUM': sum, 'COUNT': len}[kit.policy.split()[1]](numbers):.6g}",)]
    return found


def read_kit(path: Path) -> Kit:
    """The decision table of a model and the cases beside it."""
    model = ElementTree.parse(path).getroot()
    table = next(model.iter(tag(model, "decisionTable")))
    names = [text(one.find(tag(table, "inputExpression"))) for one in table.findall(tag(table, "input"))]
    kinds = [one.find(tag(table, "inputExpression")).get("typeRef") for one in table.findall(tag(table, "input"))]
    types = {one.get("name"): words(text(one.find(tag(model, "allowedValues"))))
             for one in model.iter(tag(model, "itemDefinition")) if one.find(tag(model, "allowedValues")) is not None}
    outputs = table.findall(tag(table, "output"))
    order = tuple(tuple(words(text(one.find(tag(table, "outputValues"))))) or tuple(types.get(one.get("typeRef"), ())) for one in outputs)
    rules = []
    for rule in table.findall(tag(table, "rule")):
        cells = dict(zip(names, (text(one) for one in rule.findall(tag(table, "inputEntry"))), strict=True))
        rules.append(Rule({name: cell for name, cell in cells.items() if cell != "-"},
                          tuple(text(one).strip('"') for one in rule.findall(tag(table, "outputEntry")))))
    policy = " ".join(filter(None, (table.get("hitPolicy", "UNIQUE"), table.get("aggregation"))))
    return Kit(policy, dict(zip(names, kinds, strict=True)), order, tuple(rules), tuple(read_asked(path, [
        output.get("name") for output in outputs])))


def read_asked(path: Path, columns: list[str]) -> Iterator[tuple[dict[str, str], list[Output]]]:
    """Per case the answers as they are typed, and the expected outputs."""
    cases = ElementTree.parse(path.with_name(f"{path.stem}-test-01.xml")).getroot()
    for case in cases.iter(tag(cases, "testCase")):
        answers = {ident(node.get("name")): typed("".join(node.itertext()).strip()) for node in case.findall(tag(cases, "inputNode"))}
        expected = case.find(f"{tag(cases, 'resultNode')}/{tag(cases, 'expected')}")
        items = expected.findall(f"{tag(cases, 'list')}/{tag(cases, 'item')}") or [expected]
        yield answers, [tuple("".join(part.itertext()).strip() for part in sorted(
            item.findall(tag(cases, "component")), key=lambda one: columns.index(one.get("name"))) or [item]) for item in items]


def write_data(kit: Kit, folder: Path) -> None:
    """A data folder that says the same: one decision with one candidate, refused by every rule that matches."""
    said = {name: sorted({word for rule in kit.rules for word in words(rule.cells.get(name, ""))}
                         | {answers[ident(name)] for answers, _ in kit.asked}) for name in kit.inputs}
    common = {"per": "state", "group": "Asked", "help": "Of the kit.", "asked_of": "process", "blank": "Open."}
    shapes = {"number": lambda name: {"kind": "number", "quantity": "ratio", "range": "[-1000000..1000000]"},
              "boolean": lambda name: {"kind": "yes_no"},
              "string": lambda name: {"kind": "choice", "choices": [{"id": ident(word), "title": word} for word in said[name]]}}
    files: dict[str, object] = {
        "guide.yml": {"company": "None", "title": "A table of the kit", "edition": "1", "notice": "For tests."},
        "states.yml": [{"id": "normal", "title": "Normal", "measuring": "yes", "help": "The only one."}],
        "quantities.yml": [{"id": "ratio", "title": "Number", "unit": "1", "symbol": "", "spellings": [
            {"text": "1", "pint": "dimensionless"}]}],
        "inputs.yml": [{"id": ident(name), "title": name, **shapes[kind](name), **common} for name, kind in kit.inputs.items()],
        "decisions.yml": [{"id": "kit", "title": "Kit", "catalogue": "kits", "question": "Which rules match?", "about": "Of the kit."}],
        **{f"{name}.yml": [] for name in ("sources", "cautions", "derived", "pipe_sizes", "waivers")},
        "catalogues/kits/it.yml": [{"id": "it", "title": "It", "order": 1, "about": "The only one.", "basis": BASIS}],
    }
    for number, rule in enumerate(kit.rules):
        when = {ident(name): cell_of(kit.inputs[name], cell) for name, cell in rule.cells.items()}
        files[f"tables/rule_{number}.yml"] = {
            "id": f"rule_{number}", "title": f"Rule {number}", "about": "Of the kit.", "hit_policy": "collect", "while": "always",
            "inputs": ["kit", *map(ident, kit.inputs)],
            "rules": [{"id": f"rule_{number}.matches_{number}", "when": when, "then": "unsuitable", "because": "It matches.",
                       "basis": BASIS}]}
    for name, content in files.items():
        (folder / name).parent.mkdir(parents=True, exist_ok=True)
        (folder / name).write_text(json.dumps(content, indent=1), "utf-8")   # JSON is YAML with quotes


def cell_of(kind: str, cell: str) -> object:
    """A cell as ours: a test of a number stays as it is, of texts it is a list of ids."""
    if kind == "number":
        return cell
    return [{"true": "yes", "false": "no"}[cell]] if kind == "boolean" else [ident(word) for word in words(cell)]


def typed(value: str) -> str:
    return {"true": "yes", "false": "no"}.get(value, value)


def words(cell: str) -> list[str]:
    return re.findall('"([^"]*)"', cell)


def ident(name: str) -> str:
    return re.sub("[^a-z0-9]+", "_", name.lower())


def text(node: ElementTree.Element | None) -> str:
    return "" if node is None else "".join(node.itertext()).strip()


def tag(node: ElementTree.Element, name: str) -> str:
    """The name in the namespace of a node."""
    return node.tag[:node.tag.index("}") + 1] + name
