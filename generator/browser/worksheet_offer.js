// Gives back the block that holds an offered sensor against what the measuring point requires.
//
// `makeOffer(view, pack)` is { node, show(application) }. What is offered stands in fields of its own and is part of
// neither the link nor the file; it is compared by the same rules, in the engine.

import { ACCEPTED, AS_REQUIRED, compareOffer, DEVIATION, OPEN, requiredFigures } from "./engine/offer.js";
import { readAnswer } from "./engine/reading.js";
import { element, faultWords, shownNumber, verdictMark, withUnit } from "./form.js";
import { reasonView } from "./worksheet_results.js";
import { inputTitle } from "./worksheet_texts.js";

const WORDS = {
  [AS_REQUIRED]: "as required",
  [ACCEPTED]: "accepted, no worse than required",
  [DEVIATION]: "deviation",
  [OPEN]: "open",
};
const LONG_NOTE = 100;
const DEFERS =
  "The comparison screens the offer by the rules of this guide. Local codes, the owner's corrosion engineer and " +
  "licensed practice decide; the supplier answers for the figures given.";

export function makeOffer(view, pack) {
  const fields = element("div", { class: "ws-offer-fields" });
  const message = element("p", { class: "ws-message", role: "status" });
  const list = element("ul", { class: "ws-reasons" });
  const details = element(
    "details",
    {},
    element("summary", { text: "Compare an offer" }),
    element("p", { class: "ws-muted", text: DEFERS }),
    fields,
    message,
    list,
  );
  let application = null;
  const choices = pack.decisions.map((decision) => choiceOf(view, decision, compare));
  const figures = new Map();

  function compare() {
    const chosen = choices.filter(({ control }) => control.value).map(({ id, control }) => [id, control.value]);
    const read = [...figures].filter(([, { control }]) => control.value.trim())
      .map(([id, { control }]) => [id, readAnswer(pack.inputs.find((one) => one.id === id), control.value, pack.inputs)]);
    const wrong = read.find(([, one]) => one.code !== undefined);
    message.replaceChildren(...(wrong ? [`${inputTitle(view, wrong[0])}: `, ...faultWords(wrong[1].message, wrong[1].fix)] : []));
    const stated = read.filter(([, one]) => one.answer?.intervals?.length === 1).map(([id, one]) =>
      [id, one.answer.intervals[0][id.endsWith("_max") ? 0 : 1]]);
    const found = compareOffer(pack, application, { chosen, figures: stated, true_bore: null });
    list.replaceChildren(...found.candidates.map((one) => candidateLine(view, one)),
      ...found.figures.map((one) => figureLine(view, one)));
  }

  details.addEventListener("toggle", () => {
    if (details.open) compare();
  });
  const show = (next) => {
    application = next;
    for (const [id] of requiredFigures(pack, application)) {
      if (!figures.has(id)) figures.set(id, figureOf(view, id, compare));
    }
    const needed = new Set(requiredFigures(pack, application).map(([id]) => id));
    const nodes = [...choices, ...[...figures].filter(([id]) => needed.has(id)).map(([, one]) => one)];
    if (fields.childElementCount !== nodes.length) fields.replaceChildren(...nodes.map(({ node }) => node));
    if (details.open) compare();
  };
  return { node: element("section", { class: "ws-offer", "aria-label": "Compare an offer" }, details), show };
}

// private

function field(control, label) {
  return element("div", { class: "ws-tool" }, element("label", { for: control.id, text: label }), control);
}

function choiceOf(view, { id, candidates }, compare) {
  const control = element(
    "select",
    { id: `ws-offer-${id}`, onchange: compare },
    element("option", { value: "", text: "not stated" }),
    candidates.map((one) => element("option", { value: one.id, text: view.titles.get(`${id} ${one.id}`) })),
  );
  return { id, control, node: field(control, view.decisions.get(id).title) };
}

function figureOf(view, id, compare) {
  const control = element("input", { type: "text", id: `ws-offer-${id}`, autocomplete: "off", onchange: compare });
  return { control, node: field(control, inputTitle(view, id)) };
}

function candidateLine(view, one) {
  const title = (candidate) => view.titles.get(`${one.decision} ${candidate}`) ?? "not stated";
  return element(
    "li",
    { "data-offer": one.decision, "data-standing": one.standing },
    element("span", {}, element("strong", { text: `${view.decisions.get(one.decision).title}: ${WORDS[one.standing]}` }),
      ` (${title(one.required)} required, ${title(one.offered)} offered) `,
      one.verdict && verdictMark(one.verdict, one.verdict)),
    one.reasons.map((reason) => reasonView(view, reason, { best: "", worst: "" }, LONG_NOTE, "for")),
  );
}

function figureLine(view, one) {
  const unit = view.inputs.get(one.input).unit_symbol;
  const amount = (number) => (number === null ? "not stated" : withUnit(shownNumber(number), unit));
  return element(
    "li",
    { "data-offer": one.input, "data-standing": one.standing },
    element("span", {}, element("strong", { text: `${inputTitle(view, one.input)}: ${WORDS[one.standing]}` }),
      ` (${amount(one.required)} required, ${amount(one.offered)} offered)`),
  );
}
