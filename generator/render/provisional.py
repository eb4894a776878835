"""Gives back what a provisional result is to be confirmed against: documents whose figures were quoted from memory."""

from __future__ import annotations

from generator.pack.model import Pack
from generator.pack.texts import SourceText, Texts
from generator.render.words import joined


def recalled_documents(pack: Pack, texts: Texts) -> list[dict[str, str]]:
    """Per document of `pack.recalled` its source, short title and clause (or nothing)."""
    sources = {source.id: source for source in texts.sources}
    return [{"source": one.source, "title": _short(sources[one.source]), "clause": one.clause} for one in pack.recalled]


def provisional_words(confirm: list[dict[str, str]]) -> str:
    """`provisional: confirm ISO 20456 clause 4 and general corrosion handbooks`; nothing where nothing is to be
    confirmed."""
    names = [one["title"] + (f" clause {one['clause']}" if one["clause"] else "") for one in confirm]
    return f"provisional: confirm {joined(names, 'and')}" if names else ""


# private

def _short(source: SourceText) -> str:
    """The number of a standard without its long title; other titles inside a sentence."""
    title = source.title.partition(", ")[0]
    return title[:1].lower() + title[1:] if title[1:2].islower() else title
