"""Gives back the shape of a finding, the kinds of them, and the waivers that the committee has given."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace

from generator.pack.texts import Texts, WaivedText
from generator.problems import Place, Problem


@dataclass(frozen=True, slots=True)
class Kind:
    """`code` begins the key by which a waiver names a finding; `fails`: it stops the build unless it is waived."""

    id: str
    code: str
    title: str
    fails: bool


@dataclass(frozen=True, slots=True)
class Finding:
    """One line of the findings page. `table` is empty for what belongs to no table, `rules` may be empty; `region` is
    in words with units, or empty. `key` is what a waiver names. `subject` is the id of the column, input or candidate,
    and `verdict` the verdict that it is about, where it is about one; `decision` that of the candidate."""

    kind: str
    table: str
    rules: tuple[str, ...]
    region: str
    message: str
    file: str
    line: int
    key: str = ""
    waived: WaivedText | None = None
    subject: str = ""
    verdict: str = ""
    decision: str = ""


KINDS = (
    Kind("gap", "G001", "No rule", True),
    Kind("contradiction", "G002", "Rules that contradict", True),
    Kind("said_twice", "G003", "Rules that say the same twice", True),
    Kind("never_matches", "G004", "Rule that never matches", True),
    Kind("overlap", "G009", "Rows that overlap", True),
    Kind("never_decides", "G011", "Rule that never decides", False),
    Kind("could_be_one", "G012", "Rules that could be one", False),
    Kind("idle_column", "G013", "Column that never matters", False),
    Kind("idle_input", "G014", "Input that never matters", False),
    Kind("never_suitable", "G015", "Never suitable", False),
    Kind("unreached", "G016", "Verdict that no case reaches", False),
)
KIND_OF = {kind.id: kind for kind in KINDS}


def compiler_findings(texts: Texts) -> tuple[Finding, ...]:
    """What the compiler found, waived by the committee or not; what nobody waived has stopped the build."""
    kinds = {kind.code: kind.id for kind in KINDS if kind.fails}
    return tuple(
        Finding(kinds[one.finding.split()[0]], one.finding.split()[1], one.rules, one.region, one.message, one.file,
                one.line, one.finding, one if one.approver else None)
        for one in texts.waived if one.finding.split()[0] in kinds)


def with_waivers(found: Iterable[Finding], texts: Texts) -> tuple[Finding, ...]:
    """The findings, those of which a waiver speaks with it."""
    waivers = {plain_key(one.finding): one for one in texts.waived if one.approver}
    return tuple(replace(one, waived=waivers.get(plain_key(one.key), one.waived)) for one in found)


def unwaived_first(found: Iterable[Finding]) -> list[Finding]:
    """What nobody has looked at yet before what someone has waived, each in its order."""
    return sorted(found, key=lambda one: one.waived is not None)


def idle_waivers(found: Iterable[Finding], texts: Texts) -> list[Problem]:
    """G005: a waiver of what is only shown, where there is nothing of the kind any more."""
    known = {plain_key(one.key) for one in found}
    return [Problem(Place(one.file, one.line, 1), "G005", f"the waiver of '{one.finding}' waives nothing",
                    "take it out, or copy the finding's key from `guide check --findings`")
            for one in texts.waived if plain_key(one.finding) not in known]


def plain_key(key: str) -> str:
    """A key with single blanks, as it may be folded over lines in a file."""
    return " ".join(key.split())
