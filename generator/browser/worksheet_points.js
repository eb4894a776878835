// Gives back what is still open about an application.

import { element, faultWords } from "./form.js";
import { askedFor, askedTitle, stateTitle, unknownLines } from "./worksheet_texts.js";

export const RANKED = 6; // so many of the missing answers are named, those first that most verdicts wait for

// How many verdicts an answer would help to settle, by "state input".
export function waitingFor(view, selected) {
  const counts = new Map();
  for (const result of selected.decisions.flatMap((decision) => decision.candidates)) {
    for (const [state, input] of askedFor(view, result.open_inputs)) {
      const key = `${state} ${input}`;
      counts.set(key, (counts.get(key) ?? 0) + 1);
    }
  }
  return counts;
}

// The open points as list items. `act` has jump(state, input), describe(state), ruleOut(state) and ruleOutAll(states).
export function pointItems(view, read, waiting, act) {
  const jump = (state, input, more = "") =>
    smallButton(askedTitle(view, state, input) + more, () => act.jump(state, input), {
      "data-jump": `${state} ${input}`,
    });
  const items = [
    ...read.problems.map((problem) => problemItem(view, problem, jump)),
    ...unknownLines(view, read.application).map((words) => element("li", { class: "ws-problem", text: words })),
    ...read.application.undescribed.map((state) =>
      element(
        "li",
        { "data-undescribed": state },
        `${stateTitle(view, state)}: neither described nor ruled out. `,
        smallButton("Describe it", () => act.describe(state), { "data-act": true }),
        " ",
        smallButton("It does not occur", () => act.ruleOut(state), { "data-act": true }),
      ),
    ),
  ];
  const { undescribed } = read.application;
  if (undescribed.length > 1) {
    items.push(element("li", {}, smallButton(`None of these ${undescribed.length} states occurs`,
      () => act.ruleOutAll(undescribed), { "data-act": true, "data-none-occurs": true })));
  }
  if (read.application.assumed.length) {
    const buttons = read.application.assumed.map(([state, input]) => jump(state, input));
    items.push(element("li", { class: "ws-waits" }, "Assumed, not answered: ", buttons));
  }
  const ranked = [...waiting].sort((one, other) => other[1] - one[1]).slice(0, RANKED);
  if (ranked.length) {
    const buttons = ranked.map(([key, count]) => {
      const [state, input] = key.split(" ");
      return jump(state, input, `: ${count}`);
    });
    items.push(element("li", { class: "ws-waits" }, "Answers that most verdicts wait for: ", buttons));
  }
  return items;
}

// private

function problemItem(view, problem, jump) {
  const placed = view.inputs.has(problem.input) && view.states.has(problem.state);
  return element(
    "li",
    { class: "ws-problem" },
    placed && jump(problem.state, problem.input),
    " ",
    faultWords(problem.message, problem.fix),
  );
}

function smallButton(text, onclick, more = {}) {
  return element("button", { type: "button", class: "ws-small", onclick, text, ...more });
}
