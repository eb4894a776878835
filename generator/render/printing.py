"""Gives back a view printed through its template. Templates name, loop, ask if true, include."""

from __future__ import annotations

import re
from pathlib import Path

from jinja2 import Environment, FileSystemLoader, StrictUndefined
from markupsafe import Markup

TEMPLATES = Path(__file__).with_name("templates")

_NAMES = re.compile(r'(?<=class="g-id">)[^<]+|(?<=<code>)[^<]+|(class="g-id" href="[^"]*">)([^<]+)')
_JOINT = re.compile(r"(?<=[._/])(?=[a-z])")

_ENVIRONMENT = Environment(
    loader=FileSystemLoader(TEMPLATES, encoding="utf-8"),
    autoescape=True,
    undefined=StrictUndefined,
    trim_blocks=True,
    lstrip_blocks=True,
    auto_reload=False,
)


def printed(template: str, view: object) -> Markup:
    """The HTML of a view. Everything in it is escaped that is not HTML already; blank lines are taken out.

    Without a blank line the HTML is one block to every Markdown reader, so it can stand inside prose. The ids of rules and
    the names of files may end a line where they are joined, so that none is broken within a word.
    """
    text = _NAMES.sub(_with_joints, _ENVIRONMENT.get_template(template).render(view=view))
    return Markup("\n".join(line for line in text.splitlines() if line.strip()))


# private


def _with_joints(found: re.Match[str]) -> str:
    begin, name = (found[1], found[2]) if found[1] else ("", found[0])
    return begin + _JOINT.sub("<wbr>", name)
