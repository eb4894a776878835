// Gives back the line of the data sheet for what a medium is mixed with: a row per component, kept as one text.

import { AT, BETWEEN } from "./engine/components.js";
import { MEDIUM, CONCENTRATION } from "./engine/model.js";
import { BLANK } from "./engine/reading.js";
import { answerText, element } from "./form.js";

// The control of a field; see worksheet_fields.js. `list` is the id of the suggestions for media.
export function mixtureControl({ text, id, list, listener }) {
  const rows = element("div", { class: "ws-components" });
  const control = element("button", {
    type: "button",
    id,
    class: "ws-small",
    text: "add a component",
    onclick: () => rows.append(row("", "")),
  });
  const texts = () =>
    [...rows.children].map((one) => [...one.querySelectorAll("input")].map((input) => input.value.trim()));
  const current = () =>
    texts()
      .filter(([medium, strength]) => medium || strength)
      .map(([medium, strength]) => (strength ? `${medium || BLANK}${AT}${strength}` : medium))
      .join(`${BETWEEN} `);
  const row = (medium, strength) => {
    const typed = (value, more) =>
      element("input", {
        type: "text", value, autocomplete: "off", spellcheck: "false", oninput: () => listener(current()), ...more,
      });
    const made = element(
      "div",
      { class: "ws-controls ws-component" },
      typed(medium, { list, placeholder: "type a name", "aria-label": `${text.title}: medium` }),
      typed(strength, { placeholder: "like 5 mass %", "aria-label": `${text.title}: concentration` }),
      element("button", {
        type: "button",
        class: "ws-small",
        text: "take out",
        onclick: () => {
          made.remove();
          listener(current());
        },
      }),
    );
    return made;
  };
  const set = (typed) => {
    if (typed !== "" && typed === current()) return; // what is being typed stays as it stands
    rows.replaceChildren(...parted(typed).map(([medium, strength]) => row(medium, strength)));
  };
  return { control, parts: [control], more: rows, set };
}

// `Sodium chloride brine at 5 mass %; Citric acid`: what the components were understood as.
export function mixtureWords(view, components) {
  const words = (answer, input) => {
    const text = view.inputs.get(input);
    return answer === null ? BLANK : answerText(answer, text.unit_symbol, text.options);
  };
  return components.map((one) => (one.concentration === null ? words(one.medium, MEDIUM)
    : `${words(one.medium, MEDIUM)}${AT}${words(one.concentration, CONCENTRATION)}`)).join(`${BETWEEN} `) || "none";
}

// Fills in the names of the components of each state that has a mixture, by "state place", for the reasons about them.
export function nameLiquids(view, application) {
  const titles = new Map(view.inputs.get(MEDIUM)?.options ?? []);
  const named = (medium) => (medium?.ids === undefined || medium.ids.length > 3
    ? "a medium that is not answered" : medium.ids.map((one) => titles.get(one)).join(" or "));
  view.liquids.clear();
  for (const { state, answers, components } of application.states) {
    if (components.length === 0) continue;
    [new Map(answers).get(MEDIUM), ...components.map((one) => one.medium)].forEach((medium, place) =>
      view.liquids.set(`${state} ${place + 1}`, named(medium)));
  }
}

// private

function parted(typed) {
  return typed.split(BETWEEN).map((part) => part.trim()).filter(Boolean).map((part) => {
    const place = part.lastIndexOf(AT);
    return place < 0 ? [part, ""] : [part.slice(0, place).trim(), part.slice(place + AT.length).trim()];
  });
}
