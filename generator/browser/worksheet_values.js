// Gives back the calculated values in words: one table per value, a row per candidate and a column per state.
//
// `valueTable(view, values)` is { words, shown }, as it was drawn before unless a value has changed; `view.drawn` remembers it.

import { element, shownNumber, withUnit } from "./form.js";
import { formulaAddress, stateTitle } from "./worksheet_texts.js";

// All tables that were made, under a heading; null where nothing is calculated.
export function valuesView(made) {
  if (!made.length) return null;
  return element("section", { class: "ws-calculated" }, element("h3", { text: "Calculated values" }), made.map((one) => one.shown));
}

// The values of each name together, in their order.
export function byName(values) {
  const found = new Map();
  for (const value of values) {
    if (!found.has(value.name)) found.set(value.name, []);
    found.get(value.name).push(value);
  }
  return [...found.values()];
}

export function valueTable(view, values) {
  const key = `values ${values[0].name}`;
  const words = JSON.stringify(values);
  if (view.drawn.get(key)?.words !== words) view.drawn.set(key, { words, shown: tableView(view, key, values) });
  return view.drawn.get(key);
}

// `Velocity at normal flow, normal operation: 1.768 m/s`
export function valueLine(view, value) {
  return `${valueTitle(view, value)}, ${stateTitle(view, value.state)}: ${valueText(view, value)}`;
}

// A value for several decisions names its candidates with blanks between them, without saying of which
// decision.
export function candidateTitle(view, candidate) {
  if (candidate === "") return "this measuring point";
  view.titlesById ??= new Map([...view.titles].map(([key, title]) => [key.split(" ")[1], title]));
  return candidate
    .split(" ")
    .map((id) => view.titlesById.get(id) ?? id)
    .join(" with ");
}

export function valueTitle(view, value) {
  return view.derived.get(value.name)?.title ?? value.name;
}

export function valueText(view, value) {
  if (value.low === null) return "no value";
  const { low, high } = value;
  const text = low === high ? shownNumber(low) : `${shownNumber(low)} to ${shownNumber(high)}`;
  const symbol = view.derived.get(value.name)?.unit_symbol ?? value.unit;
  return withUnit(text, symbol) + (value.absent ? " or no value" : "");
}

// private

function tableView(view, key, values) {
  const states = [...new Set(values.map((value) => value.state))];
  const candidates = [...new Set(values.map((value) => value.candidate))];
  const known = new Map(values.map((value) => [`${value.candidate}/${value.state}`, value]));
  const cell = (candidate, state) => {
    const value = known.get(`${candidate}/${state}`);
    return element("td", { text: value ? valueText(view, value) : "" });
  };
  const head = element(
    "tr",
    {},
    element("th", { scope: "col", text: "For" }),
    states.map((state) => element("th", { scope: "col", text: stateTitle(view, state) })),
  );
  const rows = candidates.map((candidate) =>
    element(
      "tr",
      {},
      element("th", { scope: "row", text: candidateTitle(view, candidate) }),
      states.map((state) => cell(candidate, state)),
    ),
  );
  return element(
    "details",
    { "data-fold": key, open: view.unfolded.has(key) },
    element("summary", { "data-key": key, text: valueTitle(view, values[0]) }),
    element(
      "div",
      { class: "ws-scroll", tabindex: "0", role: "group", "aria-label": valueTitle(view, values[0]) },
      element("table", { "data-plain": true }, element("thead", {}, head), element("tbody", {}, rows)),
    ),
    element(
      "p",
      {},
      element("a", { href: formulaAddress(view, values[0].formula), text: "How it is calculated" }),
    ),
  );
}
