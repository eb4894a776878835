// Gives back the concessions of an application: signed departures from a verdict, for a time.
//
// `concessions` is a list of {decision, candidate, reason, approver, until}, each perhaps with the `rule` or the
// `state` that it is about. They never change a verdict. A fault of one is [where, "key" or "value", {code,
// message, fix}], where `2.reason`, `2` or nothing. Twin of generator/answers/concessions.py.

import * as faults from "./faults.js";
import { instead } from "./pins.js";
import { shown, squeeze } from "./wording.js";

export const CONCESSIONS = "concessions"; // where they stand in an application, beside its states
export const KEYS = ["decision", "candidate", "rule", "state", "reason", "approver", "until"];
export const NEEDED = ["decision", "candidate", "reason", "approver", "until"];

const DAY = /^([0-9]{4})-([0-9]{2})-([0-9]{2})$/;
const FORM = `{${NEEDED.map((key) => `${key}: ...`).join(", ")}}`;

// The concessions in the order given, as far as they can be read, and what is wrong with the others: [read,
// faults].
export function readConcessions(pack, given) {
  if (!Array.isArray(given)) {
    return [[], [["", "value", fault(faults.WRONG_SHAPE, `\`${CONCESSIONS}\` is not a list`,
      `write \`${CONCESSIONS}: [${FORM}]\``)]]];
  }
  const read = [], found = [];
  given.forEach((item, place) => {
    const wrong = faultsOf(pack, item);
    found.push(...wrong.map(([key, part, one]) => [key ? `${place}.${key}` : String(place), part, one]));
    if (wrong.length > 0) return;
    const told = Object.fromEntries(Object.entries(item).map(([key, text]) => [key, squeeze(text)]));
    const decision = pack.decisions.find((one) => one.id === told.decision);
    read.push({ rule: "", state: "", ...told, candidate: named(decision, told.candidate).id });
  });
  return [read, found];
}

// Whether the text is a day of the calendar, written 2026-12-31.
export function isDay(text) {
  const found = DAY.exec(text);
  if (found === null) return false;
  const [year, month, day] = found.slice(1).map(Number);
  const leap = year % 4 === 0 && (year % 100 !== 0 || year % 400 === 0);
  const days = [31, leap ? 29 : 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31];
  return month >= 1 && month <= 12 && day >= 1 && day <= days[month - 1];
}

// private

function faultsOf(pack, item) {
  if (typeof item !== "object" || item === null || Array.isArray(item)) {
    return [["", "value", fault(faults.WRONG_SHAPE, "a concession is written as keys with values",
      `write \`${FORM}\``)]];
  }
  const has = (key) => Object.hasOwn(item, key);
  const found = Object.keys(item).filter((key) => !KEYS.includes(key)).map((key) => [key, "key",
    fault(faults.CONCESSION, `a concession has no key '${shown(key)}'`, instead(key, KEYS))]);
  for (const key of NEEDED) {
    if (!has(key)) {
      found.push(["", "value", fault(faults.CONCESSION, `the concession has no \`${key}\``, `add \`${key}: ...\``)]);
    }
  }
  for (const key of KEYS) {
    if (has(key) && typeof item[key] !== "string") {
      found.push([key, "value", fault(faults.WRONG_SHAPE, `the \`${key}\` of a concession is not a text`,
        `write \`${key}: ...\``)]);
    } else if (has(key)) {
      const wrong = valueFault(pack, item, key, squeeze(item[key]));
      if (wrong !== null) found.push([key, "value", wrong]);
    }
  }
  return found;
}

function valueFault(pack, item, key, text) {
  if (text === "") {
    return fault(faults.CONCESSION, `the \`${key}\` of a concession is empty`,
      NEEDED.includes(key) ? `write \`${key}: ...\`` : `write it, or delete \`${key}\``);
  }
  if (key === "until" && !isDay(text)) {
    return fault(faults.CONCESSION, `'${shown(text)}' is not a day`, "write year-month-day: 2026-12-31");
  }
  if (["reason", "approver", "until"].includes(key)) return null;
  if (key === "candidate") {
    const decision = pack.decisions.find((one) => one.id === item.decision);
    if (decision === undefined || named(decision, text) !== undefined) return null;
    return fault(faults.CONCESSION, `'${shown(text)}' is not a candidate of '${shown(item.decision)}'`,
      instead(text, decision.candidates.map((one) => one.id)));
  }
  const words = known(pack, key, text);
  if (words.includes(text)) return null;
  return fault(faults.CONCESSION, `'${shown(text)}' is not a ${key} of this guide`, instead(text, words));
}

// The words that a key may have.
function known(pack, key, text) {
  if (key === "decision") return pack.decisions.map((decision) => decision.id);
  if (key === "state") return pack.states.map((state) => state.id);
  // Of thousands of rules only those of its table are worth a comparison.
  const tables = pack.tables.filter((table) => text.startsWith(`${table.id}.`));
  const rules = tables.flatMap((table) => table.rows.map((row) => row.rule));
  rules.push(...tables.map((table) => `${table.id}.no_value`));
  return rules.length > 0 ? [...new Set(rules)] : pack.tables.map((table) => table.id);
}

function named(decision, text) {
  return decision.candidates.find((option) => [option.id, ...option.spellings].includes(text.toLowerCase()));
}

function fault(code, message, fix) {
  return { code, message, fix };
}
