"""Gives back the selection record to print, sign and file, from a record document: what is signed stands on the front of one
sheet, what it rests on follows on the back."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass

from markupsafe import Markup

from generator.pack.texts import Texts
from generator.render.answer_words import basis_in_words, in_titles
from generator.render.concession_words import concession_sentence
from generator.render.margin_words import NEAREST_SHOWN, margin_line, nearest_margins
from generator.render.printing import printed
from generator.render.provisional import provisional_words
from generator.render.question_words import question_sentence
from generator.render.words import number_text

SIGNED_BY = ("Selected by", "Checked by", "Owner's corrosion engineer")
DEFERS = ("This is screening advice. Local codes and regulations, the owner's corrosion engineer and licensed practice "
          "decide. A signature accepts the open points, provisional figures and concessions named here.")
_PLAIN = ("none", "no", "not applicable")         # answers that many questions share: one line for each word
_FIGURE = re.compile(r"[0-9]+\.[0-9]{5,}")
NONE_LEFT = "No selection is left by these rules; see the conflict."


@dataclass(frozen=True, slots=True)
class ChosenView:
    decision: str
    candidate: str
    verdict: str
    words: str
    because: str


@dataclass(frozen=True, slots=True)
class ReasonView:
    verdict: str
    because: str
    origin: str


@dataclass(frozen=True, slots=True)
class ReasonsView:
    title: str
    reasons: tuple[ReasonView, ...]


@dataclass(frozen=True, slots=True)
class AnswerView:
    title: str
    typed: str
    understood: str


@dataclass(frozen=True, slots=True)
class AlikeView:
    """What was answered with the same plain word: `none: Solids in the liquid, Deposits on the wall`."""

    typed: str
    titles: str


@dataclass(frozen=True, slots=True)
class StateView:
    """Assumed answers stand under a heading of their own."""

    title: str
    answers: tuple[AnswerView, ...]
    alike: tuple[AlikeView, ...]


@dataclass(frozen=True, slots=True)
class PointsView:
    heading: str
    lines: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class RecordView:
    title: str
    id: str
    company: str
    edition: str
    overlay: str
    rules: str
    made: str
    verdict: str
    result: str
    chosen: tuple[ChosenView, ...]
    conflict: tuple[str, ...]
    states: tuple[StateView, ...]
    values: tuple[str, ...]
    margins: tuple[str, ...]
    reasons: tuple[ReasonsView, ...]
    points: tuple[PointsView, ...]
    cautions: tuple[str, ...]
    hand_over: tuple[str, ...]
    signed_by: tuple[str, ...]
    defers: str
    notice: str
    style: Markup


def record_page(texts: Texts, record: dict, style: str) -> str:
    """The whole HTML document, with its style inside and nothing to load."""
    return printed("record.html", record_view(texts, record, Markup(style))) + "\n"


def record_view(texts: Texts, record: dict, style: Markup = Markup()) -> RecordView:
    """The texts of the page; `record` as `record_document` gives it."""
    answer = record["answer"]
    best = answer["selections"][0] if answer["selections"] else None
    titles = {one["decision"]: one["title"] for one in answer["decisions"]}
    confirm = provisional_words(best["confirm"]) if best else ""
    result = NONE_LEFT if best is None else _verdict(best).replace("provisional", confirm or "provisional")
    return RecordView(
        answer["title"], answer["id"], record["company"], record["edition"], record["overlay"], record["rules"],
        record["made"],
        best["verdict"] if best else "unsuitable", result,
        tuple(_chosen(one, titles, answer) for one in best["chosen"]) if best else (),
        tuple(_sentence(reason) for reason in (answer["conflict"] or {"reasons": ()})["reasons"]),
        _states(texts, answer), _values(texts, answer, best),
        tuple(margin_line(titles, one) for one in nearest_margins(answer)[:NEAREST_SHOWN]),
        _reasons(answer, best, titles, _described(texts, record)), _points(texts, answer, best),
        tuple(map(_advice, answer["cautions"])), tuple(map(_advice, answer["hand_over"])),
        SIGNED_BY, DEFERS, record["notice"], style)


# private

def _verdict(one: dict) -> str:
    bounds = "" if one["best"] == one["worst"] else f": at worst {one['worst']}, at best {one['best']}"
    return one["verdict"] + bounds + ("" if not one["confirm"] else ", provisional")


def _chosen(one: dict, titles: dict[str, str], answer: dict) -> ChosenView:
    conceded = [concession_sentence(each).partition("; ")[2] for each in answer["concessions"]
                if (each["decision"], each["candidate"]) == (one["decision"], one["candidate"])]
    because = tuple(dict.fromkeys(_sentence(reason) for reason in one["limits"]))
    if not because:
        result = next(each for decision in answer["decisions"] if decision["decision"] == one["decision"]
                      for each in decision["candidates"] if each["candidate"] == one["candidate"])
        because = tuple(_sentence(reason) for reason in result["reasons"][:1])
    return ChosenView(titles[one["decision"]], one["title"] + (" (pinned)" if one["pinned"] else ""), one["verdict"],
                      _verdict(one), " ".join((*conceded, *because)))


def _sentence(reason: dict) -> str:
    return ("" if reason["settled"] else "Not ruled out yet: ") + reason["because"]


def _states(texts: Texts, answer: dict) -> tuple[StateView, ...]:
    names = {one.id: one.title for one in texts.inputs}
    titles = {one.id: one.title for one in texts.states}
    options = {one.id: one.options for one in texts.inputs}
    assumed = {(one["state"], one["input"]) for one in answer["assumed"]}
    states: dict[str, list[AnswerView]] = {}
    for one in answer["understood"]:
        if one["state"] in titles:
            answers = states.setdefault(one["state"], [])
            if (one["state"], one["input"]) not in assumed:
                answers.append(AnswerView(names[one["input"]], *_in_words(options[one["input"]], one["typed"], one["taken"])))
    return tuple(StateView(
        titles[state], tuple(one for one in found if one.typed not in _PLAIN or one.understood),
        tuple(AlikeView(word, alike) for word in _PLAIN if (alike := ", ".join(
            one.title for one in found if one.typed == word and not one.understood))))
        for state, found in states.items())


def _in_words(options: Sequence[tuple[str, str]], typed: str, taken: str) -> tuple[str, str]:
    """What was typed, and what was understood where that says more. A name as the data write it stands as its title."""
    same = _letters(taken) == _letters(typed)
    if not options or typed in _PLAIN and same:
        return typed, "" if same else _shortened(taken)
    title = in_titles(options, taken)
    return (title, "") if same or _letters(title) == _letters(typed) else (typed, title)


def _described(texts: Texts, record: dict) -> list[str]:
    """The ids of the states that the application describes."""
    return [one.id for one in texts.states if isinstance(record["application"].get(one.id), dict)]


def _values(texts: Texts, answer: dict, best: dict | None) -> tuple[str, ...]:
    """The calculated values of what is chosen, where the answers settle them. States are named where they differ."""
    chosen = {one["candidate"]: one["title"] for one in best["chosen"]} if best else {}
    titles = {one.id: (one.title, one.unit_symbol) for one in texts.derived}
    states = {one.id: one.title for one in texts.states}
    lines: dict[str, list[str]] = {}
    for one in answer["values"]:
        if one["value"] is not None and all(part in chosen for part in one["candidate"].split()):
            title, unit = titles[one["name"]]
            shown = f"{title}: {number_text(_four_digits(one['value']), unit)}"
            lines.setdefault(shown, []).append(states[one["state"]])
    told = Counter(line.partition(": ")[0] for line in lines)
    return tuple(f"{line} ({', '.join(where)})" if told[line.partition(": ")[0]] > 1 else line
                 for line, where in lines.items())


def _letters(text: str) -> str:
    """What tells two answers apart: `PN 16` and `pn16` are the same."""
    return text.lower().replace(" ", "").replace("_", "")


def _shortened(taken: str) -> str:
    """A converted figure with six digits, which are enough to know it by."""
    return _FIGURE.sub(lambda found: f"{float(found[0]):.6g}", taken)


def _four_digits(value: float) -> float:
    return float(f"{value:.4g}")


def _reasons(answer: dict, best: dict | None, titles: dict[str, str], every: list[str]) -> tuple[ReasonsView, ...]:
    """Every rule that was read for what is chosen, with its basis; states that say the same share a line, and where
    `every` described state says it, none is named."""
    if best is None:
        return ()
    chosen = {one["decision"]: one["candidate"] for one in best["chosen"]}
    found = []
    for one in best["chosen"]:
        result = next(each for decision in answer["decisions"] if decision["decision"] == one["decision"]
                      for each in decision["candidates"] if each["candidate"] == one["candidate"])
        own = [reason for reason in result["reasons"]
               if all(chosen[pair["decision"]] == pair["candidate"] for pair in reason["with"])]
        lines: dict[tuple[str, str, str], list[str]] = {}
        for reason in (*one["limits"], *own):
            states = lines.setdefault((reason["verdict"], _sentence(reason),
                                       f"{reason['rule']}; {basis_in_words(reason['basis'])}"), [])
            liquid = " and ".join(each["medium"] for each in reason["components"])
            where = reason["state"] + (f" for {liquid}" if liquid else "")
            if where not in states:
                states.append(where)
        found.append(ReasonsView(f"{titles[one['decision']]}: {one['title']}", tuple(
            ReasonView(verdict, because, origin if sorted(states) == sorted(every) else f"{origin}; {', '.join(states)}")
            for (verdict, because, origin), states in lines.items())))
    return tuple(found)


def _points(texts: Texts, answer: dict, best: dict | None) -> tuple[PointsView, ...]:
    """What a signature accepts, by heading; headings without a line are left out."""
    names = {one.id: one.title for one in texts.inputs}
    states = {one.id: one.title for one in texts.states}
    missing = [f"{names[one['input']]} ({states[one['state']]})" for one in best["open_in"]] if best else []
    options = {one.id: dict(one.options) for one in texts.inputs}
    assumed: dict[str, list[str]] = {}
    for one in answer["assumed"]:
        taken = options[one["input"]].get(one["taken"], one["taken"])
        assumed.setdefault(f"{names[one['input']]}: {taken}", []).append(states[one["state"]])
    found = (
        ("Open points", (*answer["open_points"],
                         *([f"Missing answers: {', '.join(missing)}."] if missing else []),
                         *([f"Next question: {question_sentence(answer['next_question'])}."]
                           if answer["next_question"] else []))),
        ("Assumed, not answered", ("; ".join(f"{words} ({', '.join(where)})" for words, where in assumed.items()) + ".",)
         if assumed else ()),
        ("Concessions; no verdict changes by them", tuple(
            f"{one['title']}: {concession_sentence(one)}" for one in answer["concessions"])))
    return tuple(PointsView(heading, tuple(lines)) for heading, lines in found if lines)


def _advice(one: dict) -> str:
    return ("" if one["certain"] else "May apply, an answer is open: ") + one["text"]
