"""Gives back `guide select FILE --offer OFFER`: an offered sensor held against what the application requires."""

from __future__ import annotations

import argparse

from generator.answers.figures import OtherUnit
from generator.commands.at_hand import read_applications
from generator.commands.offer_file import read_offer_file
from generator.commands.printing import print_json
from generator.evaluate.offer import compare_offer
from generator.evaluate.prepared import prepare
from generator.evaluate.results import Application
from generator.evaluate.select import select
from generator.pack.model import Pack
from generator.pack.texts import Texts
from generator.problems import Refused
from generator.render.offer_words import offer_document, offer_lines


def compare(options: argparse.Namespace, pack: Pack, texts: Texts, application: Application, other_unit: OtherUnit) -> int:
    """0, whatever deviates. Refused carries the problems of the offer."""
    (name, data), = read_applications([options.offer])
    offered, problems = read_offer_file(pack, name, data, other_unit)
    if problems or offered is None:
        raise Refused(problems)
    document = offer_document(texts, application, offered.supplier, compare_offer(pack, application, offered.offer), offered.documents,
                              select(prepare(pack), application).advice)
    if options.json:
        print_json(document)
    else:
        print("\n".join(offer_lines(document)))
    return 0
