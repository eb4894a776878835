"""Gives back the findings that the committee's waivers leave, and what is wrong with the waivers."""

from __future__ import annotations

from datetime import date

from generator.compile.completeness import Finding
from generator.pack.texts import WaivedText
from generator.problems import Problem
from generator.read.waiver_records import Waiver

ONLY_SHOWN = "G01"                  # codes that begin so are found in the finished pack, and never stop the build


def apply_waivers(findings: tuple[Finding, ...], waivers: tuple[Waiver, ...], today: date,
                  ) -> tuple[list[Problem], tuple[WaivedText, ...]]:
    """A waiver names a finding by its key, as the check prints it, and holds through its day `until`."""
    by_key = {_plain(finding.key): finding for finding in findings}
    problems: list[Problem] = []
    waived: dict[str, WaivedText] = {}
    for waiver in waivers:
        key = _plain(waiver.finding.text)
        finding = by_key.get(key)
        if finding is None and not key.startswith(ONLY_SHOWN):
            problems.append(Problem(waiver.place, "G005", f"the waiver of '{key}' waives nothing",
                                    "take it out, or copy the finding's key from `guide check`"))
        elif date.fromisoformat(waiver.until.text) < today:
            problems.append(Problem(
                waiver.until.place, "G006", f"the waiver of '{key}' ended on {waiver.until}",
                "mend the finding, or have the waiver approved again"))
        elif finding is None:
            waived[key] = WaivedText(key, "", waiver.reason.text, waiver.approver.text, waiver.until.text,
                                     waiver.place.file, waiver.place.line)
        else:
            waived[key] = WaivedText(
                finding.key, finding.problem.message, waiver.reason.text, waiver.approver.text,
                waiver.until.text, finding.problem.place.file, finding.problem.place.line,
                finding.rules, finding.region)
    problems += [finding.problem for key, finding in by_key.items() if key not in waived]
    return problems, tuple(waived.values())


def unwaived(findings: tuple[Finding, ...], waived: tuple[WaivedText, ...]) -> tuple[WaivedText, ...]:
    """The other findings, with nobody who accepts them."""
    accepted = {one.finding for one in waived}
    return tuple(WaivedText(one.key, one.problem.message, "", "", "", one.problem.place.file, one.problem.place.line,
                            one.rules, one.region) for one in findings if one.key not in accepted)


# private

def _plain(key: str) -> str:
    return " ".join(key.split())
