// Gives back one field of the data sheet: a control, its unit, what was understood, and help. It knows typed
// text only.
//
// A field is { node, control, set(text), report(said) }. `listener(text)` is called whenever its text has
// changed. `said` is { fault, fix } or { understood } or { blank, wanted }: the line beneath the control.

import { MEDIUM, MIXED_WITH, NOT_APPLICABLE } from "./engine/model.js";
import { readAnswer } from "./engine/reading.js";
import { element, faultWords, unitChoices, unitsInWords } from "./form.js";
import { makeUnitField } from "./unit_field.js";
import { mixtureControl } from "./worksheet_mixture.js";

export const SAME = "same";
const SELECT_AT_MOST = 12; // longer lists are typed, with suggestions
const SEVERAL = "*several";
const ABSENT = "not applicable";
const TOLD = new WeakMap(); // what stands beneath each field

export function makeField(packInput, text, state, isFirstState, listener) {
  const id = `ws-${state}-${packInput.id}`;
  const said = element("p", { class: "ws-said", id: `${id}-said` });
  const kind =
    packInput.kind === "number"
      ? numberControl
      : packInput.id === MIXED_WITH
        ? mixtureControl
        : packInput.options.length > SELECT_AT_MOST
          ? typedControl
          : chosenControl;
  const sameAllowed = packInput.per_state && !isFirstState;
  const made = kind({ packInput, text, id, list: listId({ id: MEDIUM }), sameAllowed, listener });
  made.control.setAttribute("aria-describedby", said.id);
  const node = element(
    "div",
    { class: "ws-field", "data-input": packInput.id, "data-state": state },
    element(
      "div",
      { class: "ws-label" },
      element("label", { for: id, text: text.title }),
      helpOf(packInput, text),
    ),
    element(
      "div",
      { class: "ws-controls" },
      made.parts,
      sameAllowed &&
        element("button", {
          type: "button",
          class: "ws-small",
          title: "Take the answer of normal operation",
          onclick: () => {
            made.set(SAME);
            listener(SAME);
          },
          text: "as normal",
        }),
    ),
    made.more,
    said,
  );
  return {
    node,
    control: made.control,
    set: made.set,
    report: (what) => report(node, made.control, said, text, what),
  };
}

// The suggestions of every input that is typed; placed once in the page.
export function suggestionLists(pack, texts) {
  const items = new Map(
    [...texts.media.map((medium) => medium.item), ...texts.pipe_sizes].map((item) => [
      item.id,
      item.synonyms,
    ]),
  );
  return pack.inputs
    .filter((item) => item.kind !== "number" && item.options.length > SELECT_AT_MOST)
    .map((packInput) => {
      const titles = texts.inputs.find((item) => item.id === packInput.id).options;
      return element(
        "datalist",
        { id: listId(packInput) },
        titles.flatMap(([id, title]) => [
          element("option", { value: title }),
          ...(items.get(id) ?? []).map((synonym) =>
            element("option", { value: synonym, label: title, text: title }),
          ),
        ]),
      );
    });
}

// private

function listId(packInput) {
  return `ws-list-${packInput.id}`;
}

function helpOf(packInput, text) {
  const shown = text.asked_of ? `ask: ${text.asked_of}` : "about";
  return element(
    "details",
    { class: "ws-help" },
    element("summary", { "aria-label": `${shown}, about ${text.title}`, text: shown }),
    element("p", { text: text.help }),
    text.blank && element("p", {}, element("strong", { text: "Left blank: " }), text.blank),
    text.units.length > 1 &&
      element("p", {
        class: "ws-muted",
        text: `Units, and how to type them: ${unitsInWords(packInput, text)}`,
      }),
  );
}

function numberControl({ packInput, text, id, listener }) {
  const choices = unitChoices(packInput, text.units, text.unit_symbol);
  const field = { asked: packInput, choices, id, title: text.title, listener };
  const { control, unit, set } = makeUnitField(field);
  return { control, parts: [control, unit], more: null, set };
}

function typedControl({ packInput, id, listener }) {
  const control = element("input", {
    id,
    type: "text",
    list: listId(packInput),
    autocomplete: "off",
    spellcheck: "false",
    placeholder: "type a name",
  });
  control.addEventListener("input", () => listener(control.value.trim()));
  return {
    control,
    parts: [control],
    more: null,
    set: (typed) => {
      control.value = typed;
    },
  };
}

function chosenControl({ packInput, text, id, sameAllowed, listener }) {
  const titles = new Map(text.options);
  const ids = packInput.options.map((option) => option.id);
  const option = (value, label) => element("option", { value, text: label });
  const control = element(
    "select",
    { id },
    option("", "not answered"),
    ids.map((choice) => option(choice, titles.get(choice) ?? choice)),
    ids.length > 2 && option(SEVERAL, "one of several …"),
    packInput.may_be_absent && option(ABSENT, ABSENT),
    sameAllowed && option(SAME, "same as normal"),
  );
  const boxes = ids.map((choice) =>
    element("input", { type: "checkbox", value: choice, id: `${id}-${choice}` }),
  );
  const several = element(
    "fieldset",
    { class: "ws-several", hidden: true },
    element("legend", { text: `${text.title}: one of` }),
    boxes.map((box) => element("label", {}, box, titles.get(box.value) ?? box.value)),
  );
  const current = () =>
    control.value === SEVERAL
      ? boxes
          .filter((box) => box.checked)
          .map((box) => box.value)
          .join(" or ")
      : control.value;
  const set = (typed) => {
    const found = idsIn(packInput, typed);
    for (const extra of control.querySelectorAll("[data-typed]")) extra.remove();
    several.hidden = found.length < 2;
    for (const box of boxes) box.checked = found.includes(box.value);
    if (found.length > 1) control.value = SEVERAL;
    else control.value = found[0] ?? typed;
    if (control.value !== (found.length > 1 ? SEVERAL : (found[0] ?? typed))) {
      // What cannot be chosen here, from an address say, stays visible with its fault.
      control.append(element("option", { value: typed, text: typed, "data-typed": true }));
      control.value = typed;
    }
  };
  control.addEventListener("change", () => {
    several.hidden = control.value !== SEVERAL;
    listener(current());
    if (!several.hidden) boxes[0].focus();
  });
  for (const box of boxes) box.addEventListener("change", () => listener(current()));
  return { control, parts: [control], more: several, set };
}

// The ids that a typed answer names; none where it is no answer to this input.
function idsIn(packInput, typed) {
  const ids = readAnswer(packInput, typed).answer?.ids ?? [];
  return ids.includes(NOT_APPLICABLE) ? [] : ids;
}

function report(node, control, said, text, what) {
  const words = JSON.stringify(what);
  if (TOLD.get(said) === words) return; // one answer changes few of a hundred fields
  TOLD.set(said, words);
  const fault = what.fault !== undefined;
  node.classList.toggle("ws-faulty", fault);
  node.classList.toggle("ws-wanted", Boolean(what.wanted));
  if (fault) control.setAttribute("aria-invalid", "true");
  else control.removeAttribute("aria-invalid");
  const parts = fault
    ? faultWords(what.fault, what.fix)
    : what.understood !== undefined
      ? [element("span", { class: "ws-muted", text: "understood: " }), what.understood]
      : [
          what.wanted
            ? `${what.wanted} ${what.wanted === 1 ? "verdict waits" : "verdicts wait"} for this`
            : "",
        ];
  if (what.assumed) parts.push(element("em", { text: " (assumed, not answered)" }));
  said.replaceChildren(...parts.flat());
}
