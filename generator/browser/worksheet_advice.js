// Gives back the cautions and the hand-over items that go with a result.

import { element } from "./form.js";

const MAY = "May apply, an answer is open: ";
const TITLES = [
  ["caution", "Cautions for this point"],
  ["hand_over", "To hand over with the sensor"],
];

// The sentences of one kind, `caution` or `hand_over`, in their order.
export function adviceLines(view, selected, kind) {
  return selected.advice
    .filter(({ id }) => view.cautions.get(id).kind === kind)
    .map(({ id, certain }) => (certain ? "" : MAY) + view.cautions.get(id).text);
}

// `makeAdvice(view)` is { node, show(selected) }.
export function makeAdvice(view) {
  const node = element("section", { class: "ws-advice", "aria-label": "Cautions and hand-over" });
  const folds = TITLES.map(([kind, title]) => {
    const summary = element("summary");
    const list = element("ul");
    node.append(element("details", { "data-advice": kind }, summary, list));
    return (selected) => {
      const lines = adviceLines(view, selected, kind);
      summary.textContent = `${title} (${lines.length})`;
      list.replaceChildren(...lines.map((text) => element("li", { text })));
    };
  });
  return { node, show: (selected) => folds.forEach((show) => show(selected)) };
}
