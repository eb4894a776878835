"""Tests of the YAML reader: texts stay as typed, places are right, and no text can make it raise."""

from __future__ import annotations

import pytest
import yaml

from generator.problems import Place
from generator.read import yaml_nodes
from generator.read.records import Word
from generator.read.yaml_nodes import Mapping, Sequence, compose


@pytest.mark.parametrize("typed",
                         ["010", "NO", "on", "1:30", "1e3", "1_000", "0x1F", "2026-01-01", "~", ".inf",
                          "<= 40", "5"])
def test_scalar_stays_the_text_that_was_typed(typed: str):
    node, problems = compose("a.yml", f"key: {typed}\n".encode())
    assert problems == []
    assert node == Mapping(((Word("key", Place("a.yml", 1, 1)), Word(typed, Place("a.yml", 1, 6))),),
                           Place("a.yml", 1, 1))


def test_columns_count_characters_and_not_bytes():
    node, _ = compose("a.yml", "{µΩ: °C, b: c}".encode())
    assert [(key.place.column, value.place.column) for key, value in node.entries] == [(2, 6), (10, 13)]


def test_byte_order_mark_is_no_part_of_the_text():
    node, problems = compose("a.yml", b"\xef\xbb\xbfid: x\n")
    assert problems == [] and node.entries[0][0] == Word("id", Place("a.yml", 1, 1))


def test_quotes_are_remembered():
    node, _ = compose("a.yml", b"[a, \"a\", 'a']")
    assert [item.quoted for item in node.items] == [False, True, True]


def test_twenty_levels_are_read_and_one_more_is_refused():
    node, problems = compose("a.yml", b"[" * 20 + b"]" * 20)
    assert isinstance(node, Sequence) and problems == []
    assert [problem.code for problem in compose("a.yml", b"[" * 21 + b"]" * 21)[1]] == ["Y010"]


@pytest.mark.parametrize("text",
                         ["[" * 500_000, "{a: " * 100_000, "- " * 100_000, "? " * 100_000, "a:\n" * 50_000,
                                  "\n".join(" " * depth + "a:" for depth in range(3000)), "&a " * 50_000,
                          "!" * 100_000,
                                  "\"" + "\\" * 99_999, "%" * 100_000, "---\n" * 10_000, "*a " * 10_000,
                          "|" * 100_000])
def test_monstrous_texts_are_refused_quickly_without_an_exception(text: str):
    _, problems = compose("a.yml", text.encode())
    assert problems


def test_key_given_three_times_is_said_twice_and_the_first_is_kept():
    node, problems = compose("a.yml", b"a: 1\nb: 2\na: 3\na: 4\n")
    assert [(problem.place.line, problem.message) for problem in problems] == [
        (3, "the key 'a' is given twice (first on line 1)"),
        (4, "the key 'a' is given twice (first on line 1)")]
    assert [value.text for _, value in node.entries] == ["1", "2"]


def test_reader_works_alike_without_the_c_library(monkeypatch: pytest.MonkeyPatch):
    good, bad = "a: [b, {c: \"d\"}]\n'e': |\n  f\n".encode(), b"a: 1\na: > 5\n"
    with_c = compose("a.yml", good), compose("a.yml", bad)
    monkeypatch.setattr(yaml_nodes, "_LOADER", yaml.SafeLoader)
    assert (compose("a.yml", good), compose("a.yml", bad)) == with_c
    assert compose("a.yml", b"[" * 5000)[1][0].code == "Y010"
