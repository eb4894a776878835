// Gives back what a medium is mixed with: `sodium chloride brine at 5 mass %; hydrogen peroxide at 10 mass %`.
//
// Each component is a medium, and after `at` its concentration; a semicolon parts two of them. A blank and
// `none` say that the medium stands by itself. What is understood is {text, components}, a component {medium,
// concentration}, null where it is not answered, and `unknown` as in reading.js; a fault is {code, message, fix}.
// Twin of generator/answers/components.py.

import * as faults from "./faults.js";
import { CONCENTRATION, MEDIUM } from "./model.js";
import { ABSENT, BLANK, readAnswer } from "./reading.js";
import { shown, squeeze } from "./wording.js";

export const NONE = "none";
export const BETWEEN = ";"; // parts two components
export const AT = " at "; // parts a medium and its concentration
export const MOST_COMPONENTS = 8; // beside the medium itself

// The components of a typed mixture, or what is wrong with the first that cannot be read.
export function readComponents(pack, text, otherUnit = null) {
  const typed = squeeze(text);
  if (typed === "" || typed.toLowerCase() === BLANK) return { text: BLANK, components: [], unknown: [] };
  if ([NONE, ABSENT].includes(typed.toLowerCase())) return { text: NONE, components: [], unknown: [] };
  const inputs = new Map(pack.inputs.map((item) => [item.id, item]));
  const texts = [];
  const components = [], unknown = [];
  for (const part of typed.split(BETWEEN)) {
    const [medium, at, concentration] = parted(squeeze(part));
    if (medium === "") {
      return fault(`a component of '${shown(typed)}' has no name`,
        `write the medium before \`${AT.trim()}\`, and \`${BETWEEN}\` only between two components`);
    }
    const liquid = readAnswer(inputs.get(MEDIUM), medium, pack.inputs, otherUnit);
    if (liquid.code !== undefined) return liquid;
    const strength = readAnswer(inputs.get(CONCENTRATION), concentration, pack.inputs, otherUnit);
    if (strength.code !== undefined) return strength;
    components.push({ medium: liquid.answer, concentration: strength.answer });
    unknown.push(...liquid.unknown);
    texts.push(at ? `${liquid.text}${AT}${strength.text}` : liquid.text);
  }
  if (components.length > MOST_COMPONENTS) {
    return fault(`'${shown(typed)}' names ${components.length} components`,
      `name the ${MOST_COMPONENTS} that matter most; what a test has shown of the whole counts more`);
  }
  return { text: texts.join(`${BETWEEN} `), components, unknown };
}

// private

// The medium, whether a concentration follows, and the concentration.
function parted(part) {
  const place = part.lastIndexOf(AT);
  return place < 0 ? [part, false, ""] : [squeeze(part.slice(0, place)), true, part.slice(place + AT.length)];
}

function fault(message, fix) {
  return { code: faults.WRONG_MIXTURE, message, fix };
}
