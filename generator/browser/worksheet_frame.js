// Gives back the two sides of the worksheet as one element: what is known, and what follows.

import { element } from "./form.js";

// `tools`, `start` and `states` are { node }, `verdicts` the elements of the side that answers, `printed` the paper.
export function frame(tools, start, states, verdicts, printed) {
  const results = element(
    "section",
    { class: "ws-results", tabindex: "-1", "aria-label": "Verdicts" },
    element("h2", { text: "What follows" }),
    verdicts,
  );
  const jump = () => {
    results.scrollIntoView();
    results.focus({ preventScroll: true });
  };
  const button = element("button", {
    type: "button",
    class: "ws-jump",
    onclick: jump,
    text: "To the verdicts",
  });
  new IntersectionObserver(([seen]) => button.classList.toggle("ws-there", seen.isIntersecting)).observe(
    results,
  );
  return element(
    "div",
    { class: "ws" },
    tools.node,
    element(
      "div",
      { class: "ws-sides" },
      element(
        "section",
        { class: "ws-answers", "aria-label": "Answers" },
        element("h2", { text: "What is known" }),
        start.node,
        states.node,
      ),
      results,
    ),
    button,
    printed,
  );
}

// The page lists the cautions for readers without JavaScript too; here they are only pointed at.
export function cautionsLink() {
  const list = document.getElementById("cautions");
  const jump = (event) => {
    event.preventDefault(); // the address holds the application
    list.scrollIntoView();
  };
  const link = element("a", {
    href: "#cautions",
    onclick: jump,
    text: "the cautions at the end of this page",
  });
  return list && element("p", { class: "ws-cautions" }, "Before you rely on any of this, read ", link, ".");
}
