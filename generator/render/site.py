"""Gives back all generated pages of the guide, in the order of the navigation."""

from __future__ import annotations

from generator.render.candidates import candidate_pages
from generator.render.cases import answered_cases, case_pages
from generator.render.concessions import concessions_pages
from generator.render.failing import failing
from generator.render.findings import findings_page
from generator.render.formulas import formula_pages
from generator.render.indexes import index_pages
from generator.render.inputs import inputs_page
from generator.render.library import Library
from generator.render.media import medium_pages
from generator.render.overlay import overlay_pages
from generator.render.page import Page
from generator.render.pinned import Record, counted_limits
from generator.render.register import basis_page, register_page
from generator.render.series import series_pages
from generator.render.sources import source_pages
from generator.render.start import start_page
from generator.render.tables import table_pages


def all_pages(lib: Library, pinning: Record | None = None, base: Library | None = None) -> tuple[Page, ...]:
    """The pages made from data, as `counted_pages` makes them."""
    return counted_pages(lib, pinning, base)[0]


def counted_pages(lib: Library, pinning: Record | None = None, base: Library | None = None) -> tuple[tuple[Page, ...], str]:
    """The pages made from data, and a count of the cases that the rules no longer meet: empty where they meet all.
    The first page of a section opens it. `pinning` goes on the page of findings; the maps show which limits it counts as
    held. It was counted for the `base`: of a table that the overlay changes it knows nothing.
    """
    unchanged = [table for table in lib.pack.tables if base is None or table in base.pack.tables]
    candidates = candidate_pages(lib)
    answered = answered_cases(lib)
    failed = failing(lib, answered, base)
    whole = tuple(page for page in candidates if page.uri.endswith("index.md"))
    return (
        start_page(lib, failed),
        inputs_page(lib),
        *whole,
        *index_pages(lib, failed),
        *(page for page in candidates if page not in whole),
        *medium_pages(lib),
        *table_pages(lib, counted_limits(pinning, unchanged) if pinning else None),
        *formula_pages(lib),
        *series_pages(lib),
        *case_pages(lib, answered, failed),
        *overlay_pages(lib, answered, failed),
        register_page(lib),
        basis_page(lib),
        findings_page(lib, answered, pinning, failed),
        *concessions_pages(lib, answered),
        *source_pages(lib),
    ), failed.counted
