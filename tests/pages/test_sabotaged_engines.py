"""Rules, formulas and scripts that the pages were not made from are reported with page, table and cell."""

from __future__ import annotations

import json
import shutil
from dataclasses import replace
from pathlib import Path

from generator.pack.model import Pack
from tests.pages.comparing import compare_tables
from tests.pages.comparing_numbers import compare_calculators
from tests.pages.engines import OWN_SCRIPTS, BrowserEngine, PythonEngine
from tests.pages.reading import Site
from tests.pages.sabotage import reports

HOT = "tables/liner_temperature/"


def test_a_calculator_with_a_wrong_factor_is_reported(
    site: Site, python_engine: PythonEngine, pack: Pack
) -> None:
    document = json.loads(site.pack_text)
    formula = next(item for item in document["formulas"] if item["id"] == "mean_velocity")
    formula["expression"] = ["multiply", ["number", 1.001], formula["expression"]]
    with BrowserEngine(OWN_SCRIPTS, json.dumps(document)) as altered:
        reports(compare_calculators(site, (python_engine, altered), pack),
                 "formulas/mean_velocity/", "mean_velocity", "worked example 1", "Result")


def test_a_pack_older_than_the_pages_is_reported(site: Site, python_engine: PythonEngine, pack: Pack) -> None:
    document = json.loads(site.pack_text)
    table = next(item for item in document["tables"] if item["id"] == "liner_temperature")
    ends = [part for column in table["columns"] if column["kind"] == "number" for cell in column["cells"]
            for part in cell["intervals"]]
    for part in ends:
        part.update({end: 45.0 for end in ("low", "high") if part[end] == 40.0})
    with BrowserEngine(OWN_SCRIPTS, json.dumps(document)) as stale:
        reports(
            compare_tables(site, (python_engine, stale), pack, ["liner_temperature"]),
            HOT,
            "liner_temperature",
            "liner_temperature.polyurethane_within",
            "Highest temperature 'up to 40 °C'",
            also=False,
        )


def test_a_comparison_changed_in_the_browsers_engine_alone_is_reported(
        tmp_path: Path, site: Site, python_engine: PythonEngine, pack: Pack) -> None:
    scripts = _scripts_with(tmp_path, "columns.js", "part.high_in && number === part.high", "false")
    with BrowserEngine(scripts, site.pack_text) as altered:
        findings = compare_tables(site, (python_engine, altered), pack, ["liner_temperature"])
    reports(
        findings, HOT, "liner_temperature", "liner_temperature.polyurethane_within", "Verdict", also=False
    )
    assert "JavaScript decides" in findings.text() and "Python decides" not in findings.text()


def test_a_condition_forgotten_in_the_browsers_engine_alone_is_reported(
        tmp_path: Path, site: Site, python_engine: PythonEngine, pack: Pack) -> None:
    scripts = _scripts_with(tmp_path, "columns.js", "rows: one.rows & other.rows", "rows: one.rows")
    page = "tables/ring_chloride/"
    with BrowserEngine(scripts, site.pack_text) as altered:
        findings = compare_tables(
            site, (python_engine, altered), pack, ["ring_chloride"], ["seawater", "sodium_hypochlorite"]
        )
    reports(
        findings,
        page,
        "ring_chloride",
        "ring_chloride.too_much",
        "Medium 'any medium flagged chloride unstated'",
        also=False,
    )


def test_a_rule_changed_in_pythons_pack_alone_is_reported(
    site: Site, pack: Pack, browser_engine: BrowserEngine
) -> None:
    table = next(item for item in pack.tables if item.id == "liner_wear")
    rows = (replace(table.rows[1], verdict=0), *(row for row in table.rows if row is not table.rows[1]))
    altered = replace(pack, tables=(replace(table, rows=rows),))
    findings = compare_tables(site, (PythonEngine(altered), browser_engine), altered, ["liner_wear"])
    reports(findings, "tables/liner_wear/", "liner_wear", table.rows[1].rule, "Verdict")
    assert "Python decides unsuitable" in findings.text() and "JavaScript decides" not in findings.text()


# private

def _scripts_with(folder: Path, name: str, right: str, wrong: str) -> Path:
    """A copy of the browser's engine with one altered line."""
    scripts = folder / "engine"
    shutil.copytree(OWN_SCRIPTS, scripts)
    text = (scripts / name).read_text("utf-8")
    assert text.count(right) >= 1, f"{name} no longer holds {right}"
    (scripts / name).write_text(text.replace(right, wrong), "utf-8")
    return scripts
