// Gives back margins as sentences: how far a number may move, and what comes then. Twin of
// generator/render/margin_words.py.

import { plainText, roundTo12 } from "./engine/numbers.js";
import { VERDICTS } from "./engine/model.js";

export const NEAREST_SHOWN = 5; // of the leading selection
const SHOWN_DIGITS = 6;

// `Highest temperature 120 °C (normal): ends at 180 °C, 60 K above; then unsuitable by`; the rule follows.
export function marginWords(view, margin) {
  const text = view.inputs.get(margin.column) ?? view.derived.get(margin.column);
  const unit = text.unit_symbol;
  const liquid = margin.components.map((place) => view.liquids.get(`${margin.state} ${place}`)).join(" and ");
  const where = margin.state + (liquid && ` for ${liquid}`);
  const change = numberText(Math.abs(roundTo12(margin.limit - margin.value)), unit === "°C" ? "K" : unit);
  const [ends, then] = margin.included ? ["ends at", "then"] : ["ends before", "from there"];
  const becomes = margin.best === margin.worst ? margin.verdict : `not settled, at worst ${margin.worst}`;
  const end = VERDICTS.indexOf(margin.worst) >= VERDICTS.indexOf(margin.now) ? " the end of" : "";
  return `${text.title} ${numberText(margin.value, unit)} (${where}): ${ends} ${numberText(margin.limit, unit)}, ` +
    `${change} ${margin.above ? "above" : "below"}; ${then} ${becomes} by${end}`;
}

// `Liner PFA, suitable: ` before it, where the candidate is not named already.
export function marginOf(view, { decision, candidate, now }) {
  return `${view.decisions.get(decision).title} ${view.titles.get(`${decision} ${candidate}`)}, ${now}: `;
}

// private

function numberText(value, unit) {
  const text = plainText(Number(value.toPrecision(SHOWN_DIGITS)));
  return unit === "" || unit === "1" ? text : `${text} ${unit}`;
}
