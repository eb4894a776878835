"""Gives back the kinds of pairs of media, as the engines read them."""

from __future__ import annotations

from generator.pack.model import Mixture
from generator.read.records import KnowledgeBase


def compile_mixtures(base: KnowledgeBase) -> tuple[Mixture, ...]:
    """Per kind the media with its first flag and those with its second; none for the kind of all other pairs."""
    bearers: dict[str, tuple[str, ...]] = {}
    for medium in base.media:
        for flag in medium.item.flags:
            bearers[flag.text] = (*bearers.get(flag.text, ()), medium.item.id.text)
    return tuple(Mixture(kind.id.text, *(bearers[flag.text] for flag in kind.flags)) for kind in base.mixtures)
