"""Each named defect of a page or of a renderer is reported with page, table and cell.

Every test puts one defect in and takes nothing else away; the same comparison passes without it in
`test_pages_say_what_is_decided`.
"""

from __future__ import annotations

import math
import re
from collections.abc import Callable, Iterator
from dataclasses import replace

import pytest

from generator.pack.model import Pack
from generator.pack.texts import Texts
from generator.problems import Place
from generator.publish.links import Targets, directory_url, resolved
from generator.render import parts, tables, words
from generator.render.library import Library, library
from tests.pages.comparing import compare_mentions, compare_repeated, compare_tables
from tests.pages.comparing_numbers import compare_bores, compare_calculators, compare_limits, compare_ranges
from tests.pages.differences import Findings
from tests.pages.engines import BrowserEngine, Engine, PythonEngine
from tests.pages.html_tree import plain_words
from tests.pages.reading import Site
from tests.pages.sabotage import altered, reports, swapped

HOT = "tables/liner_temperature/"
BLEACH = "media/sodium_hypochlorite/"
SOME = (
    "sodium_hypochlorite",
    "hydrochloric_acid",
    "nitric_acid",
    "seawater",
)  # media with several kinds of flags

Printed = Callable[[str], Site]


@pytest.fixture(scope="module")
def lib(knowledge: tuple[Pack, Texts]) -> Library:
    return library(*knowledge)


@pytest.fixture
def printed_anew(site: Site, lib: Library) -> Iterator[Printed]:
    """The site with one table's page printed by the renderer as it now is, for renderers with a defect."""
    def anew(page: str) -> Site:
        made = next(made for made in tables.table_pages(lib) if made.address == page)
        body, _ = resolved(made.body, page, Place(page), Targets({}), directory_url)
        return site.changed({page: body})

    parts.verdict_mark.cache_clear()
    yield anew
    parts.verdict_mark.cache_clear()


@pytest.fixture
def engines(python_engine: PythonEngine, browser_engine: BrowserEngine) -> tuple[Engine, Engine]:
    return python_engine, browser_engine


def test_a_page_printed_anew_without_a_defect_shows_no_difference(
    printed_anew: Printed, engines: tuple[Engine, Engine], pack: Pack
) -> None:
    findings = compare_tables(printed_anew(HOT), engines, pack, ["liner_temperature"])
    assert not findings.differences, findings.text()
    assert findings.counts["verdicts"] > 1000


def test_swapped_cells_are_reported(site: Site, engines: tuple[Engine, Engine], pack: Pack) -> None:
    changed = swapped(site, HOT, "<td>up to 110 °C", "<td>above 110 up to 120 °C")
    reports(
        compare_tables(changed, engines, pack, ["liner_temperature"]),
        HOT,
        "liner_temperature",
        "liner_temperature.pfa_within",
        "Highest temperature 'above 110 up to 120 °C'",
    )


def test_up_to_printed_as_below_is_reported(monkeypatch: pytest.MonkeyPatch, printed_anew: Printed,
                                            engines: tuple[Engine, Engine], pack: Pack) -> None:
    right = words.interval_text
    monkeypatch.setattr(words, "interval_text", lambda interval, *rest: right(
        replace(interval, high_in=False) if math.isfinite(interval.high) else interval, *rest))
    reports(
        compare_tables(printed_anew(HOT), engines, pack, ["liner_temperature"]),
        HOT,
        "liner_temperature",
        "liner_temperature.polyurethane_within",
        "Highest temperature 'below 40 °C'",
    )


def test_above_printed_as_from_is_reported(monkeypatch: pytest.MonkeyPatch, printed_anew: Printed,
                                           engines: tuple[Engine, Engine], pack: Pack) -> None:
    right = words.interval_text
    monkeypatch.setattr(
        words, "interval_text", lambda interval, *rest: right(replace(interval, low_in=True), *rest)
    )
    reports(
        compare_tables(printed_anew(HOT), engines, pack, ["liner_temperature"]),
        HOT,
        "liner_temperature",
        "liner_temperature.polyurethane_too_hot",
        "Highest temperature '40 °C or more'",
    )


def test_a_dropped_row_is_reported(site: Site, engines: tuple[Engine, Engine], pack: Pack) -> None:
    changed = altered(site, HOT, r'<tr id="rule-liner_temperature\.epdm_too_hot">.*?</tr>', "")
    reports(compare_tables(changed, engines, pack, ["liner_temperature"]),
             HOT, "liner_temperature", "liner_temperature.epdm_too_hot", "the whole row")


