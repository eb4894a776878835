"""Gives back the record of a waiver as it was typed: a finding that the committee accepts for a time."""

from __future__ import annotations

from dataclasses import dataclass

from generator.problems import Place
from generator.read.records import Word


@dataclass(frozen=True, slots=True)
class Waiver:
    finding: Word                    # the finding's key as `guide check` prints it
    reason: Word
    approver: Word
    until: Word
    place: Place
