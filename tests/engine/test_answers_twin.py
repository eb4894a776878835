"""Compares how both engines read answers and applications: the same sets, the same words, the same faults."""

from __future__ import annotations

import random
from dataclasses import asdict

from generator.answers.application import read_application
from generator.answers.figures import Fault, example, upper_end
from generator.answers.reading import read_answer
from generator.answers.wording import nearest, shown, squeeze
from tests import shipped
from tests.engine.twin import Twin, plain
from tests.evaluate.drawn import small_pack

PACK = small_pack()
WORDS = (
    "water", "ore slurry", "watr", "H2O", "brine", "unlisted", "clean", "coating or scaling", "dn100",
    "DN25", "yes", "NO", "true", "not applicable", "not answered", "same", "same ", "", " ",
    "DN 70", "100", "DN 0.5", "DN 500 mm", "24 in", "DNN100", "1,5", "~60", "ca. 60 degC", "> 60 degC", "<= -5 degF",
    "up to 5 bar", "About 6,5 barg", "over 60 to 80 degC", "max. 60-80 degC", "- 5 degC", "ca. .5 m",
    "T: 60 to 80 degC", "not 60 degC", "!= 60 degC", "1/2", "> 1 to ca. 2 m", "\u2265 0.5", "1" * 400,
    "Not Applicable", "constructor", "😀", "__proto__", "İstanbul", "ΑΣ", "a\u2028b", "x" * 70)
UNITS = (
    "degC", "degF", "K", "C", "m3/h", "gpm", "imp gpm", "L/s", "barg", "psig", "bar", "psi", "%",
    "mass %", "m", "ft", "1", "", "degc", "bargg", "Rankine", "000 m3/h", "-80 degC", "or 5 degC")


def draw_text(rng: random.Random) -> str:
    """Well-formed and ill-formed answers, in about equal parts, with the odd sign thrown in."""
    if rng.random() < 0.3:
        return " or ".join(rng.choice(WORDS) for _ in range(rng.choice((1, 1, 1, 2, 3))))
    if rng.random() < 0.1:
        return f"{rng.randint(0, 9)} to {rng.randint(0, 9)} {rng.choice(UNITS)}"
    if rng.random() < 0.05:
        parts = (rng.choice(("water", "watr", "", "at", "brine at water", " at ")) + rng.choice(("", " at 5 mass %", " at %"))
                 for _ in range(rng.choice((1, 2, 9))))
        return rng.choice((";", "; ", ",")).join(parts)
    text = draw_figure(rng) + rng.choice((" ", "", "  ", "\u00a0")) + rng.choice(UNITS)
    if rng.random() < 0.25:
        text += rng.choice((" to ", " TO ", "-", " to  ")) + draw_figure(rng) + " " + rng.choice(UNITS)
    if rng.random() < 0.1:
        at = rng.randrange(len(text) + 1)
        text = text[:at] + rng.choice(" ,.'_+-\u2212eE0\u0660\u00b2\ufeff\n\t\u200b(") + text[at:]
    return text


def draw_figure(rng: random.Random) -> str:
    return rng.choice((
        f"{rng.uniform(-60, 300):.{rng.randint(0, 6)}f}", str(rng.randint(-5, 20)),
        f"{rng.uniform(0, 1):.13f}", f"0{rng.randint(0, 99)}",
        f"{rng.randint(1, 99)},{rng.randint(0, 9999)}", "1,234,567.5", "1'000", ".5", "5.", "+5",
        "1.2.3", "1e3", "2.5E-1", "1e999", "0e99999", "1e-9999", "123456789012", "1234567890123",
        "100000000000000000000", "0.000000000000000000000", "-0", "--5", "1e+2", "1E+0002"))


def test_every_drawn_answer_is_read_alike_word_for_word(twin: Twin) -> None:
    rng = random.Random(21)
    drawn = [(rng.choice(PACK.inputs), draw_text(rng)) for _ in range(12_000)]
    drawn += [(item, word) for item in PACK.inputs for word in WORDS]
    inputs = twin.hold("inputs", PACK.inputs)
    theirs = twin.batch("reading", "readAnswer", [(item, text, inputs) for item, text in drawn])
    codes = set()
    for (item, text), other in zip(drawn, theirs):
        mine = plain(read_answer(item, text, PACK.inputs))
        assert mine == other, (item.id, text)
        codes.add(mine.get("code", "understood"))
    assert codes >= {"understood", *(f"A{number:03d}" for number in range(7, 22))}


def test_every_drawn_application_is_read_alike_word_for_word(twin: Twin) -> None:
    rng = random.Random(22)
    drawn = [draw_application(rng) for _ in range(600)]
    pack = twin.hold("pack", PACK)
    theirs = twin.batch("application", "readApplication", [(pack, typed) for typed in drawn])
    clean = 0
    for typed, other in zip(drawn, theirs):
        mine = read_application(PACK, typed)
        assert plain(mine) == other, typed
        clean += not mine.problems
    assert 60 < clean < 540