def test_a_row_said_twice_is_reported(site: Site, engines: tuple[Engine, Engine], pack: Pack) -> None:
    changed = altered(site, HOT, r'(<tr id="rule-liner_temperature\.epdm_within">.*?</tr>)', r"\1\1")
    reports(compare_tables(changed, engines, pack, ["liner_temperature"]),
             HOT, "liner_temperature", "liner_temperature.epdm_within", "Verdict")


def test_a_wrong_unit_in_a_cell_is_reported(site: Site, engines: tuple[Engine, Engine], pack: Pack) -> None:
    changed = altered(site, HOT, r"(<td>up to 90)\s°C", r"\1 °F")
    reports(compare_tables(changed, engines, pack, ["liner_temperature"]),
             HOT, "liner_temperature", "liner_temperature.ptfe_within", "Highest temperature")


def test_a_wrong_unit_of_the_whole_table_is_reported(monkeypatch: pytest.MonkeyPatch, printed_anew: Printed,
                                                     engines: tuple[Engine, Engine], pack: Pack) -> None:
    right = words.number_text
    monkeypatch.setattr(words, "number_text",
                        lambda value, unit="": right(value, "°F" if unit == "°C" else unit))
    reports(compare_tables(printed_anew(HOT), engines, pack, ["liner_temperature"]),
             HOT, "liner_temperature", "What it reads", "Highest temperature")


def test_a_number_rounded_up_is_reported(monkeypatch: pytest.MonkeyPatch, printed_anew: Printed,
                                         engines: tuple[Engine, Engine], pack: Pack) -> None:
    page = "tables/size_velocity_max/"
    right = words.number_text
    monkeypatch.setattr(words, "number_text", lambda value, unit="": right(float(math.ceil(value)), unit))
    reports(compare_tables(printed_anew(page), engines, pack, ["size_velocity_max"]),
             page, "size_velocity_max", "size_velocity_max.abrasive_fine_slow_enough",
             "Velocity in the sensor at highest flow 'up to 3 m/s'")


def test_a_number_rounded_to_four_digits_is_reported(
    site: Site, engines: tuple[Engine, Engine], pack: Pack
) -> None:
    page = "tables/liner_permeation/"
    changed = altered(site, page, r"<td>above 1\.01325", "<td>above 1.0133")
    reports(
        compare_tables(changed, engines, pack, ["liner_permeation"], SOME),
        page,
        "liner_permeation",
        "liner_permeation.sudden_vent",
        "Fall from the highest to the lowest pressure 'above 1.0133 bar'",
    )


def test_a_verdict_word_swapped_under_its_old_class_is_reported(site: Site, engines: tuple[Engine, Engine],
                                                               pack: Pack) -> None:
    changed = altered(
        site,
        HOT,
        r'(<tr id="rule-liner_temperature\.polyurethane_too_hot">.*?</span>)unsuitable',
        r"\1suitable",
    )
    assert 'class="verdict verdict--unsuitable"' in changed.pages[HOT]
    reports(compare_tables(changed, engines, pack, ["liner_temperature"]),
             HOT, "liner_temperature", "liner_temperature.polyurethane_too_hot", "Verdict")


def test_a_missing_row_of_otherwise_is_reported(
    site: Site, engines: tuple[Engine, Engine], pack: Pack
) -> None:
    page = "tables/ring_chemistry/"
    changed = altered(site, page, r'<tr id="rule-ring_chemistry\.otherwise">.*?</tr>', "")
    reports(compare_tables(changed, engines, pack, ["ring_chemistry"], ["acetic_acid"]),
             page, "ring_chemistry", "ring_chemistry.otherwise", "the whole row")


def test_a_region_wrongly_said_to_fall_to_otherwise_is_reported(site: Site, engines: tuple[Engine, Engine],
                                                               pack: Pack) -> None:
    page = "tables/ring_chemistry/"
    changed = altered(site, page, r"(<td>Acetic acid</td><td>up to 80\smass %</td><td>above )80", r"\g<1>79")
    reports(
        compare_tables(changed, engines, pack, ["ring_chemistry"], ["acetic_acid"]),
        page,
        "ring_chemistry",
        "else: any but No ring | Acetic acid | up to 80 mass % | above 79 °C",
        "the region",
    )


