// Gives back a calculator at each <div data-calculator="formula" data-pack="..." data-texts="..."> of the
// page.
//
// It computes with the engine that the verdicts use. What is typed stands in the address:
// #mean_velocity.flow=50+m3/h

import { evaluateFormula } from "./engine/formulas.js";
import { plainText } from "./engine/numbers.js";
import { OUTSIDE_RANGE } from "./engine/faults.js";
import { readAnswer } from "./engine/reading.js";
import {
  answerText,
  element,
  faultWords,
  readDocument,
  shownNumber,
  unitChoices,
  withUnit,
} from "./form.js";
import { readable } from "./address.js";
import { makeUnitField } from "./unit_field.js";

const FAR = 1e300; // a calculator refuses no number: outside the validity it says so

// Fills every place of the page; a pack is read once.
export async function openCalculators(places) {
  const documents = new Map();
  const once = (address) => {
    if (!documents.has(address)) documents.set(address, readDocument(address));
    return documents.get(address);
  };
  for (const place of places) {
    const packAddress = new URL(place.dataset.pack, document.baseURI).href;
    const textsAddress = new URL(
      place.dataset.texts ?? "texts.json",
      place.dataset.texts ? document.baseURI : packAddress,
    ).href;
    try {
      const [pack, texts] = await Promise.all([once(packAddress), once(textsAddress)]);
      makeCalculator(place, pack, texts);
    } catch (reason) {
      place.append(element("p", { class: "ws-notice", role: "alert", text: reason.message }));
    }
  }
}

// private

function makeCalculator(place, pack, texts) {
  const formula = pack.formulas.find((one) => one.id === place.dataset.calculator);
  const text = texts.formulas.find((one) => one.id === place.dataset.calculator);
  const answers = new Map();
  const result = element("output", { class: "calc-result", "aria-live": "polite" });
  const fields = formula.symbols.map((symbol) =>
    makeSymbol(
      formula,
      symbol,
      text.symbols.find((one) => one.id === symbol.id),
      (typed) => {
        answers.set(symbol.id, typed);
        keepInAddress(formula.id, answers);
        show();
      },
    ),
  );
  const fill = (given, keep) => {
    fields.forEach((field) => {
      const typed = given.get(field.symbol.id) ?? "";
      answers.set(field.symbol.id, typed);
      field.set(typed);
    });
    if (keep) keepInAddress(formula.id, answers);
    show();
  };
  place.replaceChildren(
    element(
      "form",
      { class: "ws calc", onsubmit: (event) => event.preventDefault() },
      element(
        "fieldset",
        { class: "calc-fields" },
        element("legend", { text: text.title }),
        fields.map((field) => field.node),
      ),
      element(
        "p",
        { class: "calc-line" },
        element("span", { class: "calc-name", text: `${text.title} ` }),
        element("i", { text: text.letter }),
        " = ",
        result,
      ),
      text.examples.length > 0 &&
        element(
          "p",
          { class: "ws-buttons" },
          "Fill in: ",
          text.examples.map((example, number) =>
            element("button", {
              type: "button",
              class: "ws-small",
              onclick: () => fill(new Map(example.given), true),
              text: `worked example ${number + 1}`,
            }),
          ),
          element("button", {
            type: "button",
            class: "ws-small",
            onclick: () => fill(new Map(), true),
            text: "nothing",
          }),
        ),
    ),
  );
  fill(fromAddress(formula.id), false);

  function show() {
    const read = fields.map((field) => field.read(answers.get(field.symbol.id) ?? ""));
    if (read.includes(null)) {
      const missing = fields.filter((_, number) => read[number] === null).map((field) => field.title);
      result.textContent = `waits for ${missing.join(", ")}`;
      result.dataset.value = "";
      return;
    }
    const value = evaluateFormula(
      formula,
      Object.fromEntries(fields.map((field, number) => [field.symbol.id, read[number]])),
    );
    result.dataset.value = value.intervals.length ? value.intervals[0].map(plainText).join(" ") : "none";
    result.textContent = resultText(value, text, outsideWords(formula.symbols, text.symbols, read));
  }
}

function resultText(value, text, outside) {
  if (!value.intervals.length) return `no value here${outside && `: ${outside}`}. ${text.validity}`;
  const [low, high] = value.intervals[0];
  const shown = low === high ? shownNumber(low) : `${shownNumber(low)} to ${shownNumber(high)}`;
  return (
    withUnit(shown, text.unit_symbol) +
    (value.absent ? `, and no value for a part of what was typed${outside && `: ${outside}`}` : "")
  );
}

// Which letters leave the range in which the formula holds: `Q is outside 0 to 10000 m³/h, D is ...`.
function outsideWords(symbols, texts, read) {
  return symbols
    .map((symbol, place) => {
      const text = texts.find((one) => one.id === symbol.id);
      const [part, whole] = outsideOf(read[place], symbol.valid);
      return part && `${text.letter} is ${whole ? "" : "partly "}outside ${rangeText(symbol.valid, text)}`;
    })
    .filter(Boolean)
    .join(", ");
}

