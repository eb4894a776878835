"""Gives back a letter that asks for open answers as plain text, ready to send. Twin of browser/letter_words.js."""

from __future__ import annotations

from generator.evaluate.numbers import plain_text
from generator.evaluate.results import Application, Asked, Letter
from generator.pack.model import Input, Pack
from generator.pack.texts import InputText, Texts
from generator.render.answer_document import Understood

MOST_CHOICES = 12                    # a longer list is told by its first few and its number
FIRST_CHOICES, FIRST_CANDIDATES = 4, 4


def letter_text(pack: Pack, texts: Texts, application: Application, understood: tuple[Understood, ...],
                letter: Letter) -> str:
    """Subject, greeting without a name, each question with what it hangs on, and whose guide asks."""
    named = f"{application.id}, {application.title}" if application.title else application.id
    count = len(letter.asked)
    lines = [
        f"Subject: {count} question{'s' * (count > 1)} about measuring point {named}",
        f"To: {addressee(letter.asked_of)}",
        "",
        "Good day,",
        "",
        f"an electromagnetic flowmeter sensor is being chosen for the measuring point {named}. The choice waits for the "
        "answers below, which you are most likely to know. A range such as \"60 to 80\" is an answer too, if it is sure "
        "to hold. Please do not guess: a blank keeps a verdict open, a wrong answer makes it wrong.",
    ]
    for place, asked in enumerate(letter.asked, 1):
        lines += ["", *_question(pack, texts, understood, place, asked)]
    return "\n".join([*lines, "", "Thank you.", "", f"{texts.edition.company}, {texts.edition.edition}",
                      texts.edition.notice, ""])


def addressee(asked_of: str) -> str:
    """`process` as it is written to."""
    words = asked_of.replace("_", " ")
    return words[:1].upper() + words[1:]


# private

def _question(pack: Pack, texts: Texts, understood: tuple[Understood, ...], place: int, asked: Asked) -> list[str]:
    item = next(one for one in pack.inputs if one.id == asked.input)
    text = next(one for one in texts.inputs if one.id == asked.input)
    states = {one.id: one.title for one in texts.states}
    where = f" ({', '.join(states[state] for state in asked.states)})" if item.per_state else ""
    typed = {one.state: one.typed for one in understood if one.input == asked.input and one.typed}
    given = [typed[state] + (f" ({states[state]})" if item.per_state else "") for state in asked.states if state in typed]
    return [f"{place}. {text.title}{where}",
            f"   {text.help}",
            f"   Answer: {_answer(item, text)}",
            f"   Given so far: {'; '.join(given) or 'nothing'}",
            f"   Why it is asked: {_why(texts, asked)}",
            f"   If nobody answers: {text.blank}"]


def _answer(item: Input, text: InputText) -> str:
    if item.kind == "number":
        unit = "" if text.unit_symbol in ("", "1") else f" {text.unit_symbol}"
        answer = f"a number from {plain_text(item.low)} to {plain_text(item.high)}{unit}"
    else:
        titles = [title for _, title in text.options]
        answer = f"one of: {'; '.join(titles)}" if len(titles) <= MOST_CHOICES else \
            f"one of {len(titles)} names in the guide, such as: {'; '.join(titles[:FIRST_CHOICES])}"
    return answer + ("; or: not applicable" if item.may_be_absent else "")


def _why(texts: Texts, asked: Asked) -> str:
    titles = {(decision.id, item.id): item.title for decision in texts.decisions for item in decision.items}
    names = {decision.id: decision.title for decision in texts.decisions}
    told = []
    for decision, candidates in asked.waiting:
        first = ", ".join(titles[decision, one] for one in candidates[:FIRST_CANDIDATES])
        more = len(candidates) - FIRST_CANDIDATES
        told.append(f"{names[decision]} ({first}{f' and {more} more' if more > 0 else ''})")
    total, alone = (sum(len(candidates) for _, candidates in found) for found in (asked.waiting, asked.alone))
    nothing = f"; {alone} of them for nothing else" if alone else ""
    return f"{total} verdict{'s wait' if total > 1 else ' waits'} for it{nothing}: {'; '.join(told)}."