def test_a_wrong_flag_is_reported(site: Site, engines: tuple[Engine, Engine], pack: Pack) -> None:
    page = "tables/liner_permeation/"
    changed = altered(site, page, "<td>any medium flagged permeating", "<td>any medium flagged oxidiser")
    reports(compare_tables(changed, engines, pack, ["liner_permeation"], SOME), page, "liner_permeation",
             "liner_permeation.gas", "Medium 'any medium flagged oxidiser'")


def test_a_run_of_sizes_that_ends_too_early_is_reported(
    site: Site, engines: tuple[Engine, Engine], pack: Pack
) -> None:
    page = "tables/liner_size_range/"
    changed = altered(site, page, r"<td>DN 15 to DN 400</td><td>PTFE", "<td>DN 15 to DN 350</td><td>PTFE")
    reports(compare_tables(changed, engines, pack, ["liner_size_range"]), page, "liner_size_range",
             "liner_size_range.ptfe_made", "Sensor size 'DN 15 to DN 350'")


def test_two_heads_of_columns_swapped_are_reported(
    site: Site, engines: tuple[Engine, Engine], pack: Pack
) -> None:
    page = "tables/electrode_ring/"
    heads = re.search(r"<thead><tr>(<th.*?</th>)(<th.*?</th>)", site.pages[page])
    changed = site.changed({page: site.pages[page].replace(heads[1] + heads[2], heads[2] + heads[1], 1)})
    reports(compare_tables(changed, engines, pack, ["electrode_ring"]), page, "electrode_ring",
             "electrode_ring.no_ring", "Electrode material")


def test_two_heads_of_the_same_unit_swapped_are_reported(
    site: Site, engines: tuple[Engine, Engine], pack: Pack
) -> None:
    page = "tables/liner_velocity/"
    at_normal, at_highest = re.findall(
        r'<th scope="col"><a href="[^"]*mean_velocity/">[^<]*</a></th>', site.pages[page]
    )
    changed = site.changed(
        {page: site.pages[page].replace(at_normal + at_highest, at_highest + at_normal, 1)}
    )
    reports(compare_tables(changed, engines, pack, ["liner_velocity"]), page, "liner_velocity", "heads",
             "Velocity in the sensor at highest flow")


def test_two_materials_of_a_matrix_swapped_are_reported(
    site: Site, engines: tuple[Engine, Engine], pack: Pack
) -> None:
    text = site.pages[BLEACH]
    heads = re.search(r'(<th scope="col"><a href="[^"]*titanium/">Titanium</a></th>)(<th.*?</th>)', text)
    changed = site.changed({BLEACH: text.replace(heads[1] + heads[2], heads[2] + heads[1], 1)})
    reports(_in_bleach(changed, engines, pack), BLEACH, "electrode_chemistry",
             "Up to 0.02 mass %, up to 40 °C x titanium", "Electrode material")


def test_another_mediums_band_is_reported(site: Site, engines: tuple[Engine, Engine], pack: Pack) -> None:
    other = "media/sodium_hydroxide/"
    first = re.compile(
        r'(id="table-electrode_chemistry".*?<tbody>\s*)(<tr><th scope="row">(.*?)</th>.*?</tr>)', re.DOTALL
    )
    band = first.search(site.pages[other])
    changed = site.changed({BLEACH: first.sub(lambda match: match[1] + band[2], site.pages[BLEACH], count=1)})
    reports(_in_bleach(changed, engines, pack), BLEACH, "electrode_chemistry",
             f"{plain_words(band[3])} x stainless_316l", "Medium")


def test_two_bands_swapped_are_reported(site: Site, engines: tuple[Engine, Engine], pack: Pack) -> None:
    changed = swapped(site, BLEACH, '"row">Above 1 up to 15 mass %, up to 25 °C<',
                       '"row">Above 1 up to 15 mass %, above 25 up to 40 °C<', "table-electrode_chemistry")
    reports(_in_bleach(changed, engines, pack), BLEACH, "electrode_chemistry",
             "Above 1 up to 15 mass %, above 25 up to 40 °C x nickel_alloy_c276",
             "Highest temperature 'above 25 up to 40 °C'")


def test_a_letter_swapped_on_the_page_of_a_candidate_is_reported(site: Site) -> None:
    page = "liners/pfa/"
    changed = altered(
        site,
        page,
        r'(href="\.\./\.\./media/seawater/#rule-liner_chemistry\.seawater\.b1\.pfa">.*?'
        r"</span>)suitable",
        r"\1caution",
    )
    reports(
        compare_mentions(changed, [page]),
        page,
        "liner_chemistry",
        "liner_chemistry.seawater.b1.pfa",
        "Verdict",
    )


