"""Tests of the demonstration overlay: with it the engineer gets the supplier's figures, without it the base asks for them."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from generator.analyse.cases import answer_case, check_cases, judged_cases, other_together
from generator.answers.application import read_application
from generator.commands.main import main
from generator.evaluate.prepared import Prepared
from generator.pack.model import Pack
from generator.pack.texts import CaseText, Texts
from tests import shipped

ROOT = Path(__file__).resolve().parents[2]
DATA = ROOT / "data"
Guide = tuple[Pack, Texts, Prepared]


@pytest.fixture(scope="module")
def base() -> Guide:
    return (*shipped.base(), shipped.prepared_base())


@pytest.fixture(scope="module")
def whole() -> Guide:
    return (*shipped.whole(), shipped.prepared_whole())


def verdicts(guide: Guide, case: CaseText) -> dict[tuple[str, str], str]:
    answered = answer_case(guide[2], case)
    assert answered.selected is not None
    return {(decision.decision, one.candidate): one.verdict for decision in answered.selected.decisions
            for one in decision.candidates}


def own_case(guide: Guide, name: str) -> CaseText:
    return next(case for case in judged_cases(guide[1]) if case.id == name)


def test_cases_of_the_company_hold_with_its_overlay(whole: Guide):
    assert len(judged_cases(whole[1])) >= 8
    assert check_cases(whole[2], whole[1]) == []


def test_most_cases_of_the_company_do_not_hold_without_it(base: Guide, whole: Guide):
    kept = [case.id for case in judged_cases(whole[1])
            if all(verdicts(base, case)[one.decision, one.candidate] == one.verdict for one in case.expect)
            and not other_together(base[2], read_application(base[0], shipped.typed_case(case)).application, case.together)]
    assert len(kept) <= 2, kept


@pytest.mark.parametrize(("case", "candidate", "alone", "with_it"), [
    ("ninefold_closed_line_small", "pfa", "open", "suitable"),       # vacuum by size and temperature
    ("ninefold_closed_line_large", "pfa", "open", "unsuitable"),
    ("ninefold_hot_beyond", "pfa", "open", "unsuitable"),            # the band of lined tubes
    ("ninefold_true_bore", "pfa", "suitable", "unsuitable"),         # the bore under the liner
    ("ninefold_closed_line_small", "etfe", "open", "open"),          # a slot that the company leaves empty
])
def test_empty_slot_of_the_base_is_open_until_the_company_fills_it(
        base: Guide, whole: Guide, case: str, candidate: str, alone: str, with_it: str):
    asked = own_case(whole, case)
    assert verdicts(base, asked)["liner", candidate] == alone
    assert verdicts(whole, asked)["liner", candidate] == with_it


def test_stock_and_cost_come_before_the_order_of_the_base(base: Guide, whole: Guide):
    liners = {guide: [one.id for one in next(each for each in pack.decisions if each.id == "liner").candidates]
              for guide, pack in (("base", base[0]), ("whole", whole[0]))}
    assert liners["base"][0] == "pfa"
    # In stock first (ebonite in class 1, PFA in 2), then by class, then as in the base; neoprene has no line.
    assert liners["whole"] == ["hard_rubber", "pfa", "polyurethane", "soft_rubber", "epdm", "ptfe", "etfe", "ceramic",
                               "neoprene"]


def test_overlay_says_what_it_tightens_fills_and_loosens_and_why(whole: Guide):
    overlay = whole[1].overlay
    assert overlay is not None
    kinds = {one.rule: one for one in overlay.changes}
    assert kinds["liner_temperature.ninefold_pfa_within"].kind == "fills"
    assert kinds["liner_temperature.ninefold_pfa_too_hot"].kind == "tightens"
    loosened = kinds["size_line.ninefold_flushed_expander"]
    assert (loosened.kind, loosened.base, loosened.base_verdict, loosened.verdict) == \
        ("loosens", "size_line.larger_with_solids", "unsuitable", "caution")
    assert "flushing point" in loosened.reason
    assert {one.kind for one in overlay.changes} == {"fills", "tightens", "loosens"}


def test_every_rule_of_the_overlay_names_a_source_that_says_it_is_invented(base: Guide, whole: Guide):
    before = {rule.rule for rule in base[1].rules}
    sources = {source.id: source for source in whole[1].sources}
    added = [rule for rule in whole[1].rules if rule.rule not in before and rule.origin != "no_value"]
    assert len(added) > 40
    for rule in added:
        assert rule.basis.kind == "common_practice" or "nvented" in sources[rule.basis.source].about, rule.rule


def test_base_alone_knows_nothing_of_the_company(base: Guide):
    assert base[1].overlay is None
    assert base[0].figures == ()
    assert not [rule.rule for rule in base[1].rules if rule.basis.kind in ("company", "supplier")]


def test_commands_answer_with_the_company_unless_told_otherwise(capsys: pytest.CaptureFixture[str], tmp_path: Path):
    case = own_case((*shipped.whole(), None), "ninefold_closed_line_small")   # type: ignore[arg-type]
    answers = "\n".join(f"  {name}: {text}" for name, text in case.application[0][1] or ())
    states = "\n".join(f"{state}: none" for state, known in case.application if known is None)
    file = tmp_path / "point.yml"
    file.write_text(f"id: point\ntitle: A point\nnormal:\n{answers}\n{states}\n", "utf-8")

    def liner(*more: str) -> tuple[dict, object]:
        assert main(["select", str(file), "--data", str(DATA), "--json", *more]) == 0
        document = json.loads(capsys.readouterr().out)
        decision = next(one for one in document["applications"][0]["decisions"] if one["decision"] == "liner")
        return next(one for one in decision["candidates"] if one["candidate"] == "pfa"), document["overlay"]

    found, overlay = liner()
    assert (found["verdict"], overlay) == ("suitable", {"id": "ninefold", "title": "Ninefold Process Works"})
    assert "supplier" in {reason["basis"]["kind"] for reason in found["reasons"]}
    assert liner("--base")[0]["verdict"] == "open"
    assert liner("--base")[1] is None
    assert liner("--overlay", str(DATA / "overlays" / "ninefold"))[0]["verdict"] == "suitable"


def test_overlay_that_is_not_there_is_said_in_one_line(capsys: pytest.CaptureFixture[str], tmp_path: Path):
    assert main(["check", "--data", str(DATA), "--overlay", str(tmp_path)]) == 2
    assert "no overlay in" in capsys.readouterr().err
