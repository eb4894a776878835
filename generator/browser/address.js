// Gives back an application as the readable part of an address, and as the file that `guide select` reads.
//
// An application is { id, title, <state>: { <input>: text } | "none" }, as engine/application.js reads it. In
// the address: #title=Intake&pin.liner=pfa&normal.temperature_max=80+degC&cleaning=described&steaming=none

import { CONCESSIONS } from "./engine/concessions.js";
import { PINNED } from "./engine/pins.js";

export const RULED_OUT = "none";
const PIN = "pin"; // in the address: pin.liner=ptfe
const CONCESSION = /^concession\.([1-9][0-9]?)\.(.+)$/; // in the address: concession.1.candidate=ptfe
const DESCRIBED = "described";
const READABLE = { "%20": "+", "%2F": "/", "%3A": ":", "%2C": ",", "%3B": ";", "%40": "@" };
// What YAML reads as plain text whatever its neighbours: no sign of its own at the start or after a blank.
const PLAIN_YAML = /^[A-Za-z0-9][\w./%³°µ+()-]*(?: [\w./%³°µ+()-]+)*$/;

// The part of the address after `#`, without it. Blank answers are left out.
export function fragmentOf(application, stateIds) {
  const parts = [];
  for (const key of ["id", "title"]) if (application[key]) parts.push([key, application[key]]);
  for (const state of statesIn(application, stateIds)) {
    const answers = application[state];
    if (answers === RULED_OUT) {
      parts.push([state, RULED_OUT]);
      continue;
    }
    const given = Object.entries(answers).filter(([, text]) => text !== "");
    if (!given.length && state !== stateIds[0] && state !== PINNED) parts.push([state, DESCRIBED]);
    const group = state === PINNED ? PIN : state;
    for (const [input, text] of given) parts.push([`${group}.${input}`, text]);
  }
  for (const [place, one] of (application[CONCESSIONS] ?? []).entries()) {
    for (const [key, text] of Object.entries(one)) parts.push([`concession.${place + 1}.${key}`, text]);
  }
  return parts.map(([key, text]) => `${readable(key)}=${readable(text)}`).join("&");
}

// The application of an address, or null if the fragment holds none (an ordinary anchor, or nothing).
export function applicationOf(fragment, stateIds) {
  const text = fragment.replace(/^#/, "");
  if (!text.includes("=")) return null;
  const application = Object.create(null);
  application[stateIds[0]] = Object.create(null);
  for (const [key, value] of new URLSearchParams(text)) {
    const dot = key.indexOf(".");
    const conceded = CONCESSION.exec(key);
    if (conceded !== null) {
      application[CONCESSIONS] ??= [];
      const place = Math.min(Number(conceded[1]) - 1, application[CONCESSIONS].length);
      application[CONCESSIONS][place] = { ...application[CONCESSIONS][place], [conceded[2]]: value };
    } else if (dot > 0) {
      const state = key.slice(0, dot) === PIN ? PINNED : key.slice(0, dot);
      if (typeof application[state] !== "object") application[state] = Object.create(null);
      application[state][key.slice(dot + 1)] = value;
    } else if (key === "id" || key === "title") {
      application[key] = value;
    } else {
      application[key] = value === DESCRIBED ? (application[key] ?? Object.create(null)) : value;
    }
  }
  return application;
}

// The application as a YAML file.
export function applicationFile(application, stateIds) {
  const lines = [
    `id: ${identifier(application)}`,
    `title: ${yamlText(application.title || "Measuring point")}`,
  ];
  for (const state of statesIn(application, stateIds)) {
    const answers = application[state];
    if (answers === RULED_OUT) {
      lines.push(`${state}: ${RULED_OUT}`);
      continue;
    }
    const given = Object.entries(answers).filter(([, text]) => text !== "");
    lines.push(given.length ? `${state}:` : `${state}: {}`);
    for (const [input, text] of given) lines.push(`  ${input}: ${yamlText(text)}`);
  }
  if (application[CONCESSIONS]?.length) lines.push(`${CONCESSIONS}:`);
  for (const one of application[CONCESSIONS] ?? []) {
    const pairs = Object.entries(one).map(([key, text]) => `${key}: ${JSON.stringify(text)}`);
    lines.push(`  - {${pairs.join(", ")}}`);
  }
  return `${lines.join("\n")}\n`;
}

// The application's id, or one made of its title.
export function identifier(application) {
  const made = (application.id || application.title || "").toLowerCase().replace(/[^a-z0-9]+/g, "_");
  return made.replace(/^[_0-9]+|_+$/g, "") || "measuring_point";
}

// Text as it stands in an address: escaped only where an address needs it.
export function readable(text) {
  return encodeURIComponent(text).replace(/%(?:20|2F|3A|2C|3B|40)/g, (code) => READABLE[code]);
}

// private

function statesIn(application, stateIds) {
  const known = stateIds.filter((state) => application[state] !== undefined);
  const unknown = Object.keys(application).filter((key) => !["id", "title", CONCESSIONS, ...stateIds].includes(key));
  return [...known, ...unknown.filter((key) => typeof application[key] === "object")];
}

function yamlText(text) {
  return PLAIN_YAML.test(text) ? text : JSON.stringify(text);
}
