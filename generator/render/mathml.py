"""Gives back a formula as MathML, printed from the expression tree that is computed."""

from __future__ import annotations

from collections.abc import Mapping
from itertools import groupby

from markupsafe import Markup, escape

from generator.pack.model import Expression
from generator.render import words

# How tightly a node holds together; a child that binds less than its parent asks is put in brackets.
_BINDING = {
    "if": 0,
    "add": 1,
    "subtract": 1,
    "negate": 2,
    "multiply": 3,
    "divide": 5,
    "power": 4,
    "call": 6,
    "interpolate": 6,
    "number": 6,
    "symbol": 6,
}
_COMPARISONS = {"<": "&lt;", "<=": "\u2264", ">": "&gt;", ">=": "\u2265", "=": "="}
_GREEK = {"pi": "\u03c0"}


def formula_mathml(letter: str, expression: Expression, letters: Mapping[str, str]) -> Markup:
    """`letter = expression` as a displayed equation. `letters` are the printed letters of the symbols, by id.
    """
    body = f"<mrow>{_letter(letter)}<mo>=</mo>{_node(expression, letters, 0)}</mrow>"
    return Markup(f'<math display="block" xmlns="http://www.w3.org/1998/Math/MathML">{body}</math>')


def letter_mathml(letter: str) -> Markup:
    """A single letter, in line."""
    return Markup(f'<math xmlns="http://www.w3.org/1998/Math/MathML">{_letter(letter)}</math>')


# private


def _node(node: Expression, letters: Mapping[str, str], least: int) -> str:
    kind = node[0]
    printed = _PRINTERS[kind](node, letters)
    return printed if _BINDING[kind] >= least else f"<mrow><mo>(</mo>{printed}<mo>)</mo></mrow>"


def _letter(letter: str) -> str:
    """`sigma_T` and `σ_T` stand with an index; several letters are one upright name."""
    head, _, index = letter.partition("_")
    style = "" if len(head) == 1 else ' mathvariant="normal"'
    name = f"<mi{style}>{escape(head)}</mi>"
    return f'<msub>{name}<mi mathvariant="normal">{escape(index)}</mi></msub>' if index else name


def _number(node: Expression, letters: Mapping[str, str]) -> str:
    return f"<mn>{words.number_text(node[1])}</mn>"


def _symbol(node: Expression, letters: Mapping[str, str]) -> str:
    return _letter(letters.get(node[1], node[1]))


def _negate(node: Expression, letters: Mapping[str, str]) -> str:
    return f"<mrow><mo>\u2212</mo>{_node(node[1], letters, 3)}</mrow>"


def _add(node: Expression, letters: Mapping[str, str]) -> str:
    return f"<mrow>{_node(node[1], letters, 1)}<mo>+</mo>{_node(node[2], letters, 1)}</mrow>"


def _subtract(node: Expression, letters: Mapping[str, str]) -> str:
    return f"<mrow>{_node(node[1], letters, 1)}<mo>\u2212</mo>{_node(node[2], letters, 2)}</mrow>"


def _multiply(node: Expression, letters: Mapping[str, str]) -> str:
    """A product of any length in one row; a letter that repeats is a power: D·D is D squared."""
    printed: list[str] = []
    for factor, group in groupby(_factors(node)):
        count = len(tuple(group))
        if count > 1 and factor[0] == "symbol":
            printed.append(f"<msup>{_node(factor, letters, 6)}<mn>{count}</mn></msup>")
        else:
            printed += [_node(factor, letters, 4)] * count
    dot = "<mo>\u22c5</mo>"
    return f"<mrow>{dot.join(printed)}</mrow>"


def _factors(node: Expression) -> list[Expression]:
    return [*_factors(node[1]), *_factors(node[2])] if node[0] == "multiply" else [node]


def _divide(node: Expression, letters: Mapping[str, str]) -> str:
    return f"<mfrac>{_node(node[1], letters, 0)}{_node(node[2], letters, 0)}</mfrac>"


def _power(node: Expression, letters: Mapping[str, str]) -> str:
    return f"<msup>{_node(node[1], letters, 6)}<mn>{words.number_text(node[2])}</mn></msup>"


def _call(node: Expression, letters: Mapping[str, str]) -> str:
    name, arguments = node[1], node[2]
    if name in _GREEK:
        return f"<mi>{_GREEK[name]}</mi>"
    inner = [_node(argument, letters, 0) for argument in arguments]
    if name == "sqrt":
        return f"<msqrt>{inner[0]}</msqrt>"
    if name == "abs":
        return f"<mrow><mo>|</mo>{inner[0]}<mo>|</mo></mrow>"
    if name == "exp":
        return f"<msup><mi>e</mi>{inner[0]}</msup>"
    listed = "<mo>,</mo>".join(inner)
    return f'<mrow><mi mathvariant="normal">{escape(name)}</mi><mo>(</mo>{listed}<mo>)</mo></mrow>'


def _if(node: Expression, letters: Mapping[str, str]) -> str:
    (sign, left, right), then, other = node[1], node[2], node[3]
    condition = f"{_node(left, letters, 1)}<mo>{_COMPARISONS[sign]}</mo>{_node(right, letters, 1)}"
    rows = (
        f"<mtr><mtd>{_node(then, letters, 0)}</mtd><mtd><mtext>if </mtext>{condition}</mtd></mtr>"
        f"<mtr><mtd>{_node(other, letters, 0)}</mtd><mtd><mtext>otherwise</mtext></mtd></mtr>"
    )
    return f"<mrow><mo>{{</mo><mtable>{rows}</mtable></mrow>"


def _interpolate(node: Expression, letters: Mapping[str, str]) -> str:
    if node[2][0] in ("column", "choose"):
        return _of_series(node, letters)
    points = "<mo>;</mo>".join(
        f"<mn>{words.number_text(x)}</mn><mo>\u2192</mo><mn>{words.number_text(y)}</mn>" for x, y in node[2]
    )
    inner = f"{_node(node[1], letters, 0)}<mo>;</mo>{points}"
    return f'<mrow><mi mathvariant="normal">interpolate</mi><mo>(</mo>{inner}<mo>)</mo></mrow>'


def _of_series(node: Expression, letters: Mapping[str, str]) -> str:
    """`water.density(T)`, or `flange_rating(T; j)` where a letter chooses the column."""
    kind, series, column = node[2]
    name = series if kind == "choose" else column
    chosen = f"<mo>;</mo>{_node(column, letters, 0)}" if kind == "choose" else ""
    return (
        f'<mrow><mi mathvariant="normal">{escape(words.spelled(name))}</mi><mo>(</mo>'
        f"{_node(node[1], letters, 0)}{chosen}<mo>)</mo></mrow>"
    )


_PRINTERS = {
    "number": _number,
    "symbol": _symbol,
    "negate": _negate,
    "add": _add,
    "subtract": _subtract,
    "multiply": _multiply,
    "divide": _divide,
    "power": _power,
    "call": _call,
    "if": _if,
    "interpolate": _interpolate,
}
