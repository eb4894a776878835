// Gives back the selection record of a measuring point: what generator/render/record.py prints, to sign and file. What is
// signed stands on the front, what it rests on follows on the back.
//
// `recordView(view, texts, made)` is one element; `made` has read, selected, conceded, the nearest margins, the next
// question, the typed application, and the day.

import { element, verdictWords } from "./form.js";
import { marginOf, marginWords, NEAREST_SHOWN } from "./margin_words.js";
import { questionWords } from "./question_words.js";
import { adviceLines } from "./worksheet_advice.js";
import { concessionLine } from "./worksheet_concessions.js";
import { PROVISIONAL, provisionalWords } from "./worksheet_provisional.js";
import { isSettled, UNSETTLED } from "./worksheet_reasons.js";
import { askedFor, askedTitle, assumedWords, inputTitle, inTitles, stateTitle, unknownLines } from "./worksheet_texts.js";
import { valueText, valueTitle } from "./worksheet_values.js";

const SIGNED_BY = ["Selected by", "Checked by", "Owner's corrosion engineer"];
const DEFERS =
  "This is screening advice. Local codes and regulations, the owner's corrosion engineer and licensed practice " +
  "decide. A signature accepts the open points, provisional figures and concessions named here.";
const PLAIN = ["none", "no", "not applicable"]; // answers that many questions share: one line for each word
const NONE_LEFT = "No selection is left by these rules; see the conflict.";

export function recordView(view, texts, { read, selected, conceded, margins, next, day }) {
  const best = selected.selections[0];
  const { edition } = texts;
  return element(
    "div",
    { class: "rec" },
    headOf(read.application, edition, day),
    element("h2", { text: "Result" }),
    element("p", { class: `rec-result rec-${best?.verdict ?? "unsuitable"}`, text: resultWords(view, best) }),
    selected.conflict && listOf("", selected.conflict.reasons.map((reason) => view.rules.get(reason.rule).because)),
    best && chosenTable(view, selected, best, conceded),
    pointsOf(view, read, best, conceded, next),
    element("h2", { text: "Answers" }),
    element("div", { class: "rec-columns rec-answers" }, read.application.states.map((one) => stateOf(view, read, one))),
    listOf("Nearest limits of what is chosen", margins.slice(0, NEAREST_SHOWN).map((one) => `${marginOf(view, one)}${marginWords(view, one)} ${one.rule}`),
      "rec-margins"),
    signatures(edition),
    listOf("Calculated for what is chosen", valueLines(view, selected, best), "rec-columns rec-values"),
    best && reasonsOf(view, selected, best, read.application.states.map(({ state }) => state)),
    listOf("Cautions", adviceLines(view, selected, "caution"), "rec-columns"),
    listOf("To hand over with the sensor", adviceLines(view, selected, "hand_over"), "rec-columns rec-boxes"),
  );
}

// private

function headOf({ id, title }, edition, day) {
  const facts = [
    ["Point", id],
    ["Made", day],
    ["Edition", edition.edition],
    ...(edition.overlay ? [["Overlay", edition.overlay]] : []),
    ["Rules", edition.rules],
    ["For", edition.company],
  ];
  return element(
    "div",
    { class: "rec-head" },
    element(
      "div",
      {},
      element("p", { class: "rec-kind", text: "Selection record, electromagnetic flowmeter sensor" }),
      element("h1", { text: title || "Measuring point without a name" }),
    ),
    element("table", { class: "rec-made", "data-plain": true }, element("tbody", {}, facts.map(([name, text]) =>
      element("tr", {}, element("th", { scope: "row", text: name }), element("td", { text }))))),
  );
}

function resultWords(view, best) {
  if (!best) return NONE_LEFT;
  return verdictWords(best).replace(PROVISIONAL, `, ${provisionalWords(view, best)}`);
}

function tableOf(heads, rows, className) {
  const head = element("tr", {}, heads.map((text) => element("th", { scope: "col", text })));
  const body = rows.map(([first, ...cells]) =>
    element("tr", {}, element("th", { scope: "row", text: first }), cells.map((text) => element("td", { text }))));
  return element("table", { class: className, "data-plain": true }, element("thead", {}, head),
    element("tbody", {}, body));
}

function listOf(title, lines, className = "") {
  if (!lines.length) return null;
  return [title && element("h2", { text: title }),
    element("ul", { class: className }, lines.map((text) => element("li", { text })))];
}

function resultOf(selected, { decision, candidate }) {
  const { candidates } = selected.decisions.find((one) => one.decision === decision);
  return candidates.find((one) => one.candidate === candidate);
}

function sentence(view, reason) {
  return (isSettled(reason) ? "" : UNSETTLED) + view.rules.get(reason.rule).because;
}

function chosenTable(view, selected, best, conceded) {
  const rows = best.chosen.map((one) => {
    const signed = conceded
      .filter(({ concession }) => concession.decision === one.decision && concession.candidate === one.candidate)
      .map((each) => concessionLine(view, each).split("; ").slice(1).join("; "));
    const limits = one.limits.length > 0 ? one.limits : resultOf(selected, one).reasons.slice(0, 1);
    const because = [...new Set(limits.map((reason) => sentence(view, reason)))];
    const title = view.titles.get(`${one.decision} ${one.candidate}`) + (one.pinned ? " (pinned)" : "");
    return [view.decisions.get(one.decision).title, title, verdictWords(one), [...signed, ...because].join(" ")];
  });
  return tableOf(["Decision", "Chosen", "Verdict", "Because"], rows, "rec-chosen");
}

