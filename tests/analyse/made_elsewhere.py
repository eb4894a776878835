"""Gives back a small data folder around one table written by hand, and all that `guide check` finds in it."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from generator.commands.main import main

Rules = list[tuple[str, dict[str, str], str]]        # name, conditions as typed, verdict

_FOLDER = {
    "guide.yml": "{company: C, title: T, edition: one, notice: N, repository: R}",
    "quantities.yml": "- {id: temperature, title: Temperature, unit: degC, symbol: °C, "
                      "spellings: [{text: degC, pint: degree_Celsius}]}\n"
                      "- {id: share, title: Share, unit: mass %, symbol: mass %, "
                      "spellings: [{text: mass %, pint: percent}]}",
    "inputs.yml": """\
- {id: heat, title: Heat, kind: number, quantity: temperature, range: "[0..100]", per: state, group: G, help: H.,
   asked_of: process, blank: B.}
- {id: share, title: Share, kind: number, quantity: share, range: "[0..100]", per: state, group: G, help: H.,
   asked_of: process, blank: B., not_applicable: yes}
- {id: service, title: Service, kind: choice, per: state, group: G, help: H., asked_of: process, blank: B.,
   choices: [{id: clean, title: Clean}, {id: slurry, title: Slurry}, {id: pulp, title: Pulp}]}
""",
    "states.yml": "- {id: normal, title: Normal, measuring: yes, help: H.}",
    "decisions.yml": "- {id: liner, title: Liner, catalogue: liners, question: Q?, about: A.}",
    "catalogues/liners/liners.yml": "- {id: pfa, title: PFA, order: 1, basis: {kind: common_practice}}\n"
                                    "- {id: epdm, title: EPDM, order: 2, basis: {kind: common_practice}}",
} | {f"{name}.yml": "[]" for name in ("derived", "sources", "cautions", "pipe_sizes", "waivers")}


def write_folder(folder: Path, rules: Rules, policy: str = "unique", otherwise: str = "", waivers: str = "[]",
                 because: dict[str, str] | None = None, columns: str = "liner, heat, share, service") -> Path:
    """The folder with one table `t`. A rule's reason is its own name unless `because` gives it another; its line is
    7 + 5 times its place, as every rule takes five lines."""
    reasons = because or {}
    text = f"id: t\ntitle: Table\nabout: A.\nhit_policy: {policy}\nwhile: always\ninputs: [{columns}]\n"
    text += "rules:\n" if rules else ""
    for name, when, then in rules:
        conditions = ", ".join(f"{column}: {cell}" for column, cell in when.items())
        text += (f"  - id: t.{name}\n    when: {{{conditions}}}\n    then: {then}\n"
                 f"    because: {reasons.get(name, f'Reason of {name}.')}\n    basis: {{kind: physics}}\n")
    text += f"otherwise: {{verdict: {otherwise}, because: Else.}}\n" if otherwise else ""
    for name, content in (_FOLDER | {"tables/t.yml": text, "waivers.yml": waivers}).items():
        path = folder / name
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text(content + "\n", "utf-8")
    return folder


def checked(folder: Path, capsys: pytest.CaptureFixture[str]) -> tuple[int, dict]:
    """The exit code and the document of `guide check --json` on the folder."""
    code = main(["check", "--data", str(folder), "--guide", str(folder / "none"), "--json"])
    return code, json.loads(capsys.readouterr().out)


def told(document: dict, *kinds: str) -> list[tuple[str, tuple[str, ...], str]]:
    """Findings of the kinds as (kind, rules without their table, region), in order."""
    return [(one["kind"], tuple(rule.removeprefix("t.") for rule in one["rules"]), one["region"])
            for one in document["findings"] if one["kind"] in kinds]
