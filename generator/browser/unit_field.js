// Gives back the control for a number with its unit, as the worksheet and the calculators have it.
//
// A typed unit moves into the selector and belongs to the text it came with: when that text is emptied or
// wholly retyped, the selector goes back to the unit that a person chose in it, or else to the first one.

import { element, joinAnswer, splitAnswer } from "./form.js";

// { control, unit, set(text) }. `asked` is an input of the pack, `choices` come from unitChoices, `id` and
// `title` name the control. `listener(text)` is called with the answer as typed, whenever it may have
// changed.
export function makeUnitField({ asked, choices, id, title, listener }) {
  const control = element("input", {
    id,
    type: "text",
    inputmode: "decimal",
    autocomplete: "off",
    spellcheck: "false",
  });
  const selector =
    choices.length > 1 &&
    element(
      "select",
      { "aria-label": `Unit of ${title}`, class: "ws-unit" },
      choices.map((choice) => element("option", { value: choice.spelling, text: choice.label })),
    );
  const only = choices.length === 1 && asked.unit !== "1" && choices[0];
  const own = choices[0]?.spelling ?? asked.unit;
  let chosen = null; // the unit that a person chose by hand
  let retyped = false;

  const current = () => joinAnswer(control.value, selector ? selector.value : own);
  const unitTo = (spelling) => {
    if (selector) selector.value = spelling;
  };
  const place = (typed) => {
    const { text, unit } = splitAnswer(asked, choices, typed);
    control.value = text;
    if (unit) unitTo(unit);
  };
  const set = (typed) => {
    if (typed === current()) return; // what stands here already keeps the unit that was chosen by hand
    chosen = null;
    unitTo(own);
    place(typed);
  };
  control.addEventListener("beforeinput", () => {
    retyped = control.selectionStart === 0 && control.selectionEnd === control.value.length;
  });
  control.addEventListener("input", () => {
    if (retyped || control.value.trim() === "") unitTo(chosen ?? own);
    retyped = false;
    listener(current());
  });
  control.addEventListener("change", () => {
    place(control.value.trim());
    listener(current());
  });
  if (selector) {
    selector.addEventListener("change", () => {
      chosen = selector.value;
      listener(current());
    });
  }
  const unit = selector || (only && element("span", { class: "ws-unit", text: only.label }));
  return { control, unit, set };
}