def test_a_limit_altered_on_the_page_of_a_candidate_is_reported(site: Site) -> None:
    page = "liners/polyurethane/"
    changed = altered(site, page, r"above 40(?=\s°C)", "above 45")
    reports(
        compare_mentions(changed, [page]),
        page,
        "liner_temperature",
        "liner_temperature.polyurethane_too_hot",
        "Conditions",
    )


def test_a_verdict_altered_in_the_register_is_reported(site: Site) -> None:
    changed = altered(
        site, "rules/", r"(>liner_<wbr>temperature\.<wbr>polyurethane_<wbr>too_<wbr>hot</a>.*?</span>)unsuitable", r"\1caution"
    )
    reports(compare_mentions(changed, ["rules/"]), "rules/", "liner_temperature",
             "liner_temperature.polyurethane_too_hot", "Verdict")


def test_a_table_in_prose_that_is_older_than_its_page_is_reported(site: Site, engines: tuple[Engine, Engine],
                                                                 pack: Pack) -> None:
    page = "choosing/liner/"
    changed = altered(site, page, r"<td>Polyurethane</td><td>up to 40", "<td>Polyurethane</td><td>up to 45")
    reports(compare_repeated(changed, engines, pack), page, "liner_temperature",
             "liner_temperature.polyurethane_within", "Highest temperature 'up to 45 °C'")


def test_a_limit_in_prose_that_is_not_the_rules_is_reported(site: Site, engines: tuple[Engine, Engine],
                                                           pack: Pack) -> None:
    page = "choosing/liner/"
    changed = altered(
        site, page, r'(#rule-liner_temperature\.polyurethane_too_hot">)40(\s°C</a>)', r"\g<1>45\2"
    )
    reports(compare_limits(changed, engines, pack), page, "liner_temperature",
             "liner_temperature.polyurethane_too_hot", "45 °C")


def test_a_number_typed_into_prose_is_reported(
    site: Site, engines: tuple[Engine, Engine], pack: Pack
) -> None:
    page = "choosing/liner/"
    changed = altered(site, page, "one hot wash is enough", "one wash at 45 °C is enough")
    findings = compare_limits(changed, engines, pack)
    assert [
        (found.page, "one wash at 45 °C is enough" in found.cell) for found in findings.differences.values()
    ] == [(page, True)], findings.text()


def test_a_range_of_the_data_sheet_in_another_unit_is_reported(site: Site, engines: tuple[Engine, Engine],
                                                              pack: Pack) -> None:
    changed = altered(site, "inputs/", r"0 to 100\smass %", "0 to 100 g/kg")
    reports(compare_ranges(changed, engines, pack), "inputs/", "data sheet", "concentration", "Range")


def test_a_wrong_bore_is_reported(site: Site, pack: Pack) -> None:
    changed = altered(site, "sizes/", r'(<tr id="size-dn80">.*?<td class="g-number">)80', r"\g<1>82")
    reports(compare_bores(changed, pack), "sizes/", "sizes", "dn80", "Nominal bore")


def test_a_wrong_result_of_a_worked_example_is_reported(
    site: Site, engines: tuple[Engine, Engine], pack: Pack
) -> None:
    page = "formulas/mean_velocity/"
    changed = altered(site, page, r"<dd>1\.76838\d*", "<dd>1.7683")
    reports(compare_calculators(changed, engines, pack), page, "mean_velocity", "worked example 1", "Result")


def test_a_letter_that_is_said_to_hold_too_far_is_reported(site: Site, engines: tuple[Engine, Engine],
                                                          pack: Pack) -> None:
    page = "formulas/mean_velocity/"
    changed = altered(site, page, r"from 1 up to 3000", "from 0.5 up to 3000")
    reports(
        compare_calculators(changed, engines, pack), page, "mean_velocity", "Bore of the sensor", "Holds for"
    )


def test_a_table_that_no_page_shows_is_reported(
    site: Site, engines: tuple[Engine, Engine], pack: Pack
) -> None:
    changed = site.changed({})
    del changed.pages["tables/liner_wear/"]
    reports(
        compare_tables(changed, engines, pack, ["liner_wear"]), "tables/liner_wear/", "liner_wear", "-", "-"
    )


# private

def _in_bleach(site: Site, engines: tuple[Engine, Engine], pack: Pack) -> Findings:
    return compare_tables(site, engines, pack, ["electrode_chemistry"], ["sodium_hypochlorite"])
