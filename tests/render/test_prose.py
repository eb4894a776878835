"""Prose takes numbers and tables by reference; what leads nowhere is said with place and fix."""

from __future__ import annotations

from pathlib import Path

import pytest

from generator.problems import Refused
from generator.render.prose import check_prose, read_prose
from tests.render.small_pack import small_pack
from tests.render.small_texts import small_texts

HEAD = "---\ntitle: A page\nsection: Learn\n---\n"
NB = "\u00a0"


@pytest.fixture
def guide(tmp_path) -> Path:
    folder = tmp_path / "guide"
    folder.mkdir()
    return folder


def printed(guide: Path, lib, text: str) -> str:
    (guide / "page.md").write_text(HEAD + text, "utf-8")
    return read_prose(guide, lib)[0].markdown


def problems(guide: Path, text: str) -> list[str]:
    (guide / "page.md").write_text(text, "utf-8")
    return [str(problem) for problem in check_prose(guide, small_pack(), small_texts())]


@pytest.mark.parametrize(
    ("typed", "said"),
    [
        (
            "limit liner_temperature.polyurethane_hot temperature_max",
            f"[40{NB}°C](page:tables/liner_temperature/#rule-liner_temperature.polyurethane_hot)",
        ),
        (
            "condition liner_temperature.polyurethane_hot temperature_max",
            f"[above 40{NB}°C](page:tables/liner_temperature/#rule-liner_temperature.polyurethane_hot)",
        ),
        ("title liner.pfa", "PFA"),
        ("title medium.seawater", "Seawater"),
        ("title state.cleaning", "Cleaning"),
        ("link liner.pfa", "[PFA](page:liners/pfa/)"),
        ("link size.dn50", "[DN 50](page:sizes/#size-dn50)"),
        ("link page.inputs", "[data sheet](page:inputs/)"),
        ("link decision.liner", "[Liner](page:choosing/liner/)"),
        ("because liner_temperature.pfa", "Far from its limit."),
        ("value size.dn100.nominal_bore", "100 mm"),
        ("count liner", "3"),
        ("value medium.seawater.conductivity", "30000 to 60000 µS/cm"),
    ],
)
def test_reference_gives_what_the_data_says(guide, lib, typed, said):
    assert printed(guide, lib, f"So {{{{ {typed} }}}} it is.\n") == f"So {said} it is.\n"


@pytest.mark.parametrize(
    ("typed", "part"),
    [
        ("table liner_temperature", "Hot water hydrolyses polyurethane."),
        ("candidates size", "page:sizes/#size-dn50"),
        ("formula mean_velocity", "<math"),
        ("cautions", "Depressurise and drain"),
    ],
)
def test_block_reference_gives_html_without_a_blank_line(guide, lib, typed, part):
    text = printed(guide, lib, f"Before.\n\n{{{{ {typed} }}}}\n\nAfter.\n")
    block = text.removeprefix("Before.\n\n").removesuffix("\n\nAfter.\n")
    assert part in block and "\n\n" not in block and block.startswith("<")


@pytest.mark.parametrize(
    ("text", "said"),
    [
        (
            HEAD + "A {{ title liner.pfb }}\n",
            "guide/page.md:5:3: P001: there is no candidate of 'liner' 'pfb'; fix: type 'pfa'",
        ),
        (
            HEAD + "{{ titel liner.pfa }}\n",
            "guide/page.md:5:1: P001: there is no reference called 'titel'; "
            "fix: type one of because, candidates, cautions, "
            "condition, count, formula, limit, link, table, title, value, worked_answer, worked_formula, worked_margins, worked_next, worked_patterns, "
            "worked_question, worked_table; did you mean 'title'?",
        ),
        (
            HEAD + "{{ table liner_temperatur }}\n",
            "guide/page.md:5:1: P001: there is no table 'liner_temperatur'; fix: type 'liner_temperature'",
        ),
        (
            HEAD + "{{ limit liner_temperature.pfa temperature_max }}\n",
            "guide/page.md:5:1: P001: rule 'liner_temperature.pfa' sets no single condition on the "
            "number 'temperature_max'; "
            "fix: name a column in which the rule has one number condition",
        ),
        (
            HEAD + "{{ limit size_velocity.beside_window velocity_normal }}\n",
            "guide/page.md:5:1: P001: rule 'size_velocity.beside_window' has 3 limits on "
            "'velocity_normal', not one; "
            "fix: type {{ condition size_velocity.beside_window velocity_normal }} for the whole condition",
        ),
        (
            HEAD + "{{ limit liner_temperature.pfa }}\n",
            "guide/page.md:5:1: P001: 'limit' takes 2 words, here are 1; "
            "fix: type {{ limit <rule> <column> }}",
        ),
        (
            HEAD + "See {{ table liner_temperature }} here.\n",
            "guide/page.md:5:5: P001: 'table' gives a whole block and stands inside a line; "
            "fix: let the reference stand alone on its line",
        ),
        (
            HEAD + "See {{ title liner.pfa\n",
            "guide/page.md:5:5: P002: a reference begins with {{ and does not end on this line; "
            "fix: close it with }}",
        ),
        (
            HEAD + "{{ }}\n",
            "guide/page.md:5:1: P001: a reference is empty; "
            "fix: type {{ title liner.pfa }}, or take the braces out",
        ),
        (
            HEAD + "Up to 40 degrees.\n",
            "guide/page.md:5:7: P004: the number '40' is typed in prose; "
            "fix: take it from the data by a reference, or say it in words",
        ),
        (
            "# No front matter\n",
            "guide/page.md:1:1: P003: this page has no title and section; "
            "fix: begin the page with ---, title: ..., section: one of Select, Look up, Learn, Review, ---",
        ),
        (
            "---\ntitle: A\nsection: Elsewhere\n---\n",
            "guide/page.md:1:1: P003: this page has no known section; "
            "fix: begin the page with ---, title: ..., section: one of Select, Look up, Learn, Review, ---",
        ),
    ],
)
def test_problem_says_place_fault_and_fix(guide, text, said):
    assert problems(guide, text) == [said]


def test_all_problems_of_all_pages_are_found_in_one_run(guide):
    (guide / "other.md").write_text(HEAD + "{{ nothing }} and {{ title liner.none }}\n", "utf-8")
    assert len(problems(guide, HEAD + "Up to 40 or {{ link x }}\n")) == 4


def test_page_that_is_no_text_is_a_problem_and_no_traceback(guide):
    (guide / "page.md").write_bytes(b"\xff\xfe\x00")
    assert [problem.code for problem in check_prose(guide, small_pack(), small_texts())] == ["P005"]


def test_reading_prose_with_a_problem_is_refused(guide, lib):
    (guide / "page.md").write_text(HEAD + "{{ nothing }}\n", "utf-8")
    with pytest.raises(Refused):
        read_prose(guide, lib)


@pytest.mark.parametrize("text", ["Steel 316L and C-276.", "1. first\n2. second", "{{ limit a b }}"])
def test_names_list_numbers_and_references_are_no_typed_numbers(guide, text):
    assert not [said for said in problems(guide, HEAD + text) if "P004" in said]
