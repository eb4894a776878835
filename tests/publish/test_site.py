"""The built site: complete, self-contained, under its own policy, and readable by everyone."""

from __future__ import annotations

import json
import re
from urllib.parse import unquote

import pytest

LOADED = re.compile(
    r'<(?:script|img|iframe|source)[^>]*\ssrc="([^"]+)"|<link[^>]*\srel="(?:stylesheet|icon|preload)"'
    r'[^>]*\shref="([^"]+)"|<link[^>]*\shref="([^"]+)"[^>]*\srel="(?:stylesheet|icon|preload)"'
)


@pytest.fixture(scope="module")
def html(built_site) -> dict[str, str]:
    return {
        path.relative_to(built_site).as_posix(): path.read_text("utf-8")
        for path in sorted(built_site.rglob("*.html"))
    }


def test_pages_load_nothing_from_another_host(html):
    for name, text in html.items():
        for found in LOADED.findall(text):
            address = "".join(found)
            assert not re.match(r"(https?:)?//", address), (name, address)


def test_styles_load_nothing_from_another_host(built_site):
    for path in built_site.rglob("*.css"):
        for address in re.findall(r"(?:url\(|@import)\s*['\"]?([^'\")]+)", path.read_text("utf-8")):
            assert not re.match(r"(https?:)?//", address), (path, address)


def test_every_page_has_its_policy_and_no_inline_style(html):
    for name, text in html.items():
        assert text.count("Content-Security-Policy") == 1, name
        assert "unsafe-" not in text and not re.search(r'<[^>]+\sstyle="', text), name


def test_search_dialog_has_a_name(html):
    assert all('role="dialog" aria-label="Search"' in text for text in html.values())


def test_an_address_without_a_page_is_told_where_to_go_from_there(built_site, html):
    text = html["404.html"]
    assert "This page is not in the guide" in text and "404 - Not found" not in text
    ways = re.findall(r'<a class="g-entries__title" href="/([^"]*)">', text)
    assert len(ways) >= 5 and "" in ways and "cases/" in ways
    assert all((built_site / way / "index.html").is_file() for way in ways), ways


def test_every_link_inside_the_site_arrives(built_site, html):
    anchors = {name: set(re.findall(r'\sid="?([^"\s>]+)', text)) for name, text in html.items()}
    for name, text in html.items():
        if name == "404.html":
            continue
        folder = (built_site / name).parent
        for address in set(re.findall(r'<a[^>]*\shref="([^"]+)"', text)):
            if re.match(r"[a-z]+:", address):
                continue
            path, _, anchor = unquote(address).partition("#")
            target = (folder / path).resolve() if path else built_site / name
            target = target / "index.html" if target.is_dir() else target
            assert target.is_file(), (name, address)
            known = anchors.get(target.relative_to(built_site.resolve()).as_posix(), set())
            assert not anchor or anchor.startswith("__") or "=" in anchor or anchor in known, (name, address)


def test_search_finds_a_rule_by_its_reason_and_leads_to_its_row(built_site, html):
    index = json.loads((built_site / "search" / "search_index.json").read_text("utf-8"))
    found = [entry["location"] for entry in index["docs"] if "hydrolyses polyurethane" in entry["text"]]
    assert "tables/liner_temperature/#rule-liner_temperature.polyurethane_too_hot" in found


def test_search_index_stays_small_enough_for_a_page_opened_from_disk(built_site):
    assert (built_site / "search" / "search_index.json").stat().st_size < 2_000_000


@pytest.mark.parametrize("scheme", ["light", "dark"])
@pytest.mark.parametrize(
    ("width", "address"),
    [
        (width, address)
        for width in (390, 1280)
        for address in (
            "",
            "liners/polyurethane/",
            "media/seawater/",
            "tables/liner_temperature/",
            "choosing/liner/",
            "formulas/mean_velocity/",
            "inputs/",
        )
    ],
)
def test_page_fits_its_window_asks_no_other_host_and_breaks_no_policy(
    browser, served_site, scheme, width, address
):
    context = browser.new_context(viewport={"width": width, "height": 900}, color_scheme=scheme)
    try:
        page = context.new_page()
        said: list[str] = []
        page.on("console", lambda message: said.append(message.text) if message.type == "error" else None)
        page.on("pageerror", lambda error: said.append(str(error)))
        page.on(
            "request",
            lambda request: (
                said.append(request.url)
                if not request.url.startswith((served_site, "data:", "blob:"))
                else None
            ),
        )
        page.goto(f"{served_site}/{address}", wait_until="networkidle")
        assert said == []
        assert page.evaluate("document.documentElement.scrollWidth") <= width
    finally:
        context.close()


def test_tables_remain_without_script(browser, served_site):
    context = browser.new_context(java_script_enabled=False)
    try:
        page = context.new_page()
        page.goto(f"{served_site}/")
        # Playwright reads no text inside <noscript>, so the sentence is found by its place.
        assert "needs JavaScript" in page.locator("noscript p").inner_text()
        page.locator("noscript a").first.click()
        page.get_by_role("link", name="Liner against the highest temperature").first.click()
        assert (
            page.locator("[id='rule-liner_temperature.polyurethane_too_hot']").inner_text().find("unsuitable")
            > 0
        )
    finally:
        context.close()
