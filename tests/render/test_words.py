"""Conditions are printed from the pack's cells, in words and with unit symbols."""

from __future__ import annotations

import pytest

from generator.pack.model import NOT_APPLICABLE, ChoiceCell, Interval, NumberCell
from generator.render.words import (
    choice_cell_text,
    interval_text,
    joined,
    limits,
    number_cell_text,
    number_text,
)

NB = "\u00a0"


@pytest.mark.parametrize(
    ("interval", "words"),
    [
        (Interval(-50, True, 40, True), f"up to 40{NB}°C"),
        (Interval(-50, True, 40, False), f"below 40{NB}°C"),
        (Interval(40, False, 250, True), f"above 40{NB}°C"),
        (Interval(40, True, 250, True), f"40{NB}°C or more"),
        (Interval(40, False, 60, True), f"above 40 up to 60{NB}°C"),
        (Interval(40, True, 60, True), f"from 40 up to 60{NB}°C"),
        (Interval(40, True, 60, False), f"from 40 and below 60{NB}°C"),
        (Interval(40, False, 60, False), f"above 40 and below 60{NB}°C"),
        (Interval(40, True, 40, True), f"exactly 40{NB}°C"),
        (Interval(-50, True, 250, True), "any"),
        (Interval(-50, False, 250, True), f"above \u221250{NB}°C"),
    ],
)
def test_interval_says_which_ends_belong_to_it(interval, words):
    assert interval_text(interval, -50, 250, "°C") == words


def test_interval_names_no_end_of_the_range_of_its_column():
    assert interval_text(Interval(0, True, 3, False), 0, 10, "m/s") == f"below 3{NB}m/s"


def test_number_cell_joins_alternatives_and_says_that_nothing_matches_too():
    cell = NumberCell((Interval(0, True, 1, False), Interval(3, False, 10, True)), absent=True)
    assert number_cell_text(cell, 0, 10, "", "no value") == "below 1, above 3 or no value"


def test_limits_are_the_ends_inside_the_range():
    cell = NumberCell((Interval(0, True, 1, False), Interval(3, False, 10, True)))
    assert limits(cell, 0, 10) == (1, 3)


@pytest.mark.parametrize(
    ("value", "unit", "text"),
    [
        (40.0, "°C", f"40{NB}°C"),
        (0.3, "", "0.3"),
        (-5.0, "1", "\u22125"),
        (60000.0, "µS/cm", f"60\u202f000{NB}µS/cm"),
        (1000.0, "", "1000"),
    ],
)
def test_number_carries_its_unit_and_groups_long_digits(value, unit, text):
    assert number_text(value, unit) == text


LINERS = {
    "pfa": "PFA",
    "ptfe": "PTFE",
    "etfe": "ETFE",
    "rubber": "Rubber",
    "epdm": "EPDM",
    "ceramic": "Ceramic",
    "pu": "PU",
    "neoprene": "Neoprene",
    "ebonite": "Ebonite",
}
FLAGS = {"rubber": ("elastic",), "epdm": ("elastic",), "pu": ("elastic",), "neoprene": ("elastic",)}


@pytest.mark.parametrize(
    ("ids", "words"),
    [
        (("pfa", "ptfe", "etfe"), "PFA, PTFE or ETFE"),
        (tuple(LINERS), "any"),
        (tuple(LINERS)[2:], "any but PFA or PTFE"),
        (("rubber", "epdm", "pu", "neoprene"), "any liner flagged elastic"),
        (("pfa", "ptfe", "etfe", "ceramic", "ebonite"), "any liner not flagged elastic"),
        (("rubber", "epdm", "pu", "ceramic"), "Rubber, EPDM, PU or Ceramic"),
        (("pfa", NOT_APPLICABLE), "PFA or not applicable"),
        ((*LINERS, NOT_APPLICABLE), "any or not applicable"),
    ],
)
def test_choice_cell_collapses_only_where_exactly_those_are_meant(ids, words):
    assert choice_cell_text(ChoiceCell(ids), LINERS, FLAGS, {}, "liner") == words


SIZES = {"dn100": "DN 100", "dn80": "DN 80", "dn50": "DN 50", "dn25": "DN 25", "dn15": "DN 15"}
BORES = {"dn100": 100.0, "dn80": 80.0, "dn50": 50.0, "dn25": 25.0, "dn15": 15.0}


@pytest.mark.parametrize(
    ("ids", "words"),
    [
        (("dn100", "dn80", "dn50"), "DN 50 to DN 100"),
        (("dn100", "dn80", "dn50", "dn15"), "DN 15 or DN 50 to DN 100"),
        (("dn100", "dn50"), "DN 50 or DN 100"),
        (("dn25", "dn15"), "DN 15 or DN 25"),
    ],
)
def test_sizes_are_printed_as_ranges_by_their_bore(ids, words):
    assert choice_cell_text(ChoiceCell(ids), SIZES, {}, BORES, "candidate") == words


def test_list_of_one_has_no_conjunction():
    assert joined(["a"], "or") == "a"
