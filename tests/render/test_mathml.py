"""Formulas are printed from the tree that is computed."""

from __future__ import annotations

import xml.etree.ElementTree as tree

import pytest

from generator.render.mathml import formula_mathml

A, B, C = ("symbol", "a"), ("symbol", "b"), ("symbol", "c")


def plain(expression: tuple) -> str:
    """The text of the printed expression, a fraction as `{upper|lower}`, an exponent after `^`."""

    def say(node: tree.Element) -> str:
        name = node.tag.rpartition("}")[2]
        parts = [say(child) for child in node]
        if name == "mfrac":
            return "{%s|%s}" % tuple(parts)
        if name == "msup":
            return "^".join(parts)
        if name == "msub":
            return "_".join(parts)
        if name == "msqrt":
            return f"√[{''.join(parts)}]"
        return (node.text or "") + "".join(parts)

    return say(tree.fromstring(str(formula_mathml("v", expression, {"a": "a", "b": "b_T"}))))


@pytest.mark.parametrize(
    ("expression", "text"),
    [
        (("divide", ("add", A, B), C), "v={a+b_T|c}"),
        (("multiply", ("add", A, B), C), "v=(a+b_T)⋅c"),
        (("subtract", A, ("subtract", B, C)), "v=a−(b_T−c)"),
        (("subtract", ("subtract", A, B), C), "v=a−b_T−c"),
        (("multiply", ("multiply", ("call", "pi", ()), A), A), "v=π⋅a^2"),
        (("power", ("add", A, B), 0.25), "v=(a+b_T)^0.25"),
        (("negate", ("multiply", A, B)), "v=−a⋅b_T"),
        (("multiply", A, ("negate", B)), "v=a⋅(−b_T)"),
        (("call", "sqrt", (("add", A, B),)), "v=√[a+b_T]"),
        (("call", "max", (A, B)), "v=max(a,b_T)"),
        (("if", ("<=", A, B), A, B), "v={aif a≤b_Tb_Totherwise"),
        (("interpolate", A, ((0.0, 1.0), (2.0, 3.0))), "v=interpolate(a;0→1;2→3)"),
    ],
)
def test_expression_is_printed_with_brackets_only_where_they_change_it(expression, text):
    assert plain(expression) == text
