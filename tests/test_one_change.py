"""One limit changed in the data shows everywhere after one load; half a change is told in one line."""

from __future__ import annotations

import json
import os
import socket
import subprocess
import sys
import textwrap
import time
import urllib.request
from pathlib import Path

import pytest

from generator.commands.main import main
from generator.compile.knowledge import load_pack
from generator.publish.guide_site import guide_site
from generator.publish.links import directory_url
from tests.pages.conditions import Numbers
from tests.pages.engines import OWN_SCRIPTS, BrowserEngine
from tests.pages.reading import Site
from tests.publish.small_project import small_project
from tests.shipped import copy_to

PROJECT = Path(__file__).resolve().parent.parent
TABLE = "tables/liner_temperature.yml"
WITHIN, TOO_HOT = 'temperature_max: "<= 40"', 'temperature_max: "> 40"'
PATIENCE = 60  # seconds that a rebuild may take


@pytest.fixture
def copied(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A copy of data/ and guide/ with few cases in a folder of its own, which is where the commands are run."""
    copy_to(tmp_path, ("river_water_41", "closed_heating_loop"))
    monkeypatch.chdir(tmp_path)
    return tmp_path


def test_one_limit_changed_shows_on_page_pack_command_and_case(
    copied: Path, read_once: None, capsys: pytest.CaptureFixture[str]
) -> None:
    against = "liner_temperature.polyurethane_too_hot"
    assert against in _rules_against_polyurethane(capsys, 41)
    _change(copied, (WITHIN, TOO_HOT))

    pack, texts = load_pack(Path("data"))
    made = guide_site(pack, texts, copied / "guide", directory_url, "none")
    pages = {page.address: page.body for page in made.pages}
    site = Site(pages, made.assets["assets/pack.json"].decode(), made.assets["assets/texts.json"].decode())
    rows = {row.rule: row for row in site.table("tables/liner_temperature/").rows}
    assert rows["liner_temperature.polyurethane_within"].words["temperature_max"] == "up to 45 °C"
    assert rows["liner_temperature.polyurethane_too_hot"].words["temperature_max"] == "above 45 °C"
    too_hot = rows["liner_temperature.polyurethane_too_hot"].conditions["temperature_max"]
    assert isinstance(too_hot, Numbers) and too_hot.ends() == {45.0}

    assert "g-failing" in pages["cases/river_water_41/"] and "g-failing" not in pages["cases/closed_heating_loop/"]
    assert "Reference cases that no longer hold: 1 of 2." in pages[""]

    with BrowserEngine(OWN_SCRIPTS, site.pack_text) as engine:  # what the worksheet reads
        cold, hot = engine.decide("liner_temperature", [(45.0,), (45.0000000001,)])
    assert cold["polyurethane",].rules == ("liner_temperature.polyurethane_within",)
    assert hot["polyurethane",].rules == ("liner_temperature.polyurethane_too_hot",)

    assert against not in _rules_against_polyurethane(capsys, 41)
    assert against not in _rules_against_polyurethane(capsys, 45)
    assert against in _rules_against_polyurethane(capsys, 46)

    assert main(["check"]) == 1
    lines = capsys.readouterr().err.splitlines()
    failing = [line for line in lines if line.startswith("data/cases/river_water_41.yml:")]
    assert len(failing) == 1 and "polyurethane" in failing[0] and "unsuitable" in failing[0]


@pytest.mark.parametrize(
    ("changed", "code", "region"),
    [
        ((TOO_HOT,), "G001", "above 40 up to 45"),
        ((WITHIN,), "G002", "above 40 up to 45"),
    ],
)
def test_a_limit_changed_in_one_of_two_rules_is_told_in_one_line(
    copied: Path, capsys: pytest.CaptureFixture[str], changed: tuple[str, ...], code: str, region: str
) -> None:
    _change(copied, changed)
    assert main(["check"]) == 1
    line, counted = capsys.readouterr().err.splitlines()
    assert counted == "1 problem"
    place, said = line.split(f": {code}: ")
    file, number, _ = place.split(":")
    text = (copied / file).read_text("utf-8").splitlines()
    assert file == f"data/{TABLE}"
    assert "polyurethane" in said.lower() and region in said and "; fix: " in said
    assert code == "G001" or "polyurethane" in text[int(number) - 1]


def test_serving_rebuilds_when_a_file_of_the_data_is_saved(tmp_path: Path) -> None:
    small_project(tmp_path)
    port = _free_port()
    address = f"http://127.0.0.1:{port}/tables/liner_temperature/"
    log = (tmp_path / "serve.log").open("w", encoding="utf-8")
    server = subprocess.Popen(
        [sys.executable, "-m", "mkdocs", "serve", "--dev-addr", f"127.0.0.1:{port}"],
        cwd=tmp_path,
        env=os.environ | {"NO_MKDOCS_2_WARNING": "1", "PYTHONPATH": str(PROJECT)},
        stdout=log,
        stderr=subprocess.STDOUT,
    )
    try:
        assert "73" not in _row_when(address, server, "70"), "the page did not begin with 70"
        table = tmp_path / "data" / TABLE
        table.write_text(table.read_text("utf-8").replace("<= 70", "<= 73").replace("> 70", "> 73"), "utf-8")
        assert _row_when(address, server, "73"), (tmp_path / "serve.log").read_text("utf-8")[-2000:]
    finally:
        server.terminate()
        try:
            server.wait(timeout=10)
        except subprocess.TimeoutExpired:
            server.kill()
            server.wait()
        log.close()


# private


def _change(folder: Path, typed: tuple[str, ...]) -> None:
    path = folder / "data" / TABLE
    text = path.read_text("utf-8")
    for words in typed:
        begin = text.index("{liner: [polyurethane], " + words)
        text = text[:begin] + text[begin:].replace("40", "45", 1)
    path.write_text(text, "utf-8")


def _rules_against_polyurethane(capsys: pytest.CaptureFixture[str], temperature: int) -> list[str]:
    """The rules by which `guide select` rules polyurethane out on a case's line, at a highest temperature."""
    case = Path("data/cases/river_water_41.yml").read_text("utf-8")
    application = textwrap.dedent(case.partition("application:\n")[2].partition("expect:")[0])
    assert application.count("temperature_max: 41 degC") == 1
    application = application.replace("temperature_max: 41 degC", f"temperature_max: {temperature} degC")
    Path("point.yml").write_text(f"id: point\ntitle: The line of a case\n{application}", "utf-8")
    assert main(["select", "point.yml", "--json"]) == 0
    answer = json.loads(capsys.readouterr().out)
    decision = next(one for one in answer["applications"][0]["decisions"] if one["decision"] == "liner")
    said = next(one for one in decision["candidates"] if one["candidate"] == "polyurethane")
    return [reason["rule"] for reason in said["reasons"] if reason["verdict"] == "unsuitable"]


def _row_when(address: str, server: subprocess.Popen, limit: str) -> str:
    """The row of soft rubber once the page shows the limit in it; empty if it does not in time."""
    deadline = time.monotonic() + PATIENCE
    while time.monotonic() < deadline and server.poll() is None:
        try:
            with urllib.request.urlopen(address, timeout=5) as answer:
                text = answer.read().decode("utf-8")
        except OSError:
            text = ""
        row = text[text.find('id="rule-liner_temperature.rubber_within"') :][:400] if text else ""
        if f"up to {limit}" in row:
            return row[: row.find("°C")]
        time.sleep(0.5)
    return ""


def _free_port() -> int:
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        return probe.getsockname()[1]
