"""Gives the tests what they share: the built site, a server over it, and a real Chromium."""

from __future__ import annotations

import os
import subprocess
import sys
import threading
import time
from collections.abc import Callable, Iterator
from functools import partial
from http.server import SimpleHTTPRequestHandler, ThreadingHTTPServer
from pathlib import Path

import pytest
from hypothesis import settings

from generator.first_run import find_chromium

# The scores of pinning take longer than everything else of a build and have their own tests.
os.environ.setdefault("GUIDE_PINNING", "none")

# `ci` draws the same examples in every run, so that a landing stands or falls by what was changed.
settings.load_profile(os.environ.get("HYPOTHESIS_PROFILE", "default"))

PROJECT = Path(__file__).resolve().parent.parent
BUILD_PATIENCE = 600                             # seconds that a worker waits for another worker's build
CHROMIUM_FLAGS = ("--disable-gpu", "--disable-quic", "--no-first-run", "--disable-background-networking",
                  "--disable-component-update", "--disable-sync")


@pytest.fixture(scope="session")
def read_once() -> Iterator[None]:
    """Lets the commands read and compile a folder once in a process, as long as none of its files changes."""
    from generator.commands import concessions, select

    with pytest.MonkeyPatch.context() as patch:
        for command in (select, concessions):
            for name in ("load_pack", "read_folder"):
                patch.setattr(command, name, remembering(getattr(command, name)))
        yield


@pytest.fixture(scope="session")
def chromium() -> str:
    """Path of the Chromium that the browser tests drive; without one they fail: they are a promise."""
    path = find_chromium()
    if not path:
        pytest.fail("no Chromium; run the tests with `python3 generator/first_run.py test`, or set CHROMIUM")
    return path


@pytest.fixture(scope="session")
def browser(chromium: str) -> Iterator[object]:
    """A headless Chromium for the whole session, driven by Playwright's synchronous interface."""
    from playwright.sync_api import sync_playwright

    as_root = ("--no-sandbox",) if hasattr(os, "geteuid") and os.geteuid() == 0 else ()
    with sync_playwright() as playwright:
        launched = playwright.chromium.launch(executable_path=chromium, headless=True,
                                              args=[*CHROMIUM_FLAGS, *as_root])
        yield launched
        launched.close()


@pytest.fixture(scope="session")
def built_site(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Folder of the site, built strictly by MkDocs, once for all workers of a run.

    BUILT_SITE names one that was built before, to try single tests on it without waiting for the build."""
    if os.environ.get("BUILT_SITE"):
        return Path(os.environ["BUILT_SITE"])
    base = tmp_path_factory.getbasetemp()
    shared = base.parent if os.environ.get("PYTEST_XDIST_WORKER") else base
    site, log, lock = shared / "site", shared / "site.log", shared / "site.lock"
    try:
        lock.mkdir()
    except FileExistsError:
        deadline = time.monotonic() + BUILD_PATIENCE
        while not log.exists() and time.monotonic() < deadline:
            time.sleep(0.2)
    else:
        command = [sys.executable, "-m", "mkdocs", "build", "--strict", "--quiet", "--site-dir", str(site)]
        done = subprocess.run(command, cwd=PROJECT, capture_output=True, text=True,
                              env=os.environ | {"NO_MKDOCS_2_WARNING": "1"})
        unfinished = shared / "site.log.part"
        unfinished.write_text("" if done.returncode == 0 else done.stdout + done.stderr, "utf-8")
        unfinished.rename(log)                   # appears at once and whole: the other workers wait for it
    said = log.read_text("utf-8") if log.exists() else "the build did not end in time"
    if said:
        pytest.fail(f"the site did not build:\n{said}")
    return site


@pytest.fixture(scope="session")
def served_site(built_site: Path) -> Iterator[str]:
    """Address of a local server over the built site, without a slash at its end."""
    server = ThreadingHTTPServer(("127.0.0.1", 0), partial(QuietHandler, directory=str(built_site)))
    threading.Thread(target=server.serve_forever, daemon=True).start()
    yield f"http://127.0.0.1:{server.server_address[1]}"
    server.shutdown()


def pytest_terminal_summary(terminalreporter: pytest.TerminalReporter) -> None:
    """Prints what tests counted: a test says it with `record_property("counted", text)`."""
    counted = [f"{report.nodeid.split('::')[-1]}: {text}" for report in terminalreporter.getreports("passed")
               for name, text in report.user_properties if name == "counted"]
    if counted:
        terminalreporter.section("counted")
        terminalreporter.write_line("\n".join(counted))


# private


def remembering(load: Callable[..., object]) -> Callable[..., object]:
    """`load` of a folder and further arguments, called once for the same files; it raises anew what it refuses."""
    known: dict[object, object] = {}

    def remembered(folder: Path, *more: object, **named: object) -> object:
        read = [place for place in (folder, named.get("overlay")) if isinstance(place, Path)]
        files = tuple((path.resolve(), path.stat().st_mtime_ns, path.stat().st_size)
                      for place in read for path in sorted(place.rglob("*.yml")))
        key = (folder, files, more, tuple(named.items()))
        if key not in known:
            known[key] = load(folder, *more, **named)
        return known[key]

    return remembered


class QuietHandler(SimpleHTTPRequestHandler):
    """Serves files without a line per request on the screen."""

    def log_message(self, format: str, *args: object) -> None:
        pass
