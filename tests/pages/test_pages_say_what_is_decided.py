"""What the finished pages show is what both engines decide: in every cell, on every limit and beside it."""

from __future__ import annotations

import pytest

from generator.pack.model import Pack
from tests.pages.comparing import compare_mentions, compare_repeated, compare_tables
from tests.pages.comparing_numbers import compare_bores, compare_calculators, compare_limits, compare_ranges
from tests.pages.differences import Findings
from tests.pages.engines import BrowserEngine, PythonEngine
from tests.pages.reading import Site

Engines = tuple[PythonEngine, BrowserEngine]


@pytest.fixture(scope="module")
def engines(python_engine: PythonEngine, browser_engine: BrowserEngine) -> Engines:
    return python_engine, browser_engine


def test_every_table_and_matrix_shows_what_both_engines_decide(
    site: Site, engines: Engines, pack: Pack
) -> None:
    findings = compare_tables(site, engines, pack)
    _expect_nothing(findings)
    letters = sum(row.rule.count(".") == 3 for table in pack.tables for row in table.rows)
    assert findings.counts["tables"] == len(pack.tables)
    assert findings.counts["rows and cells"] >= letters
    assert findings.counts["points"] >= 50_000


def test_tables_repeated_in_prose_are_the_tables(site: Site, engines: Engines, pack: Pack) -> None:
    findings = compare_repeated(site, engines, pack)
    _expect_nothing(findings)
    assert findings.counts["tables in prose"] >= 5


def test_rules_named_on_other_pages_are_those_of_their_tables(site: Site, pack: Pack) -> None:
    findings = compare_mentions(site)
    _expect_nothing(findings)
    assert findings.counts["with their conditions"] >= sum(row.rule.count(".") == 3
                                                           for table in pack.tables for row in table.rows)


def test_limits_in_prose_are_limits_of_their_rules(site: Site, engines: Engines, pack: Pack) -> None:
    findings = compare_limits(site, engines, pack)
    _expect_nothing(findings)
    assert findings.counts["limits in prose"] >= 10


def test_ranges_of_the_data_sheet_are_what_both_engines_take(
    site: Site, engines: Engines, pack: Pack
) -> None:
    findings = compare_ranges(site, engines, pack)
    _expect_nothing(findings)
    assert findings.counts["answers at the ends of a range"] == 12 * len(site.ranges)


def test_bores_of_the_sizes_are_those_that_the_formulas_take(site: Site, pack: Pack) -> None:
    findings = compare_bores(site, pack)
    _expect_nothing(findings)


def test_worked_examples_and_validity_of_each_formula_hold_in_both_engines(site: Site, engines: Engines,
                                                                          pack: Pack) -> None:
    findings = compare_calculators(site, engines, pack)
    _expect_nothing(findings)
    assert findings.counts["calculators"] == len(pack.formulas)
    assert findings.counts["worked examples"] >= len(pack.formulas)


# private

def _expect_nothing(findings: Findings) -> None:
    print("compared:", ", ".join(f"{count} {name}" for name, count in findings.counts.items()))
    assert not findings.differences, f"{len(findings.differences)} differences\n{findings.text()}"
