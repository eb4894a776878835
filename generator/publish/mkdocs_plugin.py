"""Gives back the guide as a MkDocs site: the only module that knows MkDocs.

Nothing is written into guide/: generated pages live in memory, and an edit in data/ rebuilds what is served.
"""

from __future__ import annotations

import html as html_text
import json
import logging
import re
from pathlib import Path
from typing import Literal
from urllib.parse import urlsplit

from mkdocs.config import config_options
from mkdocs.config.base import Config
from mkdocs.config.defaults import MkDocsConfig
from mkdocs.exceptions import PluginError
from mkdocs.plugins import BasePlugin
from mkdocs.structure.files import File, Files, InclusionLevel
from mkdocs.structure.pages import Page as MkDocsPage
from mkdocs.structure.toc import AnchorLink, TableOfContents

from generator.problems import Place, Refused
from generator.publish.assets import STYLES
from generator.publish.guide_site import GuideSite, NavSection, guide_site, navigation
from generator.publish.links import directory_url, file_url, resolved
from generator.publish.load import load
from generator.publish.policy import with_policy
from generator.render.lost import lost_body
from generator.render.page import Page
from generator.render.prose import SECTIONS, Prose

# Not one of MkDocs' own loggers: with `strict` an error there ends the build, and the server would show nothing.
_LOG = logging.getLogger("guide")
_LOST = re.compile(r"<h1>404[^<]*</h1>")
_SEARCH_DIALOG = 'data-md-component="search" role="dialog"'


class SensorGuideConfig(Config):
    """The plugin's options in mkdocs.yml."""

    # Not `data`: a Config is a mapping with an attribute of that name, and would look for itself for ever.
    data_dir = config_options.Type(str, default="data")
    # The company's overlay: the one that guide.yml names, a folder below the data folder, or none for the base alone.
    overlay = config_options.Type(str, default="none")
    # What a build does about the scores of pinning, which take about a minute to count; serving never counts.
    pinning = config_options.Choice(("count", "kept", "none"), default="count")


