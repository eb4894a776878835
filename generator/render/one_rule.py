"""Gives back the views of one rule side by side, for the README: what a committee writes and what comes of it."""

from __future__ import annotations

from generator.pack.texts import ExpectedText
from generator.render.answer_words import reason_sentence
from generator.render.library import Library, column_title, row_conditions


def one_rule_views(lib: Library, rule: str, record: str, case: str, candidate: dict, expected: ExpectedText) -> str:
    """Markdown: the record as it stands in its file, the row of its page, the reason that command and worksheet give
    for a candidate of an answer document, and the reference case that pins it."""
    table = next(table for table in lib.pack.tables if any(row.rule == rule for row in table.rows))
    row = next(row for row in table.rows if row.rule == rule)
    heads = [column_title(lib, column) for column in table.columns] + ["Verdict", "Because"]
    cells = [*row_conditions(lib, table, row), expected.verdict, lib.rules[rule].because]
    reason = next(reason for reason in candidate["reasons"] if reason["rule"] == rule)
    return "\n".join((
        "```yaml", record.rstrip("\n"), "```", "",
        f"**The page of its table** (`tables/{table.id}`) prints the row from the compiled rule:", "",
        f"| {' | '.join(heads)} |", f"|{' --- |' * len(heads)}", f"| {' | '.join(cells)} |", "",
        f"**`guide select` and the worksheet** say of {candidate['title']} in the case `{case}`:", "",
        f"> {candidate['verdict']}: {reason_sentence(reason)}", "",
        f"**The reference case** `{case}` expected it before the rule was run:", "",
        f"> {expected.candidate} {expected.verdict}, because: {expected.because}"))
