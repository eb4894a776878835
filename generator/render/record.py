"""Gives back the selection record as one page to print, sign and file, from a record document."""

from __future__ import annotations

import re
from dataclasses import dataclass

from markupsafe import Markup

from generator.pack.texts import Texts
from generator.render.answer_words import basis_in_words
from generator.render.concession_words import concession_sentence
from generator.render.printing import printed
from generator.render.provisional import provisional_words
from generator.render.words import number_text

SIGNED_BY = ("Selected by", "Checked by", "Owner's corrosion engineer")
DEFERS = ("This is screening advice. Local codes and regulations, the owner's corrosion engineer and licensed practice "
          "decide. A signature accepts the open points, provisional figures and concessions named here.")
_FIGURE = re.compile(r"[0-9]+\.[0-9]{5,}")
NONE_LEFT = "No selection is left by these rules; see the conflict."


@dataclass(frozen=True, slots=True)
class ChosenView:
    decision: str
    candidate: str
    verdict: str
    words: str
    because: tuple[str, ...]


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
class StateView:
    title: str
    answers: tuple[AnswerView, ...]


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
    reasons: tuple[ReasonsView, ...]
    points: tuple[tuple[str, tuple[str, ...]], ...]      # heading, lines
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
        _reasons(answer, best, titles), _points(texts, answer, best),
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
                      _verdict(one), (*conceded, *because))


def _sentence(reason: dict) -> str:
    return ("" if reason["settled"] else "Not ruled out yet: ") + reason["because"]


def _states(texts: Texts, answer: dict) -> tuple[StateView, ...]:
    names = {one.id: one.title for one in texts.inputs}
    titles = {one.id: one.title for one in texts.states}
    assumed = {(one["state"], one["input"]) for one in answer["assumed"]}
    states: dict[str, list[AnswerView]] = {}
    for one in answer["understood"]:
        if one["state"] in titles:
            typed = "assumed" if (one["state"], one["input"]) in assumed else one["typed"]
            states.setdefault(one["state"], []).append(
                AnswerView(names[one["input"]], typed, "" if one["taken"] == typed else _shortened(one["taken"])))
    return tuple(StateView(titles[state], tuple(found)) for state, found in states.items())


def _values(texts: Texts, answer: dict, best: dict | None) -> tuple[str, ...]:
    """The calculated values of what is chosen, where the answers settle them."""
    chosen = {one["candidate"]: one["title"] for one in best["chosen"]} if best else {}
    titles = {one.id: (one.title, one.unit_symbol) for one in texts.derived}
    states = {one.id: one.title for one in texts.states}
    lines: dict[str, list[str]] = {}
    for one in answer["values"]:
        if one["value"] is not None and all(part in chosen for part in one["candidate"].split()):
            title, unit = titles[one["name"]]
            shown = f"{title}: {number_text(_four_digits(one['value']), unit)}"
            lines.setdefault(shown, []).append(states[one["state"]])
    return tuple(f"{line} ({', '.join(where)})" for line, where in lines.items())


def _shortened(taken: str) -> str:
    """A converted figure with six digits, which are enough to know it by."""
    return _FIGURE.sub(lambda found: f"{float(found[0]):.6g}", taken)


def _four_digits(value: float) -> float:
    return float(f"{value:.4g}")


def _reasons(answer: dict, best: dict | None, titles: dict[str, str]) -> tuple[ReasonsView, ...]:
    """Every rule that was read for what is chosen, with its basis; states that say the same share a line."""
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
            ReasonView(verdict, because, f"{origin}; {', '.join(states)}")
            for (verdict, because, origin), states in lines.items())))
    return tuple(found)


def _points(texts: Texts, answer: dict, best: dict | None) -> tuple[tuple[str, tuple[str, ...]], ...]:
    """What a signature accepts, by heading; headings without a line are left out."""
    names = {one.id: one.title for one in texts.inputs}
    states = {one.id: one.title for one in texts.states}
    missing = [f"{names[one['input']]} ({states[one['state']]})" for one in best["open_in"]] if best else []
    assumed: dict[str, list[str]] = {}
    for one in answer["assumed"]:
        assumed.setdefault(f"{names[one['input']]}: {one['taken']}", []).append(states[one["state"]])
    found = (
        ("Open points", (*answer["open_points"],
                         *([f"Missing answers: {', '.join(missing)}."] if missing else []))),
        ("Assumed, not answered", ("; ".join(f"{words} ({', '.join(where)})" for words, where in assumed.items()) + ".",)
         if assumed else ()),
        ("Concessions; no verdict changes by them", tuple(
            f"{one['title']}: {concession_sentence(one)}" for one in answer["concessions"])))
    return tuple((heading, tuple(lines)) for heading, lines in found if lines)


def _advice(one: dict) -> str:
    return ("" if one["certain"] else "May apply, an answer is open: ") + one["text"]