def draw_application(rng: random.Random) -> dict[str, object]:
    typed: dict[str, object] = {"id": "drawn", "title": rng.choice((" A  point ", "Intake"))}
    good = rng.random() < 0.4
    for state in ("normal", "cleaning", "steaming"):
        if state == "normal" or rng.random() < 0.6:
            typed[state] = {
                item.id: draw_good(rng, item, state) if good or rng.random() < 0.8 else draw_text(rng)
                for item in PACK.inputs
                if rng.random() < 0.5 and (item.per_state or state == "normal" or not good)
            }
        elif rng.random() < 0.6:
            typed[state] = "none" if good else rng.choice(("none", "", "never", ["a"]))
    if rng.random() < 0.4:
        typed["pinned"] = draw_pins(rng, good)
    if rng.random() < 0.3:
        typed["concessions"] = draw_concessions(rng, good)
    if not good:
        typed |= rng.choice(({}, {"nromal": {}}, {"medium": "water"}, {"toString": {}}))
        if rng.random() < 0.1:
            del typed["normal"]
        elif rng.random() < 0.2:
            typed["normal"]["tempreture"] = "5 degC"
            typed["normal"]["medium"] = ["water"]
    return typed


def draw_pins(rng: random.Random, good: bool) -> object:
    decision = rng.choice(PACK.decisions)
    option = rng.choice(decision.candidates)
    known = {decision.id: rng.choice((option.id, f" {option.id.upper()} ", "", *option.spellings))}
    return known if good else rng.choice(
        (known, known, {decision.id: option.id + "x"}, {decision.id + "s": option.id}, {decision.id: 3}, "none"))


def draw_concessions(rng: random.Random, good: bool) -> object:
    decision = rng.choice(PACK.decisions)
    option = rng.choice(decision.candidates)
    one = {"decision": decision.id, "candidate": rng.choice((option.id, f" {option.id.upper()}", *option.spellings)),
           "reason": "A  spare part.", "approver": "A. Person", "until": "2028-02-29"}
    one |= rng.choice(({}, {"state": "normal"}, {"state": " normal"}))
    wrong = rng.choice(({"until": "2027-02-29"}, {"until": "31.12.2026"}, {"decision": "sise"}, {"candidate": "dn1"},
                        {"rule": "liner.nothing"}, {"rule": "none"}, {"state": "nromal"}, {"reason": " "},
                        {"approver": None}, {"appprover": "A"}, {"rule": ""}))
    if good or rng.random() < 0.3:
        return [one] * rng.randint(0, 2)
    if rng.random() < 0.5:
        return [one, one | wrong]
    return rng.choice(("none", {}, [[]], [{}], [dict(list(one.items())[:rng.randint(1, 4)])]))


def draw_good(rng: random.Random, item: object, state: str) -> str:
    if state != "normal" and item.per_state and rng.random() < 0.2:
        return "same"
    if item.id == "mixed_with":
        components = (f"{rng.choice(('water', 'salt water', 'brine or water', 'not answered'))}"
                      f"{rng.choice(('', ' at 5 mass %', ' at  2 to 5 mass %', ' at not applicable'))}"
                      for _ in range(rng.randint(1, 3)))
        return rng.choice(("; ".join(components), ";".join(components), "none", "not answered", "Not applicable"))
    if item.kind == "choice":
        ids = [option.id for option in item.options]
        return rng.choice((rng.choice(ids), " or ".join(rng.sample(ids, 2)), "not answered"))
    unit = "" if item.unit == "1" else f" {rng.choice(item.conversions).spelling}"
    return f"{rng.choice((1, 2.5, 5))}{unit}"


def test_words_are_squeezed_shown_and_likened_alike(twin: Twin) -> None:
    rng = random.Random(23)
    texts = [draw_text(rng) for _ in range(2_000)] + [
        "".join(chr(rng.randrange(1, 0x2FFF)) for _ in range(8)) for _ in range(500)
    ]
    assert twin.batch("wording", "squeeze", [(text,) for text in texts]) == [squeeze(text) for text in texts]
    assert twin.batch("wording", "shown", [(text,) for text in texts]) == [shown(text) for text in texts]
    known = list(WORDS + UNITS)
    assert twin.batch("wording", "nearest", [(text, known) for text in texts]) == [
        nearest(text, known) for text in texts
    ]


def test_the_example_of_every_number_is_accepted_and_not_the_end_of_its_range_and_the_same_in_both_engines(twin: Twin) -> None:
    numbers = [item for item in shipped.base()[0].inputs if item.kind == "number"]
    said = [example(item) for item in numbers]
    assert len(numbers) > 40 and twin.batch("figures", "example", [(item,) for item in numbers]) == said
    for item, words in zip(numbers, said, strict=True):
        assert not isinstance(read_answer(item, words), Fault), words
        assert words != upper_end(item), item.id
