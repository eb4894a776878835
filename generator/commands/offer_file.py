"""Gives back an offered sensor from a YAML file, with every fault at its place.

    supplier: who offers it
    offered: {liner: pfa, size: dn100}                      a candidate per decision, by id or any name of the guide
    figures: {temperature_max: 130 degC, true_bore: 97 mm}  the supplier's own limits, with units
    documents: [calibration, torque_sheet]                  what comes with it, by the ids of the hand-over list
"""

from __future__ import annotations

from dataclasses import dataclass, field

from generator.answers.figures import Fault, OtherUnit
from generator.answers.pins import instead, read_pins
from generator.answers.reading import read_answer
from generator.answers.wording import shown, squeeze
from generator.evaluate.offer import BORE, Offer
from generator.evaluate.results import NumberSet
from generator.pack.model import Conversion, Input, Pack
from generator.problems import Place, Problem
from generator.read.records import Word
from generator.read.yaml_nodes import Mapping, Node, Sequence, compose

OFFER = "A033"                       # an offer that lacks something, or names what the guide does not have
KEYS = ("supplier", "offered", "figures", "documents")
TRUE_BORE = "true_bore"
_NEEDED = "write `supplier: ...` and `offered: {liner: ...}`, then `figures:` and `documents:`"
_FORM = "write the form of an offer with `guide select FILE --requisition OFFER.yml` and fill it in"


@dataclass(frozen=True, slots=True)
class ReadOffer:
    """What was understood: who offers, what is compared, and the documents by id."""

    supplier: str
    offer: Offer
    documents: tuple[str, ...]


def read_offer_file(pack: Pack, file: str, data: bytes, other_unit: OtherUnit | None = None,
                    ) -> tuple[ReadOffer | None, list[Problem]]:
    """The offer of a file, or None where it is no mapping; with all problems of the file."""
    node, problems = compose(file, data)
    if node is None:
        return None, problems
    if not isinstance(node, Mapping):
        return None, [*problems, Problem(node.place, OFFER, "an offer is written as keys with values", _NEEDED)]
    reader = _Reader(pack, other_unit, list(problems))
    found = {key.text: (key, value) for key, value in node.entries}
    if not found.keys() & set(KEYS):
        reader.say(node.place, "this file is no offer", _FORM)
        return None, reader.problems
    for key, _ in node.entries:
        if key.text not in KEYS:
            reader.say(key.place, f"an offer has no key '{shown(key.text)}'", instead(key.text, list(KEYS)))
    for name in KEYS[:2]:
        if name not in found:
            reader.say(node.place, f"the offer has no `{name}`", f"add `{name}: ...`")
    supplier = found.get("supplier", (None, None))[1]
    if supplier is not None and not (isinstance(supplier, Word) and squeeze(supplier.text)):
        reader.say(supplier.place, "the offer does not say whose it is", "write `supplier: ...`")
    chosen = reader.candidates(found["offered"][1]) if "offered" in found else ()
    figures, bore = reader.figures(found["figures"][1]) if "figures" in found else ((), None)
    documents = reader.documents(found["documents"][1]) if "documents" in found else ()
    return ReadOffer(squeeze(supplier.text) if isinstance(supplier, Word) else "",
                     Offer(chosen, figures, bore), documents), reader.problems


# private

@dataclass(slots=True)
class _Reader:
    pack: Pack
    other_unit: OtherUnit | None
    problems: list[Problem] = field(default_factory=list)

    def say(self, place: Place, message: str, fix: str) -> None:
        self.problems.append(Problem(place, OFFER, message, fix))

    def candidates(self, node: Node) -> tuple[tuple[str, str], ...]:
        entries = self._entries(node, "offered", "{liner: pfa}")
        pins, wrong = read_pins(self.pack, {key.text: value.text for key, value in entries})
        places = {key.text: (key.place, value.place) for key, value in entries}
        for decision, part, fault in wrong:
            message = f"there is no decision '{shown(decision)}'" if part == "key" else fault.message
            self.say(places[decision][0 if part == "key" else 1], message, fault.fix)
        return tuple((decision, candidate) for decision, _, candidate in pins)

    def figures(self, node: Node) -> tuple[tuple[tuple[str, float], ...], float | None]:
        inputs = {item.id: item for item in self.pack.inputs if item.kind == "number" and item.id.endswith(("_max", "_min"))}
        bore = self._bore_input()
        known = {**inputs, **({TRUE_BORE: bore} if bore is not None else {})}
        found: dict[str, float] = {}
        for key, value in self._entries(node, "figures", "{temperature_max: 130 degC}"):
            if not squeeze(value.text) and key.text in known:
                continue                                     # a blank of the form: not stated
            if key.text not in known:
                self.say(key.place, f"an offer states no figure '{shown(key.text)}'", instead(key.text, list(known)))
                continue
            understood = read_answer(known[key.text], value.text, self.pack.inputs, self.other_unit)
            if isinstance(understood, Fault):
                self.problems.append(Problem(value.place, understood.code, understood.message, understood.fix))
            elif not isinstance(understood.answer, NumberSet) or len(understood.answer.intervals) != 1 \
                    or len(set(understood.answer.intervals[0])) != 1:
                self.say(value.place, f"the figure of '{key.text}' is not one number", "write the supplier's own limit")
            else:
                found[key.text] = understood.answer.intervals[0][0]
        return tuple((name, number) for name, number in found.items() if name != TRUE_BORE), found.get(TRUE_BORE)

    def documents(self, node: Node) -> tuple[str, ...]:
        known = [one.id for one in self.pack.advice if one.kind == "hand_over"]
        if not isinstance(node, Sequence) or not all(isinstance(item, Word) for item in node.items):
            self.say(node.place, "`documents` is not a list of names", f"write `documents: [{known[0] if known else ''}]`")
            return ()
        for item in node.items:
            if item.text not in known:
                self.say(item.place, f"there is no document '{shown(item.text)}' to hand over", instead(item.text, known))
        return tuple(item.text for item in node.items if item.text in known)

    def _entries(self, node: Node, name: str, example: str) -> list[tuple[Word, Word]]:
        if not isinstance(node, Mapping):
            self.say(node.place, f"`{name}` is not written as names with values", f"write `{name}: {example}`")
            return []
        for key, value in node.entries:
            if not isinstance(value, Word):
                self.say(value.place, f"`{key.text}` is not one text", f"write `{key.text}: ...`")
        return [(key, value) for key, value in node.entries if isinstance(value, Word)]

    def _bore_input(self) -> Input | None:
        """What reads a true bore, in the millimetres of the nominal ones and near to them."""
        bores = [number for decision in self.pack.decisions for one in decision.candidates
                 for name, number in one.numbers if name == BORE]
        lengths = next((item.conversions for item in self.pack.inputs if item.unit == "mm"), (Conversion("mm", 1, 0, 1),))
        return Input(TRUE_BORE, "number", False, "", False, "mm", min(bores) / 2, max(bores) * 2, lengths) if bores else None
