"""Gives back a running guide or a test run from a bare Python: `python3 generator/first_run.py serve | test`.

Standard library only, because nothing is installed yet when it starts. It makes `.venv` in the project,
installs the project into it (again when pyproject.toml has changed), finds or installs what the tests need
besides Python (Chromium, Node.js), and then becomes `mkdocs serve` or `pytest`. What it cannot do it says in
one line.
"""

import sys

if __name__ == "__main__":
    # As a script, this folder stands first on the path, where our own modules would hide the standard ones.
    sys.path[:] = [entry for entry in sys.path if not entry.rstrip("/\\").endswith("generator")]

import argparse
import hashlib
import os
import shutil
import socket
import subprocess
from pathlib import Path

PROJECT = Path(__file__).resolve().parent.parent
OLDEST_PYTHON = (3, 11)
BROWSER_NAMES = ("chromium", "chromium-browser", "google-chrome", "google-chrome-stable", "chrome", "msedge")
BROWSER_PLACES = (
    "/Applications/Google Chrome.app/Contents/MacOS/Google Chrome",
    "/Applications/Chromium.app/Contents/MacOS/Chromium",
    "C:/Program Files/Google/Chrome/Application/chrome.exe",
)
BROWSER_CACHES = ("~/.cache/ms-playwright", "~/Library/Caches/ms-playwright", "~/AppData/Local/ms-playwright")
BROWSER_IN_CACHE = ("chromium-*/chrome-linux*/chrome", "chromium-*/chrome-win*/chrome.exe",
                    "chromium-*/chrome-mac*/*.app/Contents/MacOS/*")


class CannotRun(Exception):
    """What stands in the way, and what to do about it, in one line."""


def main(arguments: "list[str]") -> int:
    """0 or the exit code of what was run; 2 with one line on stderr when it could not be run."""
    parser = argparse.ArgumentParser(prog="first_run.py", description="Serve the guide or run its tests.")
    commands = parser.add_subparsers(dest="command", required=True)
    serve = commands.add_parser("serve", help="serve the guide on a local port, rebuild on every save")
    serve.add_argument("--port", type=int, default=8000, help="local port (8000)")
    commands.add_parser("test", help="run every test; further arguments go to pytest", add_help=False)
    options, rest = parser.parse_known_args(arguments)
    if rest and options.command == "serve":
        parser.error("unknown argument: " + " ".join(rest))
    try:
        check_python(sys.version_info[:2])
        os.environ["NO_MKDOCS_2_WARNING"] = "1"   # a banner at every build; the README says it
        if options.command == "serve":
            check_port(options.port)
            python = ready_environment(PROJECT, "")
            print("serving on http://127.0.0.1:%d/ (stop with Ctrl-C)" % options.port, flush=True)
            return become([python, "-m", "mkdocs", "serve", "--dev-addr", "127.0.0.1:%d" % options.port])
        python = ready_environment(PROJECT, "test")
        os.environ["CHROMIUM"] = find_chromium() or install_chromium(python)
        find_node() or install_node()
        return become([python, "-m", "pytest", "-n", "2"] + rest)
    except CannotRun as reason:
        print("first_run: %s" % reason, file=sys.stderr)
        return 2
    except KeyboardInterrupt:
        return 130


def check_python(version: "tuple[int, int]") -> None:
    """Raises CannotRun if this Python is older than the project's."""
    if version < OLDEST_PYTHON:
        raise CannotRun("this is Python %d.%d; run it with Python %d.%d or newer" % (version + OLDEST_PYTHON))


def check_port(port: int) -> None:
    """Raises CannotRun if nobody can listen on 127.0.0.1:port."""
    if not 0 < port < 65536:
        raise CannotRun("%d is not a port; give --port a number from 1 to 65535" % port)
    with socket.socket() as probe:
        probe.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
        try:
            probe.bind(("127.0.0.1", port))
        except OSError:
            raise CannotRun("port %d is in use; choose another with --port" % port) from None


def stamp_text(project: Path, extra: str) -> str:
    """What an environment was installed from: a hash of pyproject.toml, the Python, and the extra."""
    digest = hashlib.sha256((project / "pyproject.toml").read_bytes()).hexdigest()
    return "%s python%d.%d %s" % (digest, sys.version_info[0], sys.version_info[1], extra or "serve")


