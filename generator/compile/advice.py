"""Gives back cautions and hand-over items with their conditions as the engines read them, and their words."""

from __future__ import annotations

from collections.abc import Mapping

from generator.boxes.words import describe
from generator.compile.cells import cell_set
from generator.compile.inputs import Compiled
from generator.compile.tables import cell_of
from generator.compile.wording import basis_text
from generator.pack import model, texts
from generator.problems import Problem
from generator.read.records import Caution

CAUTION = "caution"


def compile_advice(record: Caution, columns: Mapping[str, Compiled],
                   ) -> tuple[model.Advice, texts.CautionText] | list[Problem]:
    """One of them, or what is wrong with its condition; `columns` has all that it reads."""
    names = [cell.column.text for cell in record.when]
    mine = [columns[name].column for name in names]
    sets = [cell_set(cell, column.domain) for cell, column in zip(record.when, mine, strict=True)]
    problems = [one for one in sets if isinstance(one, Problem)]
    if problems:
        return problems
    box = tuple(one for one in sets if not isinstance(one, Problem))
    conditions = tuple(model.Condition(name, cell_of(one)) for name, one in zip(names, box, strict=True))
    where = describe([column.domain.axis for column in mine], box, [column.words for column in mine]) if mine else ""
    kind = record.kind.text if record.kind is not None else CAUTION
    return (model.Advice(record.id.text, kind, conditions),
            texts.CautionText(record.id.text, record.text.text, basis_text(record.basis), kind, where))
