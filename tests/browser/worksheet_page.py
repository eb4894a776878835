"""Gives back what a worksheet in a real page shows, and the ways in which an engineer fills it in."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from urllib.parse import urlencode

from generator.pack.texts import CaseText

CHOOSABLE = "select"
SHOWN = """() => {
  const reason = ({ dataset }) => [dataset.rule, dataset.reasonVerdict, dataset.state];
  const place = ({ dataset }) => Number(dataset.place);  // the one that decides is shown before the others
  const reasons = (one) =>
    [...one.querySelectorAll("[data-rule]")].sort((a, b) => place(a) - place(b)).map(reason);
  const candidate = (one) => [one.dataset.candidate, one.dataset.verdict, one.dataset.best, one.dataset.worst,
    reasons(one)];
  const within = (node, what) => [...node.querySelectorAll(what)];
  const decision = (one) => [one.dataset.decision, within(one, "[data-candidate]").map(candidate)];
  return within(document, "section[data-decision]").map(decision);
}"""
SETTLED = """() => !document.getElementById("worksheet").hasAttribute("data-pending") &&
  location.hash.slice(1) === document.getElementById("worksheet").dataset.evaluated"""

DRAWN_AT_ONCE = 20                   # cases that one call into the page draws


def drawn_cases(page: object, cases: Sequence[CaseText], shown: str) -> Iterator[tuple[CaseText, object]]:
    """Takes each case from the menu, as a person would, over the one before; with what `shown` reads off the page then."""
    draw = f"""async (ids) => {{
      const shown = {shown}, menu = document.getElementById("ws-example");
      return ids.map((id) => {{
        menu.value = id;
        menu.dispatchEvent(new Event("change"));
        return [document.getElementById("worksheet").dataset.evaluated.split("&")[0], shown()];
      }});
    }}"""
    for start in range(0, len(cases), DRAWN_AT_ONCE):
        some = cases[start:start + DRAWN_AT_ONCE]
        for case, (drawn, read) in zip(some, page.evaluate(draw, [case.id for case in some]), strict=True):
            assert drawn == f"id={case.id}"
            yield case, read


def answer(page: object, input_id: str, typed: str, state: str = "normal") -> None:
    """Types or chooses an answer, as a person would, and waits for the verdicts that follow from it."""
    control = page.locator(f"#ws-{state}-{input_id}")
    if control.evaluate("node => node.localName") == CHOOSABLE:
        control.select_option(typed)
    else:
        control.fill(typed)
        control.press("Tab")
    settle(page)


def ask_everything(page: object) -> None:
    """Shows all questions instead of the short start, which has its own tests."""
    button = page.locator("[data-all-questions]")
    if button.is_visible() and button.inner_text().startswith("Show all"):
        button.click()


def settle(page: object) -> None:
    """Waits until the verdicts belong to the address, that is, until no evaluation is pending."""
    page.wait_for_function(SETTLED)


def said(page: object, input_id: str, state: str = "normal") -> str:
    """The line beneath a field: what was understood, or what is wrong."""
    return page.locator(f"#ws-{state}-{input_id}-said").inner_text().replace("\u00a0", " ")


def verdicts(page: object, decision: str) -> dict[str, str]:
    """The verdict of each candidate, in the order shown."""
    shown = page.locator(f"section[data-decision={decision}] [data-candidate]")
    return dict(shown.evaluate_all("all => all.map((one) => [one.dataset.candidate, one.dataset.verdict])"))


def everything(page: object) -> list[list[object]]:
    """Per decision its candidates in order, with verdict, bounds, and reasons as (rule, verdict, state).

    The reasons stand in the engine's order."""
    return page.evaluate(SHOWN)


def open_with(page: object, site: str, states: dict[str, dict[str, str] | str]) -> None:
    """Opens the worksheet anew with these answers, from their address."""
    page.goto("about:blank")
    page.goto(f"{site}/#{address_of(states)}")
    page.wait_for_selector("#worksheet[data-evaluated]")
    ask_everything(page)


def address_of(states: dict[str, dict[str, str] | str]) -> str:
    """The fragment that opens these answers."""
    pairs = []
    for state, answers in states.items():
        if isinstance(answers, str):
            pairs.append((state, answers))
        else:
            pairs += [(f"{state}.{name}", typed) for name, typed in answers.items()]
    return urlencode(pairs)