def ready_environment(project: Path, extra: str) -> str:
    """The Python of the project's environment, made or brought up to date first. Raises CannotRun."""
    folder = project / ".venv"
    python = folder / ("Scripts/python.exe" if os.name == "nt" else "bin/python")
    stamp = folder / "installed-from.txt"
    wanted = {stamp_text(project, "test")} | ({stamp_text(project, "")} if not extra else set())
    if python.exists() and stamp.exists() and stamp.read_text("utf-8") in wanted:
        return str(python)
    if not python.exists() or not runs([str(python), "-m", "pip", "--version"]):
        print("making .venv", flush=True)
        run([sys.executable, "-m", "venv", "--clear", str(folder)],
            "could not make .venv; on Debian or Ubuntu install the package python3-venv")
    print("installing the packages of pyproject.toml into .venv (once)", flush=True)
    target = "%s[%s]" % (project, extra) if extra else str(project)
    run([str(python), "-m", "pip", "install", "--quiet", "--disable-pip-version-check", "--editable", target],
        "could not install the packages; is there a network, or a package index set for pip?")
    stamp.write_text(stamp_text(project, extra), "utf-8")
    return str(python)


def find_chromium() -> str:
    """Path of a Chromium: variable CHROMIUM, the PATH, usual places, Playwright's own cache; or empty."""
    named = os.environ.get("CHROMIUM", "")
    if named:
        if not Path(named).is_file():
            raise CannotRun("CHROMIUM is %s, where there is no file; correct it or unset it" % named)
        return named
    for path in [shutil.which(name) for name in BROWSER_NAMES] + list(BROWSER_PLACES):
        if path and Path(path).is_file():
            return str(path)
    caches = [os.environ.get("PLAYWRIGHT_BROWSERS_PATH", "")]
    caches += [os.path.expanduser(c) for c in BROWSER_CACHES]
    found = [hit for cache in caches if cache for kind in BROWSER_IN_CACHE for hit in Path(cache).glob(kind)]
    return str(sorted(found)[-1]) if found else ""


def find_node() -> str:
    """Path of Node.js, or empty."""
    return shutil.which("node") or ""


# private


def install_chromium(python: str) -> str:
    print("installing Chromium for the browser tests (once)", flush=True)
    if not (can_use_apt() and apt_install("chromium")):
        runs([python, "-m", "playwright", "install", "chromium"])
    path = find_chromium()
    if not path:
        raise CannotRun("no Chromium found; install it, or set CHROMIUM to the path of a Chromium or Chrome")
    return path


def install_node() -> None:
    if can_use_apt():
        print("installing Node.js for the tests of the browser engine (once)", flush=True)
        apt_install("nodejs")
    if not find_node():
        raise CannotRun("the tests need Node.js 18 or newer; install it so that `node` is on the PATH")


def can_use_apt() -> bool:
    return bool(shutil.which("apt-get")) and hasattr(os, "geteuid") and os.geteuid() == 0


def apt_install(package: str) -> bool:
    os.environ["DEBIAN_FRONTEND"] = "noninteractive"
    install = ["apt-get", "install", "-y", "-qq", "--no-install-recommends", package]
    return runs(install) or (runs(["apt-get", "update", "-qq"]) and runs(install))


def runs(command: "list[str]") -> bool:
    try:
        return subprocess.run(command, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL,
                              stdin=subprocess.DEVNULL).returncode == 0
    except OSError:
        return False


def run(command: "list[str]", message: str) -> None:
    try:
        done = subprocess.run(command, stdin=subprocess.DEVNULL, stdout=subprocess.PIPE,
                              stderr=subprocess.STDOUT)
    except OSError as error:
        raise CannotRun("%s (%s)" % (message, error.strerror)) from None
    if done.returncode != 0:
        said = [line.strip() for line in done.stdout.decode("utf-8", "replace").splitlines() if line.strip()]
        errors = [line for line in said if line.lower().startswith("error")] or said[-1:]
        raise CannotRun("%s (%s)" % (message, errors[-1] if errors else "exit code %d" % done.returncode))


def become(command: "list[str]") -> int:
    os.chdir(str(PROJECT))
    if os.name == "nt":                         # there, exec returns to the prompt before the child has ended
        return subprocess.call(command)
    sys.stdout.flush()
    os.execv(command[0], command)
    return 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
