// Gives back the offer of a starter sheet: the answers that a duty brings with it, once its medium has been typed.
//
// `makeStarter(pack, texts, fill)` is { node, show(application, answers) }: `answers` are those understood, by "state input",
// and `fill(application, starter)` is called with the application in which the starter's answers fill the blanks.

import { RULED_OUT } from "./address.js";
import { MEDIUM } from "./engine/model.js";
import { readAnswer } from "./engine/reading.js";
import { element } from "./form.js";
import { copyOf } from "./worksheet_application.js";

export function makeStarter(pack, texts, fill) {
  const item = pack.inputs.find((one) => one.id === MEDIUM);
  const state = pack.states[0].id;
  let offered = null; // the application that the button fills in, and whose answers they are
  const words = element("span");
  const button = element("button", {
    type: "button",
    class: "ws-small",
    "data-starter": true,
    onclick: () => {
      fill(...offered);
      document.getElementById(`ws-${state}-${MEDIUM}`)?.focus({ preventScroll: true }); // the button is gone now
    },
  });
  const node = element("p", { class: "ws-starter", role: "status", hidden: true }, words, " ", button);
  const show = (application, answers) => {
    const ids = answers.get(`${state} ${MEDIUM}`)?.ids ?? [];
    const found = ids.length === 1 && texts.starters.find((one) => mediumOf(item, one, state) === ids[0]);
    const [filled, count] = found ? filledFrom(application, found) : [application, 0];
    node.hidden = count === 0;
    if (node.hidden) return;
    offered = [filled, found];
    say(words, `There is a starter sheet for this medium: ${found.title}.`);
    say(button, count === 1 ? "Fill in the answer it brings" : `Fill in the ${count} answers it brings`);
  };
  return { node, show };
}

// The application with the starter's answers in its blanks, and how many they are: what was typed stays.
export function filledFrom(application, starter) {
  const copy = copyOf(application);
  let count = 0;
  for (const [state, answers] of starter.application) {
    if (answers === null && copy[state] === undefined) {
      copy[state] = RULED_OUT;
      count += 1;
    }
    if (answers === null || copy[state] === RULED_OUT) continue;
    copy[state] ??= Object.create(null);
    for (const [input, text] of answers) {
      if (copy[state][input] !== undefined) continue;
      copy[state][input] = text;
      count += 1;
    }
  }
  return [copy, count];
}

// private

// What is said already is not said again: the line is spoken.
function say(node, text) {
  if (node.textContent !== text) node.textContent = text;
}

function mediumOf(item, starter, state) {
  const typed = new Map(starter.application.find(([one]) => one === state)?.[1] ?? []).get(MEDIUM);
  return typed === undefined ? null : readAnswer(item, typed).answer?.ids[0];
}
