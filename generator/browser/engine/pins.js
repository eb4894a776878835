// Gives back the candidates that an application keeps whatever else is chosen: `pinned: {liner: ptfe}`.
//
// A pin is [decision, typed, candidate], a fault of one [decision, "key" or "value", {code, message, fix}].
// Twin of generator/answers/pins.py.

import * as faults from "./faults.js";
import { LISTED } from "./figures.js";
import { nearest, shown, squeeze } from "./wording.js";

export const PINNED = "pinned"; // where it stands in an application, beside its states

// The pinned candidates in the order of the decisions, by id or by any name that the guide gives them: [pins,
// faults].
export function readPins(pack, given) {
  const decisions = pack.decisions.map((decision) => decision.id);
  const found = [...given.keys()].filter((name) => !decisions.includes(name)).map((name) => [name, "key",
    fault(faults.UNKNOWN_PIN, `there is no decision '${shown(name)}' to pin a candidate of`,
      instead(name, decisions))]);
  const pins = [];
  for (const decision of pack.decisions) {
    const typed = given.has(decision.id) ? given.get(decision.id) : "";
    if (typeof typed !== "string") {
      found.push([decision.id, "value", fault(
        faults.WRONG_SHAPE, `the pinned candidate of '${decision.id}' is not a text`, "name one candidate")]);
    } else if (squeeze(typed) !== "") {
      const option = named(decision, squeeze(typed));
      if (option === undefined) {
        found.push([decision.id, "value", fault(
          faults.UNKNOWN_PIN, `'${shown(typed)}' is not a candidate of '${decision.id}'`,
          instead(typed, decision.candidates.map((one) => one.id)))]);
      } else {
        pins.push([decision.id, squeeze(typed), option.id]);
      }
    }
  }
  return [pins, found];
}

// The advice to write the nearest known word, or one of those there are.
export function instead(name, known) {
  const near = nearest(name, known);
  if (near !== null) return `did you mean \`${near}\`?`;
  const listed = known.slice(0, LISTED).map((word) => `\`${word}\``).join(", ");
  return `use one of: ${listed}${known.length > LISTED ? ", ..." : ""}`;
}

// private

function named(decision, typed) {
  return decision.candidates.find((option) => [option.id, ...option.spellings].includes(typed.toLowerCase()));
}

function fault(code, message, fix) {
  return { code, message, fix };
}
