"""Links are written for the page they stand on; a link that leads nowhere is a problem."""

from __future__ import annotations

import pytest

from generator.problems import Place
from generator.publish.links import Targets, directory_url, file_url, relative, resolved

KNOWN = Targets(
    {
        "": frozenset({"doors"}),
        "liners/pfa/": frozenset({"rule-a.b"}),
        "choosing/liner/": None,
        "assets/pack.json": frozenset(),
        "media/x/": frozenset(),
    }
)
HERE = Place("data/x.yml", 3)


@pytest.mark.parametrize(
    ("address", "here", "way"),
    [
        ("liners/pfa/", "media/x/", "../../liners/pfa/"),
        ("liners/pfa/", "", "liners/pfa/"),
        ("", "media/x/", "../../"),
        ("", "", "./"),
        ("assets/pack.json", "media/x/", "../../assets/pack.json"),
        ("media/x/", "media/x/", "./"),
    ],
)
def test_way_between_folders(address, here, way):
    assert relative(address, here, directory_url) == way


@pytest.mark.parametrize(
    ("address", "here", "way"),
    [
        ("liners/pfa/", "media/x/", "../liners/pfa.html"),
        ("", "media/x/", "../index.html"),
        ("assets/pack.json", "media/x/", "../assets/pack.json"),
        ("liners/pfa/", "", "liners/pfa.html"),
    ],
)
def test_way_between_files(address, here, way):
    assert relative(address, here, file_url) == way


def test_links_of_html_and_markdown_are_resolved():
    html, none = resolved('<a href="page:liners/pfa/#rule-a.b">', "media/x/", HERE, KNOWN, directory_url)
    text, nothing = resolved("[PFA](page:liners/pfa/)", "media/x/", HERE, KNOWN, directory_url, markdown=True)
    assert (html, text) == ('<a href="../../liners/pfa/#rule-a.b">', "[PFA](../../liners/pfa/)")
    assert none == nothing == []


def test_root_of_the_site_is_a_folder_in_both_forms_of_address():
    for url_of, way in ((directory_url, "../../"), (file_url, "../")):
        assert (
            resolved('<p data-root="page:">', "media/x/", HERE, KNOWN, url_of)[0] == f'<p data-root="{way}">'
        )


@pytest.mark.parametrize(
    ("link", "said"),
    [
        ("liners/none/", "a link leads to 'liners/none/', which is no page of the guide"),
        ("liners/pfa/#rule-c", "a link leads to 'liners/pfa/#rule-c', and that page has no such place"),
    ],
)
def test_link_that_leads_nowhere_is_a_problem_of_the_page(link, said):
    problems = resolved(f'<a href="page:{link}">', "media/x/", HERE, KNOWN, directory_url)[1]
    assert [(problem.place, problem.code, problem.message) for problem in problems] == [(HERE, "P006", said)]


def test_anchor_of_a_prose_page_is_left_to_its_author():
    assert resolved('<a href="page:choosing/liner/#gas">', "", HERE, KNOWN, directory_url)[1] == []