// Whether a part of an answer lies outside a range, and whether all of it does.
function outsideOf(answer, valid) {
  const below = (x) => x < valid.low || (x === valid.low && !valid.low_in);
  const above = (x) => x > valid.high || (x === valid.high && !valid.high_in);
  const low = answer.intervals[0][0];
  const high = answer.intervals.at(-1)[1];
  return [below(low) || above(high), above(low) || below(high)];
}

// `0 to 10000 m³/h`; an end that is not of the range says so.
function rangeText(valid, text) {
  const ends = [!valid.low_in && valid.low, !valid.high_in && valid.high].filter((end) => end !== false);
  const range = withUnit(
    `${shownNumber(valid.low)} to ${shownNumber(valid.high)}`,
    text.unit_symbol,
  );
  return range + (ends.length ? ` without ${ends.map(shownNumber).join(" and ")} itself` : "");
}

function makeSymbol(formula, symbol, text, listener) {
  const asked = askedLike(symbol, text);
  const spellings = asked.conversions.map((conversion) => [conversion.spelling, conversion.note]);
  const choices = unitChoices(asked, spellings, text.unit_symbol);
  const id = `calc-${formula.id}-${symbol.id}`;
  const said = element("p", { class: "ws-said", id: `${id}-said` });
  const { control, unit, set } = makeUnitField({ asked, choices, id, title: text.title, listener });
  control.setAttribute("aria-describedby", said.id);
  // The set that was understood, or null; the line beneath the field says which.
  const read = (typed) => {
    if (typed === "") {
      said.replaceChildren(element("span", { class: "ws-muted", text: validText(symbol, text) }));
      control.removeAttribute("aria-invalid");
      return null;
    }
    const answer = readAnyNumber(asked, symbol, typed);
    if (answer.message !== undefined) {
      control.setAttribute("aria-invalid", "true");
      said.replaceChildren(...faultWords(answer.message, answer.fix).flat());
      return null;
    }
    control.removeAttribute("aria-invalid");
    said.replaceChildren(
      element("span", { class: "ws-muted", text: "understood: " }),
      answerText(answer.answer, text.unit_symbol, []),
    );
    return answer.answer;
  };
  const node = element(
    "div",
    { class: "ws-field", "data-symbol": symbol.id },
    element(
      "div",
      { class: "ws-label" },
      element("label", { for: id }, `${text.title} `, element("i", { text: text.letter })),
    ),
    element("div", { class: "ws-controls" }, control, unit),
    said,
  );
  return { symbol, node, set, read, title: text.title };
}

// Within the validity as an answer is read, so that a fault names a number of the validity; outside it whatever the number.
function readAnyNumber(asked, symbol, typed) {
  const within = readAnswer({ ...asked, low: symbol.valid.low, high: symbol.valid.high }, typed);
  return within.code === OUTSIDE_RANGE ? readAnswer(asked, typed) : within;
}

// A symbol is read like an answer, in the units of its quantity.
function askedLike(symbol, text) {
  return {
    id: symbol.id,
    kind: "number",
    per_state: false,
    asked_of: "",
    may_be_absent: false,
    unit: symbol.unit,
    low: -FAR,
    high: FAR,
    conversions: text.conversions,
    refusals: text.refusals,
    options: [],
    assumed: "",
  };
}

function validText(symbol, text) {
  const { low, low_in: lowIn, high, high_in: highIn } = symbol.valid;
  return withUnit(
    `${lowIn ? "from" : "above"} ${shownNumber(low)} ${highIn ? "up to" : "to below"} ${shownNumber(high)}`,
    text.unit_symbol,
  );
}

function fromAddress(formula) {
  const given = new Map();
  for (const [key, typed] of new URLSearchParams(location.hash.slice(1))) {
    if (key.startsWith(`${formula}.`)) given.set(key.slice(formula.length + 1), typed);
  }
  return given;
}

// Other calculators of the same page keep their part of the address.
function keepInAddress(formula, answers) {
  const others = [...new URLSearchParams(location.hash.slice(1))].filter(
    ([key, typed]) => typed && !key.startsWith(`${formula}.`),
  );
  const own = [...answers]
    .filter(([, typed]) => typed)
    .map(([symbol, typed]) => [`${formula}.${symbol}`, typed]);
  const fragment = [...others, ...own].map(([key, typed]) => `${readable(key)}=${readable(typed)}`).join("&");
  history.replaceState(history.state, "", fragment ? `#${fragment}` : location.pathname + location.search);
}

const places = [...document.querySelectorAll("[data-calculator]")];
if (places.length) openCalculators(places);
