// Gives back the block of concessions: each beside the verdict that it departs from, and a form for a new one.
//
// `makeConcessions(view, act)` is { node, show(conceded, problems) }; `act` has add(concession) and
// remove(place). A concession never changes a verdict.

import { element } from "./form.js";
import { EXPIRED, HOLDS } from "./engine/conceded.js";

const TEXTS = [
  ["reason", "Reason"],
  ["approver", "Approved by"],
];

export function makeConcessions(view, act) {
  const list = element("ul", { class: "ws-conceded" });
  const message = element("p", { class: "ws-message", role: "status" });
  const summary = element("summary", { text: "Concessions" });
  const node = element(
    "section",
    { class: "ws-concessions", "aria-label": "Concessions" },
    element("details", {}, summary, list, formOf(view, act), message),
  );
  const show = (conceded, problems) => {
    summary.textContent = conceded.length ? `Concessions (${conceded.length})` : "Concessions";
    list.replaceChildren(...conceded.map((one, place) => lineOf(view, act, one, place)));
    message.textContent = problems.map(({ message: said, fix }) => `${said}: ${fix}`).join("; ");
    if (problems.length > 0) node.firstChild.open = true;
  };
  return { node, show };
}

// `Liner PFA: unsuitable; conceded by A. Person until 2027-06-30: reason`, as generator/render/concession_words.py.
export function concessionLine(view, { concession, verdict, standing }) {
  const { decision, candidate, rule, state, reason, approver, until } = concession;
  const what = `${view.decisions.get(decision).title} ${view.titles.get(`${decision} ${candidate}`)}: ${verdict}`;
  if (standing === HOLDS) return `${what}; conceded by ${approver} until ${until}: ${reason}`;
  if (standing === EXPIRED) return `${what}; the concession by ${approver} expired on ${until}: ${reason}`;
  const against = [rule, state].filter(Boolean).join(" and ");
  const why = against && verdict !== "suitable" ? `${against} does not stand against it` : "it departs from nothing";
  return `${what}; the concession by ${approver} until ${until} is needless: ${why}`;
}

// private

function lineOf(view, act, one, place) {
  const remove = element("button", {
    type: "button",
    class: "ws-small",
    "aria-label": `Remove concession ${place + 1}`,
    onclick: () => act.remove(place),
    text: "Remove",
  });
  return element("li", { "data-standing": one.standing }, concessionLine(view, one), " ", remove);
}

function formOf(view, act) {
  const choices = [...view.titles].map(([key, title]) =>
    element("option", { value: key, text: `${view.decisions.get(key.split(" ")[0]).title}: ${title}` }),
  );
  const candidate = element("select", { id: "ws-concede-candidate" }, choices);
  const texts = TEXTS.map(([key]) => element("input", { type: "text", id: `ws-concede-${key}`, required: true }));
  const until = element("input", { type: "date", id: "ws-concede-until", required: true });
  const field = (label, control) =>
    element("div", { class: "ws-tool" }, element("label", { for: control.id, text: label }), control);
  const submit = (event) => {
    event.preventDefault();
    const [decision, id] = candidate.value.split(" ");
    const [reason, approver] = texts.map((one) => one.value.trim());
    act.add({ decision, candidate: id, reason, approver, until: until.value });
    form.reset();
  };
  const form = element(
    "form",
    { class: "ws-concede", onsubmit: submit },
    field("Candidate", candidate),
    TEXTS.map(([, label], place) => field(label, texts[place])),
    field("Until", until),
    element("button", { class: "ws-button", text: "Add the concession" }),
  );
  return form;
}
