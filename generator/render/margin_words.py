"""Gives back margins as records of an answer document and as sentences: how far a number may move, and what comes
then."""

from __future__ import annotations

from dataclasses import asdict
from decimal import ROUND_HALF_UP, Context

from generator.evaluate.margins import nearest_margin, share_of
from generator.evaluate.numbers import plain_text, round_to_12
from generator.evaluate.results import Margin
from generator.pack.model import VERDICTS
from generator.pack.texts import Texts
from generator.render.answer_words import wrapped
from generator.render.component_words import Names

SHOWN_DIGITS = 6
NEAREST_SHOWN = 5                    # of the leading selection, without `--reasons`


def margin_records(texts: Texts, components: Names, found: tuple[Margin, ...]) -> list[dict]:
    """As they stand in an answer document: with the titles of candidate and column, the unit of the numbers, the media
    of the components, and whether it is the candidate's nearest one."""
    titles = {(decision.id, item.id): item.title for decision in texts.decisions for item in decision.items}
    nearest = [nearest_margin(one for one in found if (one.decision, one.candidate) == candidate)
               for candidate in dict.fromkeys((one.decision, one.candidate) for one in found)]
    columns = {one.id: (one.title, one.unit_symbol) for one in (*texts.inputs, *texts.derived)}
    return [{**asdict(one), "title": titles[one.decision, one.candidate], "column_title": columns[one.column][0],
             "unit": columns[one.column][1], "nearest": one in nearest, "share": share_of(one),
             "components": [{"place": place, "medium": components[one.state, place]} for place in one.components]}
            for one in found]


def margin_sentence(record: dict) -> str:
    """`Highest temperature 120 °C (normal): ends at 180 °C, 60 K above; then unsuitable [rule]`."""
    liquid = " and ".join(one["medium"] for one in record["components"])
    where = record["state"] + (f" for {liquid}" if liquid else "")
    change = _number(abs(round_to_12(record["limit"] - record["value"])), _of_change(record["unit"]))
    limit = _number(record["limit"], record["unit"])
    side = "above" if record["above"] else "below"
    ends, then = ("ends at", "then") if record["included"] else ("ends before", "from there")
    becomes = record["verdict"] if record["best"] == record["worst"] else f"not settled, at worst {record['worst']}"
    rule = "the end of " if VERDICTS.index(record["worst"]) >= VERDICTS.index(record["now"]) else ""
    return (f"{record['column_title']} {_number(record['value'], record['unit'])} ({where}): {ends} {limit}, "
            f"{change} {side}; {then} {becomes} by {rule}{record['rule']}")


def margin_line(titles: dict[str, str], record: dict) -> str:
    """The same behind its candidate; `titles` are those of the decisions."""
    return f"{titles[record['decision']]} {record['title']}, {record['now']}: {margin_sentence(record)}"


def nearest_margins(application: dict) -> list[dict]:
    """The nearest margin of each candidate of the leading selection, nearest first."""
    chosen = [(one["decision"], one["candidate"]) for selection in application["selections"][:1]
              for one in selection["chosen"]]
    return sorted((one for one in application["margins"]
                   if one["nearest"] and (one["decision"], one["candidate"]) in chosen), key=lambda one: one["share"])


def margin_lines(application: dict, every: bool) -> list[str]:
    """The nearest limits of the leading selection's candidates, nearest first; all of every candidate with `every`."""
    shown = application["margins"] if every else nearest_margins(application)
    if not shown:
        return []
    titles = {decision["decision"]: decision["title"] for decision in application["decisions"]}
    most = len(shown) if every else NEAREST_SHOWN
    lines = ["", "Margins, one number moved and all else as it is" if every else "Nearest limits of this selection"]
    for one in shown[:most]:
        lines += wrapped(margin_line(titles, one), "  ")
    if len(shown) > most:
        lines.append(f"  and {len(shown) - most} more (`--reasons` prints all margins)")
    return lines


# private

def _of_change(unit: str) -> str:
    """A difference of temperatures is no temperature."""
    return "K" if unit == "°C" else unit


def _number(value: float, unit: str) -> str:
    text = plain_text(float(Context(prec=SHOWN_DIGITS, rounding=ROUND_HALF_UP).create_decimal_from_float(value)))
    return f"{text} {unit}" if unit not in ("", "1") else text
