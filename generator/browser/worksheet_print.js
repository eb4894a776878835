// Gives back the worksheet as it is printed: answers, verdicts with the rule that decides, what is open,
// cautions.
//
// Paper cannot be unfolded, so it holds what decides and leaves the rest to the page: one reason per
// candidate, candidates that fail or wait alike on one line, and no calculated value that says nothing.

import { basisText, element, verdictMark, verdictWords } from "./form.js";
import { adviceLines } from "./worksheet_advice.js";
import { concessionLine } from "./worksheet_concessions.js";
import { RANKED } from "./worksheet_points.js";
import { confirmSentence } from "./worksheet_provisional.js";
import { headline, isSettled, LONG_NOTE, partnerWords, UNSETTLED } from "./worksheet_reasons.js";
import { standing } from "./worksheet_standing.js";
import { askedFor, askedTitle, inputTitle, stateTitle, unknownLines } from "./worksheet_texts.js";
import { candidateTitle, valueText, valueTitle } from "./worksheet_values.js";

const WAITS_PRINTED = 4;
const TELLING = 100; // a value between ends further apart than by this factor tells a reader nothing

// The parts of the sheet, as elements.
//
// `typed` is the application as typed, `read` and `selected` what the engine made of it. `said(state, input)`
// gives { understood } or { fault, fix } of a field, `whole` the values of an application without answers.
export function printedView(view, texts, { typed, read, selected, waiting, conceded, said, whole }) {
  const { edition } = texts;
  return [
    element("h2", { text: read.application.title || "Measuring point without a name" }),
    element("p", { text: `${edition.company}: ${edition.title}, ${edition.edition}` }),
    table("short", "Result", ["Decision", "First", "Verdict", ""], summaryRows(view, selected)),
    ...list("Concessions; no verdict changes by them", conceded.map((one) => concessionLine(view, one))),
    element(
      "div",
      { class: "ws-columns" },
      read.application.states.map((one) =>
        table(
          "short",
          `Answers: ${stateTitle(view, one.state)}`,
          ["Asked", "Typed", "Understood"],
          answerRows(view, one.state, typed[one.state], said),
        ),
      ),
    ),
    ...statesLines(view, read.application),
    ...selected.decisions.map((decision) =>
      table(
        "reasons",
        view.decisions.get(decision.decision).title,
        ["Candidate", "Verdict", "Because"],
        candidateRows(view, decision),
      ),
    ),
    ...valuesPart(view, selected, whole),
    ...list("Open points", openLines(view, read, waiting)),
    ...list("Cautions", adviceLines(view, selected, "caution")),
    ...list("To hand over with the sensor", adviceLines(view, selected, "hand_over")),
    element("p", { text: edition.notice }),
  ];
}

// Calls `listener` before anything goes to paper. Some ways there announce themselves by the medium alone.
export function beforePrint(listener) {
  window.addEventListener("beforeprint", listener);
  matchMedia("print").addEventListener("change", (paper) => paper.matches && listener());
}

// private

// `kind` tells how wide its columns are: "short" words or "reasons".
function table(kind, title, heads, rows) {
  const head = element("tr", {}, heads.map((text) => element("th", { scope: "col", text })));
  const body = rows.map((cells) => element("tr", {}, cells.map((cell) => element("td", {}, cell))));
  return element(
    "table",
    { class: `ws-${kind}`, "data-plain": true },
    element("caption", { text: title }),
    element("thead", {}, head),
    element("tbody", {}, body),
  );
}

function list(title, lines) {
  if (!lines.length) return [];
  return [element("h3", { text: title }), element("ul", {}, lines.map((text) => element("li", { text })))];
}

function summaryRows(view, selected) {
  return selected.decisions.map((decision) => {
    const { title, first, verdict, more, better } = standing(view, decision);
    const words = [more, better].filter(Boolean).join("; ");
    return [title, first, verdictMark(decision.candidates[0].verdict, verdict), words];
  });
}

function answerRows(view, state, typed, said) {
  const inputs = [...view.inputs.keys()].filter(
    (input) => state === view.firstState || !view.shared.has(input),
  );
  return inputs.flatMap((input) => {
    const { understood, assumed, fault, fix } = said(state, input);
    if (fault !== undefined) return [[inputTitle(view, input), typed[input] ?? "", `${fault}: ${fix}`]];
    if (understood === undefined) return [];
    return [[inputTitle(view, input), assumed ? "not answered: assumed" : typed[input], understood]];
  });
}

function statesLines(view, { ruled_out: ruledOut, undescribed }) {
  const line = (words, states) =>
    element("p", { text: `${words}: ${states.map((state) => stateTitle(view, state)).join(", ")}.` });
  return [
    ruledOut.length > 0 && line("Does not occur", ruledOut),
    undescribed.length > 0 && line("Neither described nor ruled out", undescribed),
  ].filter(Boolean);
}

