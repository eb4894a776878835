// Gives back the answers' side of the worksheet: a tab per operating state, and the fields of the state in
// front.
//
// The sheet is { node, show(application), report(said), limit(shows), focus(state, input) }. `listener(state, input, text)`
// is told of each change; `input` is null where the state as a whole is described, ruled out or forgotten.

import { RULED_OUT } from "./address.js";
import { element } from "./form.js";
import { makeField, suggestionLists } from "./worksheet_fields.js";

const STANDINGS = [
  ["undescribed", "not described yet"],
  ["none", "does not occur"],
  ["described", "described here"],
];

// `ruleOutAll(states)` is asked to say that none of these states occurs.
export function makeStates(pack, texts, listener, ruleOutAll) {
  const titles = new Map(texts.states.map((state) => [state.id, state]));
  const panels = pack.states.map((state, place) =>
    makePanel(pack, texts, titles.get(state.id), place === 0, listener),
  );
  const tabs = panels.map((panel, place) =>
    element("input", {
      type: "radio",
      name: "ws-state",
      id: `ws-tab-${panel.state}`,
      value: panel.state,
      checked: place === 0,
      onchange: () => front(panel.state),
    }),
  );
  const front = (id) => {
    panels.forEach((panel, place) => {
      panel.node.hidden = panel.state !== id;
      tabs[place].checked = panel.state === id;
    });
  };
  front(panels[0].state);
  const standings = panels.map(() => element("span", { class: "ws-standing" }));
  let left = []; // the states that nobody has described or ruled out
  const none = element("button", {
    type: "button",
    class: "ws-small",
    "data-no-other-state": true,
    onclick: () => {
      ruleOutAll(left);
      tabs.find((tab) => tab.checked).focus({ preventScroll: true }); // the button is gone now
    },
    text: "No other state occurs",
  });
  const node = element(
    "div",
    { class: "ws-sheet" },
    suggestionLists(pack, texts),
    element(
      "fieldset",
      { class: "ws-tabs" },
      element("legend", { text: "Operating state" }),
      tabs.map((tab, place) =>
        element(
          "div",
          { class: "ws-tab" },
          tab,
          element("label", { for: tab.id }, titles.get(panels[place].state).title, standings[place]),
        ),
      ),
      none,
    ),
    panels.map((panel) => panel.node),
  );
  const show = (application) => {
    left = panels.slice(1).map((panel) => panel.state).filter((state) => application[state] === undefined);
    none.hidden = left.length === 0;
    panels.forEach((panel, place) => {
      panel.show(application[panel.state]);
      standings[place].textContent = place === 0 ? "" : standingWords(application[panel.state]);
    });
  };
  const report = (said) => panels.forEach((panel) => panel.report(said));
  const limit = (shows) => panels.forEach((panel) => panel.limit(shows));
  const focus = (state, input) => {
    // A per-application input stands under the first state, whichever state asked for it.
    const panel =
      panels.find((one) => one.state === state && one.has(input)) ?? panels.find((one) => one.has(input));
    if (!panel) return;
    front(panel.state);
    panel.focus(input);
  };
  return { node, show, report, limit, focus, front };
}

// private

function standingOf(answers) {
  if (answers === undefined) return "undescribed";
  return answers === RULED_OUT ? "none" : "described";
}

function standingWords(answers) {
  return STANDINGS.find(([key]) => key === standingOf(answers))[1];
}

function makePanel(pack, texts, state, isFirst, listener) {
  const asked = pack.inputs.filter((input) => isFirst || input.per_state);
  const fields = new Map();
  const body = element("div", { class: "ws-groups" });
  const standing = isFirst ? null : standingChoice(state, (key) => listener(state.id, null, key));
  const copy = isFirst
    ? null
    : element("button", {
        type: "button",
        class: "ws-small",
        onclick: () => listener(state.id, null, "blanks_same"),
        text: "Take every blank from normal operation",
      });
  const head = isFirst ? null : element("div", { class: "ws-occurrence" }, standing.node, copy);
  const node = element(
    "section",
    { class: "ws-panel", "aria-label": state.title, "data-panel": state.id },
    state.help && element("p", { class: "ws-muted", text: state.help }),
    head,
    body,
  );

  // The fields of a state are made when it is first described: most applications describe two of six.
  const fill = () => {
    if (fields.size) return;
    for (const [group, members] of grouped(asked, texts)) {
      const set = element("fieldset", { class: "ws-group" }, element("legend", { text: group }));
      for (const [packInput, text] of members) {
        const field = makeField(packInput, text, state.id, isFirst, (typed) =>
          listener(state.id, packInput.id, typed),
        );
        fields.set(packInput.id, field);
        set.append(field.node);
      }
      body.append(set);
    }
  };
  const show = (answers) => {
    const described = standingOf(answers) === "described";
    if (!isFirst) standing.set(standingOf(answers));
    if (copy) copy.hidden = !described;
    body.hidden = !described && !isFirst;
    if (!body.hidden) fill();
    for (const [input, field] of fields) field.set((described && answers[input]) || "");
  };
  const report = (said) => {
    for (const [input, field] of fields) field.report(said(state.id, input));
  };
  // A field that is not shown now stays in the sheet; one that the reader is in stays before him.
  const limit = (shows) => {
    for (const [input, field] of fields) {
      field.node.hidden = !shows(state.id, input) && !field.node.contains(document.activeElement);
    }
    for (const set of body.children) set.hidden = ![...set.querySelectorAll(".ws-field")].some((one) => !one.hidden);
  };
  const has = (input) =>
    fields.size ? fields.has(input) : isFirst && asked.some((item) => item.id === input);
  const focus = (input) => {
    const { control, node: shown } = fields.get(input);
    shown.hidden = false; // whoever is sent to a question sees it
    shown.parentElement.hidden = false;
    shown.scrollIntoView({ block: "center" });
    control.focus({ preventScroll: true });
  };
  return { state: state.id, node, show, report, limit, has, focus };
}

function standingChoice(state, listener) {
  const name = `ws-standing-${state.id}`;
  const choices = STANDINGS.map(([key]) =>
    element("input", {
      type: "radio",
      name,
      id: `${name}-${key}`,
      value: key,
      onchange: () => listener(key),
    }),
  );
  const node = element(
    "fieldset",
    { class: "ws-choice" },
    element("legend", { text: `Does “${state.title}” happen at this point?` }),
    choices.map((choice, place) => element("label", {}, choice, STANDINGS[place][1])),
  );
  return {
    node,
    set: (key) =>
      choices.forEach((choice) => {
        choice.checked = choice.value === key;
      }),
  };
}

function grouped(asked, texts) {
  const groups = new Map();
  for (const packInput of asked) {
    const text = texts.inputs.find((item) => item.id === packInput.id);
    if (!groups.has(text.group)) groups.set(text.group, []);
    groups.get(text.group).push([packInput, text]);
  }
  return groups;
}
