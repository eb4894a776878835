"""What is said of candidates together: as the engine says when their rivals are ruled out, under any one changed
table as under the whole changed pack, and proposed for judgement where no single candidate shows a change.
"""

from __future__ import annotations

from dataclasses import replace
from random import Random

import yaml
from hypothesis import given, settings
from hypothesis import strategies as st

from generator.analyse.approvals import check_witnesses
from generator.analyse.cases import answer_case
from generator.analyse.mutants import author_mutants, space_of
from generator.analyse.mutated import mutated_table
from generator.analyse.pinning import as_case, noticed_by, pinning_scores
from generator.analyse.retold import Expectation, Pairs, concerned_by, kept_places, rules_of, shown, tell, verdict_of
from generator.analyse.witnesses import propose
from generator.commands.pin import witness_file
from generator.evaluate.prepared import prepare
from generator.evaluate.results import Application
from generator.evaluate.select import select
from generator.pack.model import VERDICTS, ChoiceCell, Column, Pack, Row, Table
from generator.pack.texts import BasisText, EditionText, RuleText, Texts
from tests.agreement.random_packs import random_application, random_pack
from tests.analyse.test_approvals import compiled
from tests.read.small_data import small_files

PAIR_TABLE = b"""id: size_liner
title: Liner in a size
about: Some pairs do not go together.
hit_policy: unique
while: always
inputs: [size, liner]
rules:
  - id: size_liner.rubber_in_small
    when: { size: [dn50], liner: [soft_rubber] }
    then: unsuitable
    because: It is not made.
    basis: { kind: physics }
  - id: size_liner.rubber_in_large
    when: { size: [dn100], liner: [soft_rubber] }
    then: suitable
    because: It is made.
    basis: { kind: physics }
  - id: size_liner.pfa
    when: { liner: [pfa] }
    then: suitable
    because: It is made.
    basis: { kind: physics }
"""


def drawn(seed: int) -> tuple[Pack, Texts, Application, Pairs]:
    """A random pack as an author's, single answers, and candidates to keep."""
    random = Random(seed)
    pack = random_pack(random)
    keep = tuple((one.id, random.choice(one.candidates).id)
                 for one in random.sample(pack.decisions, random.randint(1, len(pack.decisions))))
    rules = tuple(RuleText(rule, table.id, "author", "because", BasisText("common_practice"), "x.yml", 1)
                  for table in pack.tables for rule in dict.fromkeys(row.rule for row in table.rows))
    texts = Texts(EditionText("", "", "", "", ""), (), (), (), (), (), (), rules, (), (), (), (), ())
    return pack, texts, random_application(random, pack, 0.0), keep


def engine_says(pack: Pack, application: Application, keep: Pairs) -> str:
    """The worst verdict that `select` gives the candidates kept, when all others of their decisions are ruled out."""
    out = tuple(Table(f"only_{decision}", "collect", True, (decision,), (Column(decision, "choice", "decision", (
        ChoiceCell(tuple(one.id for item in pack.decisions if item.id == decision for one in item.candidates
                         if one.id != candidate)),)),), (Row(f"only_{decision}.out", 0, (0,)),))
                for decision, candidate in keep)
    found = select(prepare(replace(pack, tables=(*pack.tables, *out))), application)
    return min((one.verdict for decision in found.decisions for one in decision.candidates
                if (decision.decision, one.candidate) in keep), key=VERDICTS.index)


def said(pack: Pack, application: Application, keep: Pairs) -> str:
    prepared = prepare(pack)
    return VERDICTS[shown(verdict_of(prepared, tell(prepared, application), kept_places(prepared, keep))[0])]


@settings(max_examples=60, deadline=None)
@given(st.integers(0, 10**9))
def test_candidates_together_have_the_verdict_that_the_engine_gives_when_their_rivals_are_ruled_out(seed) -> None:
    pack, _, application, keep = drawn(seed)
    assert said(pack, application, keep) == engine_says(pack, application, keep)


@settings(max_examples=40, deadline=None)
@given(st.integers(0, 10**9), st.sampled_from((0.0, 0.4)))
def test_one_candidate_together_with_none_has_its_own_verdict_and_reasons(seed, open_share) -> None:
    pack, _, _, keep = drawn(seed)
    application = random_application(Random(seed), pack, open_share)
    prepared, (name, candidate) = prepare(pack), keep[0]
    told, kept = tell(prepared, application), kept_places(prepared, keep[:1])
    one = next(one for decision in select(prepared, application).decisions if decision.decision == name
               for one in decision.candidates if one.candidate == candidate)
    bounds, verdicts = verdict_of(prepared, told, kept)
    assert (VERDICTS[bounds.worst], VERDICTS[bounds.best]) == (one.worst, one.best)
    assert set(rules_of(pack, told, kept, verdicts)) == {reason.rule for reason in one.reasons}


