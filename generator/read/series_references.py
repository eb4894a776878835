"""Gives back faults of series: rows out of order, holes, and words of records that name no column."""

from __future__ import annotations

from generator.problems import Problem
from generator.read.known import Known, twice
from generator.read.records import Choice, Item, KnowledgeBase, Word
from generator.read.series_form import NO_FIGURE
from generator.read.series_records import Series
from generator.read.shape import number_fault
from generator.read.shown import instead, shown


def check(base: KnowledgeBase, known: Known) -> list[Problem]:
    """All series, and the records whose words are columns of one."""
    problems = [problem for one in base.series for problem in (_named(one) if one.axis.unit is None else _rising(one))]
    if "series" in known.incomplete:
        return problems
    columns = {one.id.text: {column.id.text for column in one.columns} for one in base.series}
    records: list[Item | Choice] = [
        *(item for one in base.catalogues for item in one.items), *base.pipe_sizes,
        *(choice for one in base.inputs for choice in one.choices)]
    for record in records:
        for name, word in record.words:
            if name.text in columns and word.text not in columns[name.text]:
                problems.append(Problem(word.place, "X003", f"series '{name}' has no column '{shown(word.text)}'",
                                        instead(word.text, columns[name.text], "column")))
    return problems


# private

def _named(series: Series) -> list[Problem]:
    return twice([Word(" ".join(row.at.text.casefold().split()), row.at.place) for row in series.rows],
                 f"series '{series.id}': row")


def _rising(series: Series) -> list[Problem]:
    """Rows in rising order; in each column two figures or more, and none missing between them."""
    if any(number_fault(row.at.text) for row in series.rows):
        return []                    # said where it was read
    problems = [Problem(after.at.place, "X023", f"the row {after.at} does not lie above the row {before.at}",
                        "write the rows in rising order, each once")
                for before, after in zip(series.rows, series.rows[1:]) if float(before.at.text) >= float(after.at.text)]
    for place, column in enumerate(series.columns):
        given = [number for number, row in enumerate(series.rows)
                 if place < len(row.figures) and row.figures[place].text != NO_FIGURE]
        if len(given) < 2 or given[-1] - given[0] >= len(given):
            problems.append(Problem(
                column.id.place, "X024",
                f"column '{column.id}' has no figure between two others, and nothing is known there"
                if len(given) > 1 else f"column '{column.id}' has fewer than two figures",
                "give the figure, or make two columns or two series of it"))
    return problems