class SensorGuidePlugin(BasePlugin[SensorGuideConfig]):
    """Puts the generated pages beside the prose of guide/. The instance lives through the rebuilds of `mkdocs
    serve`."""

    def on_startup(self, *, command: Literal["build", "gh-deploy", "serve"], dirty: bool) -> None:
        if dirty and command != "serve":
            raise PluginError("a dirty build leaves pages out of the search; build without --dirty")
        self._serving = command == "serve"
        self._last_good: GuideSite | None = None
        self._refused: tuple[str, ...] = ()

    def on_config(self, config: MkDocsConfig) -> MkDocsConfig:
        self._data_dir = Path(config.config_file_path or "mkdocs.yml").parent / self.config.data_dir
        config.watch.append(str(self._data_dir))
        links = config.validation.links
        links.not_found = links.anchors = links.absolute_links = links.unrecognized_links = logging.WARNING
        config.validation.nav.omitted_files = logging.WARNING
        return config

    def on_files(self, files: Files, *, config: MkDocsConfig) -> Files:
        self._url_of = directory_url if config.use_directory_urls else file_url
        pinning = "kept" if self._serving and self.config.pinning == "count" else self.config.pinning
        try:
            base = load(self._data_dir)
            whole = base if self.config.overlay == "none" else load(self._data_dir, self.config.overlay)
            site = guide_site(*whole, Path(config.docs_dir), self._url_of, pinning, base)
        except Refused as refused:
            site = self._kept(refused)
        else:
            self._refused, self._last_good = (), site
            if site.failing:
                _LOG.warning("%s: `guide check` names each, and so do the findings of this site", site.failing)
        self._site = site
        self._pages = {page.uri: page for page in site.pages}
        self._prose = {page.uri: page for page in site.prose}
        for page in site.pages:
            known = InclusionLevel.INCLUDED if page.listed else InclusionLevel.NOT_IN_NAV
            files.append(File.generated(config, page.uri, content=_front_matter(page), inclusion=known))
        for path, content in site.assets.items():
            files.append(File.generated(config, path, content=content))
        config.extra_css.extend(
            path for path in STYLES if path in site.assets and path not in config.extra_css
        )
        config.nav = [{"Worksheet": "index.md"}, *(_nav(section) for section in navigation(site, SECTIONS))]
        return files

    def on_page_markdown(self, markdown: str, *, page: MkDocsPage, config: MkDocsConfig, files: Files) -> str:
        prose = self._prose.get(page.file.src_uri)
        return prose.markdown if prose else markdown

    def on_page_content(self, html: str, *, page: MkDocsPage, config: MkDocsConfig, files: Files) -> str:
        made = self._pages.get(page.file.src_uri)
        page.edit_url = self._edit_url(made or self._prose.get(page.file.src_uri))
        if made:
            page.toc = _contents(made)
            return self._banner() + made.body
        prose = self._prose.get(page.file.src_uri)
        if prose is None:
            return html
        return self._banner() + resolved(html, prose.address, prose.source, self._site.targets, self._url_of)[0]

    def on_page_context(self, context: dict, *, page: MkDocsPage, config: MkDocsConfig, nav: object) -> dict:
        made = self._pages.get(page.file.src_uri)
        index = getattr(config.plugins.get("material/search"), "search_index", None)
        if made and index is not None:
            for entry in made.search:
                location = page.url + (f"#{entry.anchor}" if entry.anchor else "")
                index.entries.append({"location": location, "title": entry.title, "text": entry.text})
        return context

    def on_post_template(self, output_content: str, *, template_name: str, config: MkDocsConfig) -> str:
        if template_name != "404.html":
            return output_content
        # It is shown wherever nothing is, so that only an address from the root of the host leads away from there.
        root = urlsplit(config.site_url or "").path.rstrip("/") + "/"
        body = lost_body(lambda page: root + self._url_of(page) if page else root)
        named = _LOST.sub(lambda _: str(body), output_content).replace(_SEARCH_DIALOG, f'{_SEARCH_DIALOG} aria-label="Search"', 1)
        return named if self._serving else with_policy(named)

    def on_post_page(self, output: str, *, page: MkDocsPage, config: MkDocsConfig) -> str:
        # The theme's search dialog has no name of its own for a screen reader.
        named = output.replace(_SEARCH_DIALOG, f'{_SEARCH_DIALOG} aria-label="Search"', 1)
        # The live reload of `mkdocs serve` writes its own script into the page afterwards; a policy would
        # forbid it.
        return named if self._serving else with_policy(named)

    # private

    def _kept(self, refused: Refused) -> GuideSite:
        """While serving, the last good site goes on with the problems on top of every page: without it MkDocs would
        answer no request until the fault is mended."""
        self._refused = tuple(str(problem) for problem in refused.problems)
        if not self._serving or self._last_good is None:
            raise PluginError("\n".join(self._refused)) from None
        for line in self._refused:
            _LOG.error(line)
        return self._last_good

    def _banner(self) -> str:
        if not self._refused:
            return ""
        lines = "".join(f"<li><code>{html_text.escape(line)}</code></li>" for line in self._refused)
        return ('<div class="g-refused" role="alert"><p>What was saved last cannot be used; this is the guide as it was '
                f"before:</p><ul>{lines}</ul></div>")

    def _edit_url(self, page: Page | Prose | None) -> str | None:
        place: Place | None = page.source if page else None
        if place is None or not self._site.repository:
            return None
        return f"{self._site.repository.rstrip('/')}/{place.file}#L{place.line or 1}"


def _front_matter(page: Page) -> str:
    """What the theme asks of a page. The search reads our entries instead of parsing thousands of table
    cells."""
    hidden = (["toc"] if page.wide else []) + ([] if page.section else ["navigation"])
    meta = {"title": page.title, "search": {"exclude": True}, "hide": hidden}
    # JSON is YAML, whatever a title contains.
    return (
        "---\n"
        + "".join(f"{key}: {json.dumps(value, ensure_ascii=False)}\n" for key, value in meta.items())
        + "---\n"
    )


def _nav(section: NavSection) -> dict[str, list]:
    return {section.title: [*({title: uri} for title, uri in section.pages), *map(_nav, section.sections)]}


def _contents(page: Page) -> TableOfContents:
    return TableOfContents([AnchorLink(heading.title, heading.anchor, 2) for heading in page.headings])
