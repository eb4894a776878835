// Gives back which questions of the data sheet are shown: the first few, those that are answered, and those that
// matter now. Nobody is asked what no candidate worth having waits for.
//
// The start is { node, shows(application, selected, waiting) }: what `shows` gives back says of a state and an input
// whether its field is shown.

import { MIXED_WITH } from "./engine/model.js";
import { element } from "./form.js";

export const AT_ONCE = 6; // so many further questions are asked at a time, those first that most verdicts wait for

// `listener()` is called when the reader asks for all questions, or for few.
export function makeStart(pack, texts, listener) {
  const first = new Set(texts.inputs.filter((one) => one.first).map((one) => one.id));
  const counted = first.size - (first.has(MIXED_WITH) ? 1 : 0); // what is mixed in belongs to the question of the medium
  const state = pack.states[0].id;
  let every = first.size === 0;
  const words = element("span", { class: "ws-muted" });
  const button = element("button", { type: "button", class: "ws-small", "data-all-questions": true });
  button.addEventListener("click", () => {
    every = !every;
    listener();
  });
  const node = element("p", { class: "ws-start", hidden: every }, words, " ", button);
  const shows = (application, selected, waiting) => {
    button.textContent = every ? "Show the short start" : `Show all ${pack.inputs.length} questions`;
    words.textContent = every
      ? "All questions are shown."
      : `${inWords(counted)} questions first; the others come when they matter.`;
    if (every) return () => true;
    const answered = isBegun(application[state], first);
    const now = new Set(answered ? mattering(pack, application, selected, waiting, first) : []);
    return (where, input) =>
      first.has(input) || application[where]?.[input] !== undefined || now.has(`${where} ${input}`);
  };
  return { node, shows };
}

// private

const NUMBERS = ["No", "One", "Two", "Three", "Four", "Five", "Six", "Seven", "Eight", "Nine", "Ten", "Eleven", "Twelve"];

function inWords(count) {
  return NUMBERS[count] ?? String(count);
}

// Before half of the first questions are answered everything seems to matter.
function isBegun(answers, first) {
  if (typeof answers !== "object") return false;
  return [...first].filter((input) => answers[input] !== undefined).length * 2 >= first.size;
}

// The questions that the leading selections wait for, as "state input"; where there is no selection, those that any
// verdict waits for.
function mattering(pack, application, selected, waiting, first) {
  const shared = new Set(pack.inputs.filter((one) => !one.per_state).map((one) => one.id));
  const open = selected.selections.flatMap((one) => one.open_inputs);
  const keys = open.length
    ? open.map(([where, input]) => `${shared.has(input) ? pack.states[0].id : where} ${input}`)
    : [...waiting.keys()];
  const unanswered = [...new Set(keys)].filter((key) => {
    const [where, input] = key.split(" ");
    return !first.has(input) && application[where]?.[input] === undefined;
  });
  return unanswered.sort((one, other) => (waiting.get(other) ?? 0) - (waiting.get(one) ?? 0)).slice(0, AT_ONCE);
}
