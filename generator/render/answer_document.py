"""Gives back the answer of `guide select` as plain records, with every sentence in place, and its JSON Schema."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from functools import partial

from generator.evaluate.conceded import EXPIRED, HOLDS, NEEDLESS, conceded
from generator.evaluate.results import Application, CandidateResult, Conflict, Margin, Question, Reason, Selected, Selection
from generator.pack.model import VERDICTS, Pack
from generator.pack.texts import BasisText, RuleText, Texts
from generator.render.component_words import Names, component_names
from generator.render.concession_words import concession_records
from generator.render.margin_words import margin_records
from generator.render.provisional import recalled_documents
from generator.render.question_words import question_record

FORMAT = 1
Recalled = list[dict[str, str]]      # what `Pack.recalled` names, as records
Rules = Callable[[Reason], dict]     # a reason as a record
BASIS_KINDS = ("standard", "handbook", "physics", "common_practice", "company", "supplier")


@dataclass(frozen=True, slots=True)
class Understood:
    """One answer as it was typed and as it was taken."""

    state: str
    input: str
    typed: str
    taken: str


# An application, what is decided about it, what was understood, its margins, and the next question.
Answered = tuple[Application, Selected, tuple[Understood, ...], tuple[Margin, ...], Question | None]


def answer_document(pack: Pack, texts: Texts, answered: tuple[Answered, ...], today: str) -> dict:
    """All applications of one run; `today` (2026-12-31) decides which concessions have expired. Numbers are unrounded,
    in the units they name; nothing is left out when empty."""
    rules, recalled = {rule.rule: rule for rule in texts.rules}, recalled_documents(pack, texts)
    return {"format": FORMAT, "company": texts.edition.company, "edition": texts.edition.edition,
            "notice": texts.edition.notice,
            "overlay": texts.overlay and {"id": texts.overlay.id, "title": texts.overlay.title},
            "records": [], "applications": [_application(texts, rules, recalled, *one) | {"concessions": concession_records(
                texts, conceded(one[1], one[0].concessions, today))} for one in answered]}


def answer_schema() -> dict:
    """The JSON Schema (draft 2020-12) of what `answer_document` gives."""
    word, verdict = {"type": "string"}, {"enum": list(VERDICTS)}
    basis = _object({"kind": {"enum": list(BASIS_KINDS)}, "checked": {"enum": ["", "read", "run", "recalled"]},
                     "source": word, "clause": word, "note": word})
    reason = _object({"rule": word, "table": word, "verdict": verdict, "state": word, "because": word, "basis": basis,
                      "with": _list(_object({"decision": word, "candidate": word})),
                      "others": {"type": "integer", "minimum": 0}, "settled": {"type": "boolean"},
                      "components": _list(_object({"place": {"type": "integer", "minimum": 1}, "medium": word}))})
    confirm = _list(_object({"source": word, "title": word, "clause": word}))        # with any: provisional
    candidate = _object({"candidate": word, "title": word, "verdict": verdict, "best": verdict, "worst": verdict,
                         "confirm": confirm,
                         "reasons": _list(reason), "open_inputs": _list(word),
                         "open_in": _list(_object({"state": word, "input": word}))})
    bounds = {"verdict": verdict, "best": verdict, "worst": verdict}
    chosen = _object({"decision": word, "candidate": word, "title": word, "pinned": {"type": "boolean"}, **bounds,
                      "confirm": confirm, "limits": _list(reason)})
    selection = _object({**bounds, "confirm": confirm, "chosen": _list(chosen), "limits": _list(reason), "open_inputs": _list(word),
                         "open_in": _list(_object({"state": word, "input": word}))})
    conflict = _object({"left": {"enum": list(VERDICTS[:2])}, "tables": _list(word), "reasons": _list(reason)})
    number = {"type": ["number", "null"]}
    margin = _object({"decision": word, "candidate": word, "title": word, "state": word, "column": word,
                      "column_title": word, "unit": word, "value": {"type": "number"}, "limit": {"type": "number"},
                      "above": {"type": "boolean"}, "included": {"type": "boolean"}, "nearest": {"type": "boolean"},
                      "share": {"type": "number", "minimum": 0}, "now": verdict, **bounds, "rule": word, "table": word,
                      "components": _list(_object({"place": {"type": "integer", "minimum": 1}, "medium": word}))})
    counted = _object({"decision": word, "verdicts": {"type": "integer", "minimum": 1}})
    advised = _object({"id": word, "text": word, "certain": {"type": "boolean"}, "basis": basis})
    application = _object({
        "id": word, "title": word,
        "understood": _list(_object({"state": word, "input": word, "typed": word, "taken": word})),
        "assumed": _list(_object({"state": word, "input": word, "taken": word})),
        "open_points": _list(word),
        "decisions": _list(_object({"decision": word, "title": word, "in_play": {"type": "boolean"},
                                    "candidates": _list(candidate)})),
        "values": _list(_object({"name": word, "formula": word, "candidate": word, "value": number, "low": number,
                                 "high": number, "no_value": {"type": "boolean"}, "unit": word, "state": word})),
        "pinned": _list(_object({"decision": word, "candidate": word})),
        "selections": _list(selection),
        "together": _list(_object({"decision": word, "candidate": word, "title": word, **bounds,
                                   "limits": _list(reason)})),
        "conflict": {"oneOf": [{"type": "null"}, conflict]},
        "margins": _list(margin),
        "next_question": {"oneOf": [{"type": "null"}, _object({
            "state": word, "input": word, "title": word, "settles": _list(counted), "waiting": _list(counted)})]},
        "cautions": _list(advised), "hand_over": _list(advised),
        "concessions": _list(_object({**dict.fromkeys(("decision", "candidate", "title", "rule", "state", "reason",
                                                       "approver", "until"), word),
                                      "verdict": verdict, "rules": _list(word),
                                      "standing": {"enum": [HOLDS, EXPIRED, NEEDLESS]}}))})
    return {"$schema": "https://json-schema.org/draft/2020-12/schema",
            "title": "Answer of `guide select --json`",
            **_object({"format": {"const": FORMAT}, "company": word, "edition": word, "notice": word,
                       "overlay": {"oneOf": [{"type": "null"}, _object({"id": word, "title": word})]},
                       "records": _list(_object({**dict.fromkeys(("file", "made", "edition", "rules"), word),
                                                 "changed": _list(word)})),
                       "applications": _list(application)})}


def reason_record(rules: dict[str, RuleText], components: Names, reason: Reason) -> dict:
    """A rule that decides, with its sentence, its basis and the components that it was read with."""
    rule = rules[reason.rule]
    return {"rule": reason.rule, "table": reason.table, "verdict": reason.verdict, "state": reason.state,
            "because": rule.because, "basis": _basis(rule.basis),
            "with": [{"decision": decision, "candidate": candidate} for decision, candidate in reason.partner],
            "others": reason.others, "settled": reason.settled,
            "components": [{"place": place, "medium": components[reason.state, place]} for place in reason.components]}


# private

def _object(properties: dict) -> dict:
    return {"type": "object", "properties": properties, "required": list(properties), "additionalProperties": False}


def _list(items: dict) -> dict:
    return {"type": "array", "items": items}


def _application(texts: Texts, rules: dict[str, RuleText], recalled: Recalled, application: Application,
                 selected: Selected, understood: tuple[Understood, ...], margins: tuple[Margin, ...],
                 question: Question | None) -> dict:
    titles = {decision.id: decision for decision in texts.decisions}
    states = {state.id: state.title for state in texts.states}
    names = {(decision.id, item.id): item.title for decision in texts.decisions for item in decision.items}
    components = component_names(texts, application)
    tell = partial(reason_record, rules, components)
    return {
        "id": application.id, "title": application.title,
        "understood": [{"state": one.state, "input": one.input, "typed": one.typed, "taken": one.taken}
                       for one in understood],
        "assumed": [{"state": one.state, "input": one.input, "taken": one.taken} for one in understood
                    if (one.state, one.input) in application.assumed],
        "open_points": [*(f"{states[state]}: {words}. Its chemistry stays open." for state, words in application.unknown),
                        *(f"{states[state]}: neither described nor ruled out; describe it, or write `{state}: none`."
                          for state in application.undescribed)],
        "decisions": [{"decision": decision.decision, "title": titles[decision.decision].title,
                       "in_play": decision.in_play,
                       "candidates": [_candidate(candidate, tell, recalled, dict(
                           (item.id, item.title) for item in titles[decision.decision].items))
                           for candidate in decision.candidates]}
                      for decision in selected.decisions],
        "values": [{"name": value.name, "formula": value.formula, "candidate": value.candidate,
                    "value": value.low if value.low == value.high and not value.absent else None,
                    "low": value.low, "high": value.high, "no_value": value.absent, "unit": value.unit,
                    "state": value.state} for value in selected.values],
        "pinned": [{"decision": decision, "candidate": candidate} for decision, candidate in application.pinned],
        "selections": [_selection(one, tell, recalled, names) for one in selected.selections],
        "together": [{"decision": one.decision, "candidate": one.candidate,
                      "title": names[one.decision, one.candidate], "verdict": one.verdict, "best": one.best,
                      "worst": one.worst, "limits": [tell(reason) for reason in one.limits]}
                     for one in selected.together],
        "conflict": _conflict(selected.conflict, tell),
        "margins": margin_records(texts, components, margins),
        "next_question": question_record(texts, question),
        "cautions": _advice(texts, selected, "caution"), "hand_over": _advice(texts, selected, "hand_over")}


def _selection(selection: Selection, tell: Rules, recalled: Recalled,
               names: dict[tuple[str, str], str]) -> dict:
    return {"verdict": selection.verdict, "best": selection.best, "worst": selection.worst,
            "confirm": [recalled[place] for place in selection.confirm],
            "chosen": [{"decision": one.decision, "candidate": one.candidate,
                        "title": names[one.decision, one.candidate], "pinned": one.pinned, "verdict": one.verdict,
                        "best": one.best, "worst": one.worst, "confirm": [recalled[place] for place in one.confirm],
                        "limits": [tell(reason) for reason in one.limits]}
                       for one in selection.chosen],
            "limits": [tell(reason) for reason in selection.limits],
            "open_inputs": list(dict.fromkeys(name for _, name in selection.open_inputs)),
            "open_in": [{"state": state, "input": name} for state, name in selection.open_inputs]}


def _conflict(conflict: Conflict | None, tell: Rules) -> dict | None:
    return conflict and {"left": conflict.left, "tables": list(conflict.tables),
                         "reasons": [tell(reason) for reason in conflict.reasons]}


def _candidate(result: CandidateResult, tell: Rules, recalled: Recalled,
               titles: dict[str, str]) -> dict:
    return {"candidate": result.candidate, "title": titles[result.candidate], "verdict": result.verdict,
            "best": result.best, "worst": result.worst, "confirm": [recalled[place] for place in result.confirm],
            "reasons": [tell(reason) for reason in result.reasons],
            "open_inputs": list(dict.fromkeys(name for _, name in result.open_inputs)),
            "open_in": [{"state": state, "input": name} for state, name in result.open_inputs]}


def _advice(texts: Texts, selected: Selected, kind: str) -> list[dict]:
    """Those that go with this result."""
    told = {caution.id: caution for caution in texts.cautions}
    return [{"id": one.id, "text": told[one.id].text, "certain": one.certain, "basis": _basis(told[one.id].basis)}
            for one in selected.advice if told[one.id].kind == kind]


def _basis(basis: BasisText) -> dict:
    return {"kind": basis.kind, "checked": basis.checked, "source": basis.source, "clause": basis.clause,
            "note": basis.note}
