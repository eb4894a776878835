"""Says that the first command works from a bare Python, and says in one line what it cannot do."""

from __future__ import annotations

import os
import socket
import subprocess
import sys
from pathlib import Path

import pytest

from generator import first_run

SCRIPT = Path(first_run.__file__)


def run_script(*arguments: str, **environment: str) -> subprocess.CompletedProcess[str]:
    return subprocess.run([sys.executable, "-I", str(SCRIPT), *arguments], capture_output=True, text=True,
                          env=os.environ | environment, timeout=120)


def test_first_run_says_one_line_when_the_port_is_taken():
    with socket.socket() as taken:
        taken.bind(("127.0.0.1", 0))
        taken.listen()
        port = taken.getsockname()[1]
        done = run_script("serve", "--port", str(port))
    assert done.returncode == 2
    assert done.stderr == f"first_run: port {port} is in use; choose another with --port\n"


def test_first_run_says_one_line_when_the_port_is_no_port():
    done = run_script("serve", "--port", "70000")
    assert done.returncode == 2
    assert done.stderr == "first_run: 70000 is not a port; give --port a number from 1 to 65535\n"


def test_python_that_is_too_old_is_refused_with_the_one_to_use():
    with pytest.raises(first_run.CannotRun, match="this is Python 3.9; run it with Python 3.11 or newer"):
        first_run.check_python((3, 9))


def test_chromium_variable_that_names_no_file_is_refused(monkeypatch: pytest.MonkeyPatch):
    monkeypatch.setenv("CHROMIUM", "/nowhere/chromium")
    with pytest.raises(first_run.CannotRun, match="CHROMIUM is /nowhere/chromium, where there is no file"):
        first_run.find_chromium()


def test_chromium_of_playwrights_cache_is_found_when_the_path_has_none(
        monkeypatch: pytest.MonkeyPatch, tmp_path: Path):
    cached = tmp_path / "chromium-1234" / "chrome-linux" / "chrome"
    cached.parent.mkdir(parents=True)
    cached.write_text("", "utf-8")
    monkeypatch.delenv("CHROMIUM", raising=False)
    monkeypatch.setenv("PATH", str(tmp_path))
    monkeypatch.setenv("PLAYWRIGHT_BROWSERS_PATH", str(tmp_path))
    monkeypatch.setattr(first_run, "BROWSER_PLACES", ())
    assert first_run.find_chromium() == str(cached)


def test_environment_is_installed_again_when_pyproject_changes(tmp_path: Path):
    (tmp_path / "pyproject.toml").write_text("[project]\n", "utf-8")
    before = first_run.stamp_text(tmp_path, "test")
    (tmp_path / "pyproject.toml").write_text("[project]\nname = 'x'\n", "utf-8")
    assert first_run.stamp_text(tmp_path, "test") != before


def test_script_does_not_hide_standard_modules_behind_its_own_folder(tmp_path: Path):
    folder = tmp_path / "generator"
    folder.mkdir()
    (folder / "first_run.py").write_bytes(SCRIPT.read_bytes())
    (folder / "socket.py").write_text("raise SystemExit('the wrong socket')\n", "utf-8")
    done = subprocess.run([sys.executable, str(folder / "first_run.py"), "serve", "--port", "0"],
                          capture_output=True, text=True)
    assert done.stderr == "first_run: 0 is not a port; give --port a number from 1 to 65535\n"
