// Gives back the reference case that is nearest to the answers: the one that agrees in most of what both answer.
//
// Nothing is concluded from it. It is a place to read how such a line was argued before.

import { readApplication } from "./engine/application.js";
import { answerText, element } from "./form.js";
import { inputTitle, stateTitle } from "./worksheet_texts.js";

const LEAST = 4; // answers that must agree before a case is called near
const SAME_FIRST = "medium"; // a case of another medium is near to nothing

// The nearest case is { node, show(application) }, where `application` has been read.
export function makeNearest(pack, texts, view) {
  const node = element("p", { class: "ws-nearest" });
  let cases = null; // read when first asked for
  const show = (application) => {
    cases ??= texts.cases.map((one) => ({ one, answers: answersOf(pack, caseAsTyped(one)) }));
    const found = nearest(knownIn(application), cases);
    node.hidden = !found;
    if (found) node.replaceChildren(...told(view, found));
  };
  return { node, show };
}

// The best of the cases with what agrees and what differs, as keys "state input"; null where none is near. Among
// equals the first.
export function nearest(known, cases) {
  let best = null;
  for (const { one, answers } of cases) {
    const both = [...known.keys()].filter((key) => answers.has(key));
    const differs = both.filter((key) => !meet(known.get(key), answers.get(key)));
    const agrees = both.length - differs.length;
    const medium = [...differs].some((key) => key.endsWith(` ${SAME_FIRST}`));
    if (agrees < LEAST || medium) continue;
    if (best === null || agrees - differs.length > best.agrees - best.differs.length)
      best = { one, agrees, differs, answers };
  }
  return best;
}

// private

function caseAsTyped(one) {
  const typed = { id: one.id, title: one.title };
  for (const [state, answers] of one.application) {
    if (answers !== null) typed[state] = Object.fromEntries(answers);
  }
  return typed;
}

function answersOf(pack, typed) {
  const read = readApplication(pack, typed);
  return read.problems.length ? new Map() : knownIn(read.application);
}

// What was typed, by "state input"; what all states share counts once.
function knownIn(application) {
  const assumed = new Set(application.assumed.map(([state, input]) => `${state} ${input}`));
  const known = new Map();
  for (const { state, answers } of application.states) {
    for (const [input, answer] of answers) {
      if (!assumed.has(`${state} ${input}`)) known.set(`${state} ${input}`, answer);
    }
  }
  return known;
}

// Whether two answers can be the same value.
function meet(one, other) {
  if (one.ids) return one.ids.some((id) => other.ids.includes(id));
  if (one.absent && other.absent) return true;
  return one.intervals.some(([low, high]) => other.intervals.some(([from, to]) => low <= to && from <= high));
}

function told(view, { one, agrees, differs, answers }) {
  const link = element("a", { href: `${view.base}cases/${one.id}/`, text: one.title });
  const there = differs.map((key) => {
    const [state, input] = key.split(" ");
    const text = view.inputs.get(input);
    const where = view.shared.has(input) ? "" : ` (${stateTitle(view, state)})`;
    return `${inputTitle(view, input)}${where}, there ${answerText(answers.get(key), text.unit_symbol, text.options)}`;
  });
  const different = there.length ? ` It differs in ${there.length}: ${there.join("; ")}.` : "";
  return ["Nearest reference case: ", link, `. It agrees in ${agrees} of the answers that both give.${different}`];
}
