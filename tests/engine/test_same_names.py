"""Tests that a module and its twin offer the same functions and constants in the same order."""

from __future__ import annotations

import ast
import re
from pathlib import Path

import pytest

GENERATOR = Path(__file__).resolve().parents[2] / "generator"
TWINS = GENERATOR / "browser" / "engine"
MODULES = sorted(path for room in ("evaluate", "answers") for path in (GENERATOR / room).glob("[!_]*.py"))


@pytest.mark.parametrize("module", MODULES, ids=lambda path: f"{path.parent.name}/{path.stem}")
def test_twin_exports_the_names_of_the_python_module_in_its_order(module: Path) -> None:
    offered = [name for node in ast.parse(module.read_text("utf-8")).body for name in _names(node)]
    twin = TWINS / f"{module.stem}.js"
    content = twin.read_text("utf-8") if twin.exists() else ""
    assert re.findall(r"^export (?:const|function) (\w+)", content, re.M) == offered


# private

def _names(node: ast.stmt) -> list[str]:
    """Public functions in camelCase and constants; records are plain objects in the twin and have no name
    there."""
    if isinstance(node, ast.FunctionDef) and not node.name.startswith("_"):
        return [re.sub(r"_(\w)", lambda found: found[1].upper(), node.name)]
    if not isinstance(node, ast.Assign) or _renames_the_language(node.value):
        return []
    named = [name for target in node.targets for name in _parts(target)]
    return [name.id for name in named
            if isinstance(name, ast.Name) and re.fullmatch("[A-Z][A-Z0-9_]*", name.id)]


def _renames_the_language(value: ast.expr) -> bool:
    """`math.inf` and the like, which JavaScript has under a name of its own."""
    return all(isinstance(part, ast.Attribute) for part in _parts(value))


def _parts(node: ast.expr) -> list[ast.expr]:
    return node.elts if isinstance(node, ast.Tuple) else [node]
