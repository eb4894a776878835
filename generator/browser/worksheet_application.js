// Gives back applications as the worksheet keeps them: { id, title, <state>: { <input>: text } | "none" }.

import { RULED_OUT } from "./address.js";
import { CONCESSIONS } from "./engine/concessions.js";

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

// The same with other concessions.
export function withConcessions(application, concessions) {
  const copy = copyOf(application);
  if (concessions.length > 0) copy[CONCESSIONS] = concessions;
  else delete copy[CONCESSIONS];
  return copy;
}

// Today as 2026-12-31, by the reader's own calendar.
export function today(now = new Date()) {
  const two = (number) => String(number).padStart(2, "0");
  return `${now.getFullYear()}-${two(now.getMonth() + 1)}-${two(now.getDate())}`;
}

export function copyOf(application) {
  const copy = Object.create(null);
  for (const [key, value] of Object.entries(application)) {
    if (Array.isArray(value)) copy[key] = value.map((one) => ({ ...one }));
    else copy[key] = typeof value === "object" ? Object.assign(Object.create(null), value) : value;
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
  if (one.concessions.length > 0) made[CONCESSIONS] = one.concessions.map((each) => ({ ...each }));
  return made;
}
