"""Templates print and do not decide: they name, loop, ask if a name is true, and include."""

from __future__ import annotations

import re

import pytest
from jinja2 import Environment, nodes
from jinja2.exceptions import UndefinedError

from generator.render.parts import Fact
from generator.render.printing import TEMPLATES, printed

ALLOWED = (
    nodes.Template,
    nodes.Output,
    nodes.TemplateData,
    nodes.Name,
    nodes.Getattr,
    nodes.For,
    nodes.If,
    nodes.Include,
    nodes.Const,
)
FILES = sorted(TEMPLATES.rglob("*.html"))


def forbidden(text: str) -> list[str]:
    """The kinds of syntax in a template beyond those that print."""
    found: list[str] = []

    def walk(node: nodes.Node, inside_include: bool) -> None:
        if not isinstance(node, ALLOWED) or (isinstance(node, nodes.Const) and not inside_include):
            found.append(f"line {node.lineno}: {type(node).__name__}")
        for child in node.iter_child_nodes():
            walk(child, isinstance(node, nodes.Include))

    walk(Environment().parse(text), False)
    return found


@pytest.mark.parametrize("path", FILES, ids=lambda path: path.relative_to(TEMPLATES).as_posix())
def test_template_holds_no_logic(path):
    assert forbidden(path.read_text("utf-8")) == []


@pytest.mark.parametrize(
    "text",
    [
        "{{ view.a | upper }}",
        "{{ view.a() }}",
        "{% set a = 1 %}",
        "{% if view.a == 1 %}{% endif %}",
        "{{ view.a + view.b }}",
        "{{ 1 }}",
        "{% if not view.a %}{% endif %}",
    ],
)
def test_walk_finds_logic_where_there_is_some(text):
    assert forbidden(text)


def test_template_refuses_a_view_without_the_name_it_prints():
    with pytest.raises(UndefinedError):
        printed("parts/verdict.html", Fact("name", "value"))


def test_ids_may_end_a_line_where_they_are_joined_and_nowhere_within_a_word(pages):
    found = re.findall(r'<a class="g-id" href="page:[^"<]*#rule-([^"<]*)">(.*?)</a>', pages["rules/"].body)
    assert ("liner_temperature.polyurethane_within", "liner_<wbr>temperature.<wbr>polyurethane_<wbr>within") in found
    assert all(shown.replace("<wbr>", "") == rule for rule, shown in found)


def test_printed_html_escapes_what_a_record_says(lib):
    from generator.render.parts import Verdict

    assert "&lt;b&gt;" in printed("parts/verdict.html", Verdict("x", "<b>", "!"))
