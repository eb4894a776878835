"""Gives back how long a keystroke in the worksheet takes until the verdicts stand in the page, in Chromium."""

from __future__ import annotations

import os
import threading
from functools import partial
from http.server import SimpleHTTPRequestHandler, ThreadingHTTPServer
from pathlib import Path
from urllib.parse import urlencode

BETWEEN_KEYS = 120          # milliseconds, as a quick typist
FIELD = "#ws-normal-temperature_max"

# Milliseconds from when Chromium received the key until the leading verdicts were drawn (`first`), and until the last
# change of any verdict's part (`all`).
WATCH = """() => {
  window.keyed = { at: 0, first: 0, all: 0 };
  const draws = (what, note) => new MutationObserver(note).observe(document.querySelector(what),
    { childList: true, subtree: true, attributes: true, characterData: true });
  const now = () => performance.now() - window.keyed.at;
  document.addEventListener("keydown", (event) => { window.keyed = { at: event.timeStamp, first: 0, all: 0 }; }, true);
  draws(".ws-leading", () => { window.keyed.first ||= now(); });
  draws(".ws-results", () => { window.keyed.all = now(); });
}"""
IDLE = """() => new Promise((done) => setTimeout(() =>
  requestIdleCallback(() => requestIdleCallback(done)), 50))"""
DONE = "() => !document.getElementById('worksheet').hasAttribute('data-pending')"


def keystrokes(site: Path, chromium: str, typed: list[dict[str, dict[str, str]]]) -> dict[str, list[float]]:
    """Seconds per application after a digit is typed into the highest temperature of each: until the leading verdicts
    (`first`), until everything is drawn (`all`), and until the leading verdicts of a key that follows another (`next`)."""
    from playwright.sync_api import sync_playwright

    flags = ["--disable-gpu", "--disable-background-networking"]
    flags += ["--no-sandbox"] if hasattr(os, "geteuid") and os.geteuid() == 0 else []
    server = ThreadingHTTPServer(("127.0.0.1", 0), partial(_Quiet, directory=str(site)))
    threading.Thread(target=server.serve_forever, daemon=True).start()
    taken: dict[str, list[float]] = {"first": [], "all": [], "next": []}
    with sync_playwright() as playwright:
        page = playwright.chromium.launch(executable_path=chromium, args=flags).new_page()
        page.goto(f"http://127.0.0.1:{server.server_address[1]}/")
        page.wait_for_selector("#worksheet[data-evaluated]")
        page.evaluate(WATCH)
        for states in typed:
            pairs = [(f"{state}.{name}", text) for state, answers in states.items() for name, text in answers.items()]
            page.evaluate("(fragment) => { location.hash = fragment; }", urlencode(pairs))
            page.locator(FIELD).focus()
            page.keyboard.press("Home")
            page.evaluate(IDLE)                 # a key does not wait for the drawing of a point that was just opened
            page.keyboard.press("1")
            page.wait_for_function(DONE)
            seen = page.evaluate("window.keyed")
            taken["first"].append(seen["first"] / 1000)
            taken["all"].append(seen["all"] / 1000)
            page.keyboard.press("2")
            page.wait_for_timeout(BETWEEN_KEYS)
            page.keyboard.press("3")
            page.wait_for_function(DONE)
            taken["next"].append(page.evaluate("window.keyed.first") / 1000)
    server.shutdown()
    return taken


# private

class _Quiet(SimpleHTTPRequestHandler):
    def log_message(self, *said: object) -> None:
        """Nothing on the screen."""