// In the engine's order. Candidates that are alike in verdict, reason and what they wait for share a row.
function candidateRows(view, decision) {
  const rows = new Map();
  for (const result of decision.candidates) {
    const reason = headline(result);
    const rule = reason && view.rules.get(reason.rule);
    const waits = waitsFor(view, result);
    const words = reason
      ? (isSettled(reason) ? "" : UNSETTLED) + rule.because + partnerWords(view, reason)
      : "No rule of this edition applies.";
    const origin = reason ? basisText(rule.basis, view.sources, LONG_NOTE) : "";
    const confirm = confirmSentence(view, result);
    const key = [verdictWords(result), reason?.state, words, origin, waits, confirm].join("\n");
    if (!rows.has(key)) {
      rows.set(key, { result, reason, words, origin, waits, confirm, titles: [], rules: new Set() });
    }
    rows.get(key).titles.push(view.titles.get(`${decision.decision} ${result.candidate}`));
    if (reason) rows.get(key).rules.add(reason.rule);
  }
  return [...rows.values()].map(({ result, reason, words, origin, waits, confirm, titles, rules }) => [
    titles.join(", "),
    verdictMark(result.verdict, verdictWords(result)),
    [
      words,
      waits && ` ${waits}`,
      confirm && ` ${confirm}`,
      reason &&
        element("span", {
          class: "ws-origin",
          text: ` ${stateTitle(view, reason.state)} · ${[...rules].join(", ")} · ${origin}`,
        }),
    ],
  ]);
}

function waitsFor(view, result) {
  const asked = askedFor(view, result.open_inputs).map(([state, input]) => askedTitle(view, state, input));
  if (!asked.length) return "";
  const more = asked.length - WAITS_PRINTED;
  return `Waits for: ${asked.slice(0, WAITS_PRINTED).join(", ")}${more > 0 ? ` and ${more} more` : ""}.`;
}

// Per value a line, for the candidates with the best verdict; states that give the same share it.
function valuesPart(view, selected, whole) {
  const taken = new Set(selected.decisions.flatMap(bestCandidates));
  const shown = selected.values
    .filter((value) => value.candidate === "" || value.candidate.split(" ").every((id) => taken.has(id)))
    .filter((value) => isTelling(value, whole));
  const lines = new Map(); // the text of a value in one state, and the states that give it
  for (const state of new Set(shown.map((value) => value.state))) {
    const here = shown.filter((value) => value.state === state);
    for (const name of new Set(here.map((value) => value.name))) {
      const alike = here.filter((value) => value.name === name);
      const words = alike.map((value) =>
        [value.candidate && candidateTitle(view, value.candidate), valueText(view, value)]
          .filter(Boolean)
          .join(": "),
      );
      const line = `${valueTitle(view, alike[0])}: ${words.join("; ")}`;
      lines.set(line, [...(lines.get(line) ?? []), stateTitle(view, state)]);
    }
  }
  return list("Calculated values", [...lines].map(([line, states]) => `${line} (${states.join(", ")})`));
}

// The candidates of a decision that may be taken as things stand and that nothing settled outdoes.
function bestCandidates({ candidates }) {
  const { verdict } = candidates[0];
  if (verdict !== "suitable" && verdict !== "caution") return [];
  return candidates.filter((one) => one.verdict === verdict).map((one) => one.candidate);
}

// A single value, or one whose two ends the answers have moved, and near to each other.
function isTelling({ name, candidate, low, high }, whole) {
  if (low === null) return false;
  if (low === high) return true;
  const blank = whole.find((one) => one.name === name && one.candidate === candidate);
  if (!blank || blank.low === null || low <= blank.low || high >= blank.high) return false;
  const [least, most] = [Math.abs(low), Math.abs(high)].sort((one, other) => one - other);
  return low * high < 0 || most <= TELLING * least;
}

function openLines(view, read, waiting) {
  const { undescribed, assumed } = read.application;
  const titled = ([state, input]) => askedTitle(view, state, input);
  const ranked = [...waiting].sort((one, other) => other[1] - one[1]).slice(0, RANKED);
  return [
    ...read.problems.map((one) => [one.message, one.fix].filter(Boolean).join(": ")),
    ...unknownLines(view, read.application),
    ...undescribed.map((state) => `${stateTitle(view, state)}: neither described nor ruled out.`),
    assumed.length > 0 && `Assumed, not answered: ${assumed.map(titled).join(", ")}.`,
    ranked.length > 0 &&
      `Answers that most verdicts wait for: ${ranked
        .map(([key, count]) => `${titled(key.split(" "))} (${count})`)
        .join(", ")}.`,
  ].filter(Boolean);
}
