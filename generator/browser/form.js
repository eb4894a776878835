// Gives back what the worksheet and the calculators share: page elements, units to choose from, answers and
// verdicts in words. Nothing here decides anything.

import { plainText } from "./engine/numbers.js";
import { PROVISIONAL } from "./worksheet_provisional.js";

export const VERDICT_SYMBOLS = { suitable: "✓", caution: "▲", open: "?", unsuitable: "✕" };
export const BASIS_WORDS = {
  standard: "standard",
  handbook: "handbook",
  physics: "physics",
  common_practice: "common practice",
  company: "company rule",
  supplier: "supplier's figure",
};
export const CHECKED_WORDS = {
  read: "read in the source",
  run: "computed and checked",
  recalled: "recalled, to be confirmed",
};

const SHOWN_DIGITS = 4;
const RECOGNISED_DIGITS = 6;
const NUMBER = "-?\\d[\\d.]*(?:[eE][+-]?\\d+)?";
const PLAIN_NUMBER = new RegExp(`^(?:${NUMBER})(?:\\s+to\\s+(?:${NUMBER}))?$`);
const NUMBER_AND_UNIT = new RegExp(`^((?:${NUMBER})(?:\\s+to\\s+(?:${NUMBER}))?)\\s*(\\S.*)$`);

// A page element. `attributes` may hold `class`, `text`, `data-...`, `on<event>` functions, and yes/no
// attributes; undefined, null and false leave an attribute out. Children that are null or false are left out.
export function element(name, attributes = {}, ...children) {
  const made = document.createElement(name);
  for (const [key, value] of Object.entries(attributes)) {
    if (value === undefined || value === null || value === false) continue;
    if (key === "text") made.textContent = value;
    else if (key.startsWith("on")) made.addEventListener(key.slice(2), value);
    else if (key === "value") made.value = value;
    else made.setAttribute(key, value === true ? "" : value);
  }
  made.append(
    ...children.flat(Infinity).filter((child) => child !== null && child !== undefined && child !== false),
  );
  return made;
}

// A number as a reader wants it: four significant digits, whole numbers in full, a true minus sign.
export function shownNumber(x) {
  const whole = Math.abs(x) < 1e9 ? Math.round(x) : x;
  const rounded = Number(x.toPrecision(SHOWN_DIGITS));
  return plainText(Math.abs(x) >= 1000 && Math.abs(x) < 1e9 ? whole : rounded).replace("-", "\u2212");
}

// `40 °C`; the unit 1 is not printed.
export function withUnit(text, unitSymbol) {
  return unitSymbol === "" || unitSymbol === "1" ? text : `${text}\u00a0${unitSymbol}`;
}

// What was understood: `40 °C`, `60 to 80 °C`, `PFA or PTFE`, `not applicable`. `titles` are [id, title]
// pairs.
export function answerText(answer, unitSymbol, titles) {
  if (answer.ids !== undefined) {
    const names = new Map(titles);
    return answer.ids
      .map((id) => (id === "not_applicable" ? "not applicable" : (names.get(id) ?? id)))
      .join(" or ");
  }
  const parts = answer.intervals.map(([low, high]) =>
    low === high ? recognisable(low) : `${recognisable(low)} to ${recognisable(high)}`,
  );
  const words = parts.length ? [withUnit(parts.join(" or "), unitSymbol)] : [];
  return [...words, ...(answer.absent ? ["not applicable"] : [])].join(" or ");
}

// A sentence in which `this` stands as code, as nodes.
export function withCode(text) {
  return text.split("`").map((part, place) => (place % 2 ? element("code", { text: part }) : part));
}

// What is wrong and what to type instead, as nodes.
export function faultWords(message, fix) {
  return [element("strong", {}, withCode(message)), fix ? ": " : "", withCode(fix ?? "")];
}

// The units an input offers, one per meaning (of `m3/h` and `m³/h` the first): { spelling, label }. The label
// is the unit as printed in the trade, the spelling what the engine reads.
export function unitChoices(packInput, units, unitSymbol) {
  return unitsByMeaning(packInput, units).map(([[spelling, note]]) => {
    const printed = (spelling === packInput.unit && unitSymbol) || printedUnit(spelling);
    return { spelling, label: note ? `${printed} (${note})` : printed };
  });
}

