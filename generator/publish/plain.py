"""Gives back the site as files for any generator that reads Markdown with a front matter."""

from __future__ import annotations

import json
from pathlib import Path

from generator.pack.model import Pack
from generator.pack.texts import Texts
from generator.publish.assets import STYLES
from generator.publish.guide_site import GuideSite, guide_site
from generator.publish.links import directory_url, relative, resolved


def write_site(pack: Pack, texts: Texts, guide_dir: Path, folder: Path,
               pinning: str = "count", base: tuple[Pack, Texts] | None = None) -> tuple[list[Path], str]:
    """Writes every page and asset below `folder` and gives back the files, in order, and a count of the cases that fail.

    Pages expect to be served at directory addresses (`liners/pfa/`), which is what generators do unless told
    otherwise. Files of other names are left alone. Raises `Refused` with every reference that leads nowhere.
    """
    site = guide_site(pack, texts, guide_dir, directory_url, pinning, base)
    files = {**_page_files(site), **_prose_files(site), **site.assets}
    written: list[Path] = []
    for name, content in sorted(files.items()):
        path = folder / name
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_bytes(content)
        written.append(path)
    return written, site.failing


# private


def _page_files(site: GuideSite) -> dict[str, bytes]:
    return {page.uri: _file(site, page.title, page.address, page.body) for page in site.pages}


def _prose_files(site: GuideSite) -> dict[str, bytes]:
    return {
        page.uri: _file(
            site,
            page.title,
            page.address,
            resolved(page.markdown, page.address, page.source, site.targets, directory_url, markdown=True)[0],
        )
        for page in site.prose
    }


def _file(site: GuideSite, title: str, address: str, body: str) -> bytes:
    """Front matter, our styles, and the body. The link to the styles stands in the page: no theme knows of
    it."""
    styles = "\n".join(
        f'<link rel="stylesheet" href="{relative(path, address, directory_url)}">'
        for path in STYLES
        if path in site.assets
    )
    # JSON's quoted string is YAML's too, whatever the title contains.
    front = f"---\ntitle: {json.dumps(title, ensure_ascii=False)}\n---\n"
    return f"{front}\n{styles}\n\n{body}\n".encode()