function pointsOf(view, read, best, conceded, next) {
  const { undescribed } = read.application;
  const missing = best ? askedFor(view, best.open_inputs).map(([state, input]) => askedTitle(view, state, input)) : [];
  const open = [
    ...read.problems.map((one) => [one.message, one.fix].filter(Boolean).join(": ")),
    ...unknownLines(view, read.application),
    ...undescribed.map((state) => `${stateTitle(view, state)}: neither described nor ruled out.`),
    missing.length > 0 && `Missing answers: ${missing.join(", ")}.`,
    next && `Next question: ${inputTitle(view, next.input)} (${next.state}): ${questionWords(next)}.`,
  ].filter(Boolean);
  return [
    listOf("Open points", open),
    listOf("Assumed values", [assumedWords(view, read)].filter(Boolean)),
    listOf("Concessions; no verdict changes by them", conceded.map((one) => concessionLine(view, one))),
  ];
}

function stateOf(view, read, { state }) {
  const lines = read.understood.filter((one) => one.state === state && one.typed !== "");
  const isPlain = ({ typed, understood }) => PLAIN.includes(typed) && lettersOf(understood) === lettersOf(typed);
  const titlesOf = (word) => lines.filter((one) => one.typed === word && isPlain(one)).map(({ input }) => inputTitle(view, input));
  return [
    element("h3", { text: stateTitle(view, state) }),
    element("dl", {}, lines.filter((one) => !isPlain(one)).map((one) => {
      const [said, taken] = inWords(view.inputs.get(one.input)?.options ?? [], one.typed, one.understood);
      return element("div", {}, element("dt", { text: inputTitle(view, one.input) }),
        element("dd", { text: said }, taken && element("span", { class: "rec-taken", text: taken })));
    })),
    PLAIN.filter((word) => titlesOf(word).length > 0).map((word) =>
      element("p", {}, element("b", { text: `${word}:` }), ` ${titlesOf(word).join(", ")}`)),
  ];
}

// What was typed, and what was understood where that says more. A name as the data write it stands as its title.
function inWords(options, typed, taken) {
  const same = lettersOf(taken) === lettersOf(typed);
  if (!options.length) return [typed, same ? "" : shortened(taken)];
  const title = inTitles(options, taken);
  return same || lettersOf(title) === lettersOf(typed) ? [title, ""] : [typed, title];
}

// What tells two answers apart: `PN 16` and `pn16` are the same.
function lettersOf(text) {
  return text.toLowerCase().replace(/[ _]/g, "");
}

// A converted figure with six digits, which are enough to know it by.
function shortened(text) {
  return text.replace(/[0-9]+\.[0-9]{5,}/g, (figure) => String(Number(Number(figure).toPrecision(6))));
}

function valueLines(view, selected, best) {
  const chosen = new Set(best ? best.chosen.map((one) => one.candidate) : []);
  const lines = new Map();
  for (const value of selected.values) {
    const mine = value.candidate.split(" ").every((id) => id === "" || chosen.has(id));
    if (mine && value.low !== null && value.low === value.high && !value.absent) {
      const line = `${valueTitle(view, value)}: ${valueText(view, value)}`;
      lines.set(line, [...(lines.get(line) ?? []), stateTitle(view, value.state)]);
    }
  }
  const differs = ([line]) => [...lines.keys()].filter((one) => one.split(": ")[0] === line.split(": ")[0]).length > 1;
  return [...lines].map((one) => (differs(one) ? `${one[0]} (${one[1].join(", ")})` : one[0]));
}

// Every rule that was read for what is chosen, with its basis; states that say the same share a line, and where
// every described state says it, none is named.
function reasonsOf(view, selected, best, every) {
  const chosen = new Map(best.chosen.map((one) => [one.decision, one.candidate]));
  const groups = best.chosen.map((one) => {
    const own = resultOf(selected, one).reasons.filter((reason) =>
      reason.partner.every(([decision, candidate]) => chosen.get(decision) === candidate));
    const lines = new Map();
    for (const reason of [...one.limits, ...own]) {
      const key = JSON.stringify([reason.verdict, sentence(view, reason), originOf(view, reason)]);
      const liquid = reason.components.map((place) => view.liquids.get(`${reason.state} ${place}`)).join(" and ");
      const where = reason.state + (liquid && ` for ${liquid}`);
      lines.set(key, new Set([...(lines.get(key) ?? []), where]));
    }
    const title = `${view.decisions.get(one.decision).title}: ${view.titles.get(`${one.decision} ${one.candidate}`)}`;
    return [element("h3", { text: title }), element("ul", {}, [...lines].map(([key, states]) => {
      const [verdict, because, origin] = JSON.parse(key);
      return element("li", {}, element("b", { text: verdict }), ` ${because} `,
        element("span", { class: "rec-origin", text: alike(states, every) ? origin : `${origin}; ${[...states].join(", ")}` }));
    }))];
  });
  return [element("h2", { text: "Reasons and what they rest on, in every described state unless said" }),
    element("div", { class: "rec-columns rec-reasons" }, groups)];
}

function alike(some, all) {
  return some.size === all.length && all.every((one) => some.has(one));
}

function originOf(view, reason) {
  const { basis } = view.rules.get(reason.rule);
  const clause = basis.clause ? `clause ${basis.clause}` : "";
  const words = [basis.kind.replaceAll("_", " "), basis.source, clause].filter(Boolean).join(" ");
  return `${reason.rule}; ${basis.checked ? `${words}, ${basis.checked}` : words}`;
}

function signatures(edition) {
  return element(
    "section",
    { class: "rec-sign" },
    element("p", { text: DEFERS }),
    tableOf(["Signed", "Name", "Date", "Signature"], SIGNED_BY.map((text) => [text, "", "", ""]), ""),
    element("p", { class: "rec-notice", text: edition.notice }),
  );
}