// Every unit with the spellings that may be typed: `°C: degC, °C, C; K`.
export function unitsInWords(packInput, text) {
  const choices = unitChoices(packInput, text.units, text.unit_symbol);
  return unitsByMeaning(packInput, text.units)
    .map((alike, place) => {
      const spellings = alike.map(([spelling]) => spelling).join(", ");
      return spellings === choices[place].label ? spellings : `${choices[place].label}: ${spellings}`;
    })
    .join("; ");
}

// A unit as it is printed: `°F` of `degF`, `m³/s` of `m3/s`, `Pa·s` of `Pa.s`, `µS/cm` of `uS/cm`.
export function printedUnit(spelling) {
  return spelling
    .replace(/\bdeg(?=[CF]\b)/g, "°")
    .replace(/(?<=[a-z])\^?2\b/g, "²")
    .replace(/(?<=[a-z])\^?3\b/g, "³")
    .replace(/\bu(?=[ASVm])/g, "µ")
    .replace(/\.(?=s\b)/g, "·")
    .replace(/ohm\b/g, "Ω");
}

// A typed answer as { text, unit }: the unit as the field offers it, or null where none of its units was
// typed.
export function splitAnswer(packInput, choices, typed) {
  const parts = NUMBER_AND_UNIT.exec(typed.trim());
  const conversion = parts && packInput.conversions.find((item) => item.spelling === parts[2].trim());
  if (!conversion) return { text: typed, unit: null };
  const offered =
    choices.find((choice) => choice.spelling === conversion.spelling) ??
    choices.find((choice) => {
      const other = packInput.conversions.find((item) => item.spelling === choice.spelling);
      return other && meaning(other) === meaning(conversion);
    });
  return offered ? { text: parts[1], unit: offered.spelling } : { text: typed, unit: null };
}

// The answer as typed text: the chosen unit is added to a bare number only, so that a typed unit wins.
export function joinAnswer(text, unit) {
  const trimmed = text.trim();
  return PLAIN_NUMBER.test(trimmed) && unit && unit !== "1" ? `${trimmed} ${unit}` : trimmed;
}

// A verdict with its bounds, in words: `suitable`, `suitable, provisional` where it rests on figures quoted from
// memory, `open: at worst unsuitable, at best suitable`.
export function verdictWords({ verdict, best, worst, confirm = [] }) {
  if (best !== worst) return `open: at worst ${worst}, at best ${best}`;
  if (verdict === "open") return "open: not settled by any answer";
  return confirm.length ? verdict + PROVISIONAL : verdict;
}

// The mark of a verdict: a symbol for the eye and the word for everyone; `look` is "maybe" where nothing is decided.
export function verdictMark(verdict, words, look = verdict) {
  return element(
    "span",
    { class: `ws-verdict ws-${look}` },
    element("span", { "aria-hidden": "true", class: "ws-symbol", text: VERDICT_SYMBOLS[verdict] }),
    words,
  );
}

// Where a statement comes from, in words: `handbook (Title, clause 4; recalled, to be confirmed)`.
// A note longer than `longest` letters is left out.
export function basisText(basis, sources, longest) {
  const source = sources.get(basis.source);
  const where = [source ? source.title : basis.source, basis.clause].filter(Boolean).join(", ");
  const note = (basis.note ?? "").length > longest ? "" : basis.note;
  const inside = [where, CHECKED_WORDS[basis.checked] ?? "", note].filter(Boolean).join("; ");
  return (BASIS_WORDS[basis.kind] ?? basis.kind) + (inside ? ` (${inside})` : "");
}

// Reads a JSON document of the site. Throws an Error with a sentence for the reader.
export async function readDocument(address) {
  const answer = await fetch(address).catch(() => null);
  if (!answer || !answer.ok) throw new Error(`The rules could not be read from ${address}.`);
  return answer.json();
}

// private

// Six digits are enough to recognise a typed number by; what is shortened says so.
function recognisable(x) {
  const short = Number(x.toPrecision(RECOGNISED_DIGITS));
  return (short === x ? "" : "about ") + plainText(short).replace("-", "\u2212");
}

// Units as [spelling, note], those that mean the same together, in the order of the first of each.
function unitsByMeaning(packInput, units) {
  const alike = new Map();
  for (const unit of units) {
    const conversion = packInput.conversions.find((item) => item.spelling === unit[0]);
    const key = conversion ? meaning(conversion) : unit[0];
    alike.set(key, [...(alike.get(key) ?? []), unit]);
  }
  return [...alike.values()];
}

function meaning(conversion) {
  return `${conversion.n} ${conversion.k} ${conversion.d}`;
}