@settings(max_examples=25, deadline=None)
@given(st.integers(0, 10**9))
def test_a_changed_table_is_noticed_by_candidates_together_exactly_as_by_the_whole_changed_pack(seed) -> None:
    pack, texts, application, keep = drawn(seed)
    prepared, verdict = prepare(pack), engine_says(pack, application, keep)
    expect = (Expectation(kept_places(prepared, keep), VERDICTS.index(verdict), ""),)
    told = replace(tell(prepared, application, concerned_by(prepared, expect)), expect=expect)
    for mutant in author_mutants(pack, texts).mutants[:40]:
        space = space_of(pack, pack.tables[mutant.table])
        tables = (*pack.tables[:mutant.table], mutated_table(space, mutant), *pack.tables[mutant.table + 1:])
        after = engine_says(replace(pack, tables=tables), application, keep)
        assert noticed_by(prepared, space, mutant, [told]) == (after != verdict), mutant.what


@settings(max_examples=25, deadline=None)
@given(st.integers(0, 10**9))
def test_a_changed_table_is_noticed_by_an_expected_selection_exactly_as_by_the_whole_changed_pack(seed) -> None:
    pack, texts, application, _ = drawn(seed)

    def leading(changed: Pack) -> Pairs:
        selections = select(prepare(changed), application).selections
        return tuple((one.decision, one.candidate) for one in selections[0].chosen) if selections else ()

    prepared, chosen = prepare(pack), leading(pack)
    told = replace(tell(prepared, application), leading=chosen)
    for mutant in author_mutants(pack, texts).mutants[:40]:
        space = space_of(pack, pack.tables[mutant.table])
        tables = (*pack.tables[:mutant.table], mutated_table(space, mutant), *pack.tables[mutant.table + 1:])
        after = leading(replace(pack, tables=tables))
        assert noticed_by(prepared, space, mutant, [told]) == (not set(chosen) <= set(after)), mutant.what


def test_a_pair_that_a_better_partner_hides_is_proposed_together_and_pinned_once_it_is_judged() -> None:
    files = small_files() | {"tables/size_liner.yml": PAIR_TABLE}
    prepared, texts = compiled(files)
    before = pinning_scores(prepared, texts, tables=("size_liner",))
    proposed = propose(prepared, texts, before.survivors)
    together = [keep for one in proposed.proposals for keep in one.judge if len(keep) > 1]
    assert together and all({decision for decision, _ in keep} == {"size", "liner"} for keep in together)
    for one in proposed.proposals:
        written = yaml.safe_load(witness_file(prepared.pack, one))
        assert [tuple(item["keep"].items()) for item in written["together"]] == [
            keep for keep in one.judge if len(keep) > 1]
        for item in (*written.get("judge", ()), *written["together"]):
            assert item["verdict"] is None and item["because"] is None
        files[f"witnesses/{one.id}.yml"] = witness_file(prepared.pack, one).encode()
    unjudged = check_witnesses(*compiled(files))
    assert [problem.code for problem in unjudged] == ["R005"] * len(proposed.proposals)
    assert "verdict of size dn50 with liner soft_rubber" in "".join(map(str, unjudged))
    for one in proposed.proposals:  # the rules stand in for the person: what counts here is what is noticed
        case = as_case(next(witness for witness in compiled(files)[1].witnesses if witness.id == one.id))
        told = tell(prepared, answer_case(prepared, case).reading.application)
        text = files[f"witnesses/{one.id}.yml"].decode()
        for keep in one.judge:
            line = f"  - keep: {{{', '.join(f'{name}: {candidate}' for name, candidate in keep)}}}\n"
            if len(keep) == 1:
                line = f"  - decision: {keep[0][0]}\n    candidate: {keep[0][1]}\n"
            assert line in text
            text = text.replace(f"{line}    verdict:\n    because:\n",
                                f"{line}    verdict: {VERDICTS[shown(verdict_of(prepared, told, kept_places(prepared, keep))[0])]}\n"
                                "    because: x\n")
        files[f"witnesses/{one.id}.yml"] = text.replace("approver:", "approver: A. Tester").encode()
    prepared, texts = compiled(files)
    assert check_witnesses(prepared, texts) == []
    after = pinning_scores(prepared, texts, tables=("size_liner",))
    assert after.with_witnesses.noticed - before.with_witnesses.noticed == len(before.survivors) - len(proposed.beyond)


def test_a_witness_approved_against_the_rules_together_or_with_nothing_to_judge_is_reported() -> None:
    head = b"id: pair\ntitle: A pair\napplication:\n  normal: { medium: seawater, temperature_max: 30 degC }\n"
    for rest, code, words in ((b"approver: A. Tester\n", "R005", "no judgement"), (
            b"together:\n  - { keep: { liner: pfa, size: dn50 }, verdict: unsuitable, because: x }\n"
            b"approver: A. Tester\n", "R006", "liner pfa with size dn50 unsuitable")):
        problem, = check_witnesses(*compiled(small_files() | {"witnesses/pair.yml": head + rest}))
        assert problem.code == code and words in problem.message
