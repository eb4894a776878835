// Gives back the reference case that is nearest to the answers: the one that agrees in most of what both answer.
//
// Nothing is concluded from it. It is a place to read how such a line was argued before.

import { readApplication } from "./engine/application.js";
import { answerText, element } from "./form.js";
import { inputTitle, stateTitle } from "./worksheet_texts.js";

const LEAST = 4; // answers that must agree before a case is called near
const SAME_FIRST = "medium"; // a case of another medium is near to nothing
const ALIKE = 0.1; // of the larger one: so far apart two numbers are still called alike
const AT_ONCE = 60; // cases that are looked at before a key is answered again
const DIFFERENCES_SHOWN = 6; // further ones are counted

// The nearest case is { node, show(application) }, where `application` has been read; `show` gives back functions
// that look for it, to be called one after the other.
export function makeNearest(pack, texts, view) {
  const node = element("p", { class: "ws-nearest" });
  const cases = []; // each is read when it is first looked at
  const show = (application) => {
    const known = knownIn(application);
    let best = null;
    const look = (start) => () => {
      for (let place = start; place < Math.min(start + AT_ONCE, texts.cases.length); place += 1) {
        const one = texts.cases[place];
        cases[place] ??= { one, answers: answersOf(pack, caseAsTyped(one)) };
        best = nearer(best, known, cases[place]);
      }
    };
    const starts = known.size < LEAST ? [] : Array.from({ length: Math.ceil(texts.cases.length / AT_ONCE) }, (_, n) => n * AT_ONCE);
    return [...starts.map(look), () => {
      node.hidden = best === null;
      if (best !== null) node.replaceChildren(...told(view, best));
    }];
  };
  return { node, show };
}

// private

// The case with what agrees and what differs, as keys "state input", if it is nearer than the best so far.
function nearer(best, known, { one, answers }) {
  const both = [...known.keys()].filter((key) => answers.has(key));
  const differs = both.filter((key) => !alike(known.get(key), answers.get(key)));
  const agrees = both.length - differs.length;
  if (agrees < LEAST || differs.some((key) => key.endsWith(` ${SAME_FIRST}`))) return best;
  if (best !== null && agrees - differs.length <= best.agrees - best.differs.length) return best;
  return { one, agrees, differs, answers };
}

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

// Whether two answers can be the same value, or numbers that hardly differ.
function alike(one, other) {
  if (one.ids) return one.ids.some((id) => other.ids.includes(id));
  if (one.absent && other.absent) return true;
  return one.intervals.some(([low, high]) => other.intervals.some(([from, to]) =>
    Math.max(low - to, from - high) <= ALIKE * Math.max(...[low, high, from, to].map(Math.abs))));
}

function told(view, { one, agrees, differs, answers }) {
  const link = element("a", { href: `${view.base}cases/${one.id}/`, text: one.title });
  const there = differs.map((key) => {
    const [state, input] = key.split(" ");
    const text = view.inputs.get(input);
    const where = view.shared.has(input) ? "" : ` (${stateTitle(view, state)})`;
    return `${inputTitle(view, input)}${where}, there ${answerText(answers.get(key), text.unit_symbol, text.options)}`;
  });
  const more = there.splice(DIFFERENCES_SHOWN).length;
  const different = differs.length ? ` It differs in ${differs.length}: ${there.join("; ")}${more ? `; and ${more} more` : ""}.` : "";
  return ["Nearest reference case: ", link,
    `. It agrees in ${agrees} of the answers that both give, numbers within a tenth.${different}`];
}
