"""Gives back a drawing as SVG text: elements with attributes, made by `map_scene`. Twin of
browser/map_nodes.js.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from markupsafe import Markup, escape

from generator.evaluate.numbers import plain_text
from generator.render import addresses


@dataclass(frozen=True, slots=True)
class Node:
    """An element. An attribute `href` holds an address of the site."""

    tag: str
    attributes: tuple[tuple[str, str], ...]
    children: tuple[Node | str, ...]


def node(tag: str, attributes: dict[str, str], *children: Node | str) -> Node:
    return Node(tag, tuple(attributes.items()), children)


def px(pixels: float) -> str:
    """Pixels as an attribute says them: to a tenth."""
    return plain_text(math.floor(pixels * 10 + 0.5) / 10)


def svg_text(drawing: Node) -> Markup:
    """The drawing as it stands in a page."""
    parts: list[str] = []
    _write(drawing, parts)
    return Markup("".join(parts))


# private


def _write(one: Node | str, parts: list[str]) -> None:
    if isinstance(one, str):
        parts.append(escape(one))
        return
    attributes = "".join(
        f' {name}="{escape(addresses.target(text) if name == "href" else text)}"'
        for name, text in one.attributes
    )
    if not one.children:
        parts.append(f"<{one.tag}{attributes}/>")
        return
    parts.append(f"<{one.tag}{attributes}>")
    for child in one.children:
        _write(child, parts)
    parts.append(f"</{one.tag}>")
