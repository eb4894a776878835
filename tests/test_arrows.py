"""Which room of the house may import which: the arrows run one way."""

import ast
from pathlib import Path

import pytest

HOUSE = Path(__file__).resolve().parent.parent / "generator"
BELOW = {"problems", "units", "boxes"}
ALLOWED = {
    "problems": set(),
    "units": set(),
    "boxes": set(),
    "read": BELOW,
    "pack": BELOW,
    "compile": BELOW | {"read", "pack"},
    "evaluate": {"pack"},
    "answers": {"pack", "evaluate", "problems"},
    "analyse": BELOW | {"pack", "evaluate", "answers"},
    "render": BELOW | {"pack", "evaluate", "answers", "analyse"},
    "publish": {"problems", "pack", "compile", "render"},
    "commands": BELOW | {"read", "compile", "pack", "answers", "evaluate", "analyse", "render", "publish"},
    "first_run": set(),
}
MODULES = sorted(HOUSE.rglob("*.py"))


def room_of(module: Path) -> str:
    return module.relative_to(HOUSE).parts[0].removesuffix(".py")


def imported(module: Path) -> set[str]:
    """Rooms of ours that the module imports, and other packages by their first name with a star before it."""
    found = set()
    for node in ast.walk(ast.parse(module.read_text("utf-8"))):
        names = [alias.name for alias in node.names] if isinstance(node, ast.Import) else \
            [node.module or ""] if isinstance(node, ast.ImportFrom) else []
        for name in names:
            parts = name.split(".")
            found.add(parts[1] if parts[0] == "generator" and len(parts) > 1 else f"*{parts[0]}")
    return found


@pytest.mark.parametrize("module", MODULES, ids=lambda path: path.relative_to(HOUSE).as_posix())
def test_a_room_imports_only_what_its_arrows_allow(module: Path) -> None:
    room = room_of(module)
    if room == "__init__":
        return
    ours = {name for name in imported(module) if not name.startswith("*")} - {room}
    assert ours <= ALLOWED[room], f"{room} may import {sorted(ALLOWED[room])}"


def test_only_the_plugin_imports_mkdocs_and_only_units_imports_pint() -> None:
    users = {name: {module.relative_to(HOUSE).as_posix() for module in MODULES if f"*{name}" in imported(module)}
             for name in ("mkdocs", "pint")}
    assert users == {"mkdocs": {"publish/mkdocs_plugin.py"}, "pint": {"units.py"}}


def test_only_commands_and_the_first_run_print() -> None:
    for module in MODULES:
        if room_of(module) in ("commands", "first_run"):
            continue
        calls = [node for node in ast.walk(ast.parse(module.read_text("utf-8")))
                 if isinstance(node, ast.Call) and isinstance(node.func, ast.Name) and node.func.id == "print"]
        assert not calls, f"{module.relative_to(HOUSE)} prints"


def test_no_module_outgrows_350_lines() -> None:
    long = {module.relative_to(HOUSE).as_posix(): len(module.read_text("utf-8").splitlines()) for module in MODULES}
    assert {name: lines for name, lines in long.items() if lines > 350} == {}
