// Gives back applications as the worksheet keeps them: { id, title, <state>: { <input>: text } | "none" }.

import { RULED_OUT } from "./address.js";

// One that says nothing yet.
export function blank(stateIds) {
  const made = Object.create(null);
  made[stateIds[0]] = Object.create(null);
  return made;
}

// The inputs that each state answers for itself, of those answered here.
export function answeredPerState(pack, answers) {
  return pack.inputs.filter((one) => one.per_state && answers[one.id] !== undefined).map((one) => one.id);
}

export function copyOf(application) {
  const copy = Object.create(null);
  for (const [key, value] of Object.entries(application)) {
    copy[key] = typeof value === "object" ? Object.assign(Object.create(null), value) : value;
  }
  return copy;
}

// A reference case as an application: what is ruled out is null there.
export function exampleApplication(one) {
  const made = Object.assign(Object.create(null), { id: one.id, title: one.title });
  for (const [state, answers] of one.application) {
    made[state] =
      answers === null ? RULED_OUT : Object.assign(Object.create(null), Object.fromEntries(answers));
  }
  return made;
}
