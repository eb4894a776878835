// Gives back the set that a typed answer stands for, and how it was understood; or what to type instead.
//
// `80 degC`, `60 to 80 degC`, `pfa`, `PFA or PTFE`, `not applicable`, `not answered`. Units are
// case-sensitive, choices are not. What is understood is {text, answer}, `answer` null where nothing was
// answered; a fault is {code, message, fix}. Twin of generator/answers/reading.py.

import * as faults from "./faults.js";
import { LISTED, example, readNumber, readUnit, splitFigure, withUnit } from "./figures.js";
import { NOT_APPLICABLE } from "./model.js";
import { plainText } from "./numbers.js";
import { nearest, shown, squeeze } from "./wording.js";

export const BLANK = "not answered";
export const ABSENT = "not applicable";
export const UNLISTED = "unlisted"; // the option for what the guide does not hold
const FALSE_FRIENDS = new Map([["yes", "yes"], ["y", "yes"], ["true", "yes"], ["on", "yes"],
  ["no", "no"], ["n", "no"], ["false", "no"], ["off", "no"]]);

// What a typed answer to `item` means.
//
// `inputs` are all inputs of the pack: a unit of another quantity is then named as such. `otherUnit` gives
// the exact conversion [n, k, d] of a spelling that the vocabulary does not hold to a unit, or null.
export function readAnswer(item, text, inputs = [], otherUnit = null) {
  const typed = squeeze(text);
  if (typed === "" || typed.toLowerCase() === BLANK) return understood(BLANK, null);
  if (typed.toLowerCase() === ABSENT) {
    if (!item.may_be_absent) {
      return fault(faults.NOT_ALLOWED, `'${item.id}' always applies`,
        "type an answer, or leave it out if it is not known");
    }
    const absent = item.kind === "number" ? { intervals: [], absent: true } : { ids: [NOT_APPLICABLE] };
    return understood(ABSENT, absent);
  }
  if (item.kind === "choice") return readChoice(item, typed);
  if (typed.includes(" or ")) {
    return fault(faults.NOT_A_NUMBER, `'${shown(typed)}' names several numbers`,
      "write the two ends between which it lies, like `60 to 80`, and the unit");
  }
  const between = typed.indexOf(" to ");
  if (between >= 0) {
    const first = splitFigure(typed.slice(0, between)), second = splitFigure(typed.slice(between + 4));
    return readBetween(item, typed, first, second, inputs, otherUnit);
  }
  const figure = splitFigure(typed);
  if (figure === null) {
    return fault(faults.NOT_A_NUMBER, `'${shown(typed)}' is not a number with its unit`,
      `write it like \`${example(item)}\``);
  }
  const [number, conversion] = readFigure(item, figure, figure.number, inputs, otherUnit);
  if (isFault(number)) return number;
  return understood(withNote(withUnit(plainText(number), item.unit), conversion),
    { intervals: [[number, number]], absent: false });
}

// private

// The number and how it was converted; `lacking` is what a missing unit has to follow.
//
// The faults of the number come first: what follows a space within a number looks like a unit.
function readFigure(item, figure, lacking, inputs, otherUnit) {
  const none = { spelling: "", n: 1, k: 0, d: 1, note: "" };
  const spelt = readNumber(item, figure, none);
  if (isFault(spelt) && spelt.code !== faults.OUTSIDE_RANGE) return [spelt, none];
  const conversion = readUnit(item, figure.unit, lacking, inputs, otherUnit);
  if (isFault(conversion)) return [conversion, none];
  return [readNumber(item, figure, conversion), conversion];
}

function readBetween(item, typed, first, second, inputs, otherUnit) {
  if (first === null || second === null) {
    return fault(faults.NOT_A_NUMBER, `'${shown(typed)}' does not name two numbers`,
      `write the two ends as \`${plainText(item.low)} to ${example(item)}\``);
  }
  const begin = { number: first.number, unit: first.unit || second.unit };
  const [low] = readFigure(item, begin, typed, inputs, otherUnit);
  if (isFault(low)) return low;
  const [high, conversion] = readFigure(item, second, second.number, inputs, otherUnit);
  if (isFault(high)) return high;
  if (low > high) {
    const turned = first.unit && second.unit ? `${second.number} ${second.unit}` : second.number;
    return fault(faults.WRONG_WAY_ROUND, `'${shown(typed)}' begins above its end`,
      `write \`${shown(`${turned} to ${begin.number} ${begin.unit}`)}\``);
  }
  const ends = low === high ? plainText(low) : `${plainText(low)} to ${plainText(high)}`;
  return understood(withNote(withUnit(ends, item.unit), conversion),
    { intervals: [[low, high]], absent: false });
}

function withNote(text, conversion) {
  return conversion.note ? `${text} (${conversion.note})` : text;
}

function readChoice(item, typed) {
  const parts = typed.split(" or ");
  const chosen = new Set();
  let at = 0;
  while (at < parts.length) {
    let name = "", found = [], end = parts.length;
    // The longest name first: a title may hold the word `or` itself.
    for (; end > at; end -= 1) {
      name = parts.slice(at, end).join(" or ");
      found = findOptions(item, name);
      if (found.length > 0) break;
    }
    if (found.length === 0) return unknownChoice(item, parts[at]);
    if (found.length > 1) {
      return fault(faults.UNCLEAR_CHOICE, `'${shown(name)}' may mean ${found.join(" or ")}`,
        `type ${found.map((option) => `\`${option}\``).join(" or ")}`);
    }
    if (isYesOrNo(item) && FALSE_FRIENDS.has(name.toLowerCase()) &&
        !["yes", "no", "Yes", "No"].includes(name)) {
      return fault(faults.YES_OR_NO, `'${shown(name)}' is not written as yes or no`, `type \`${found[0]}\``);
    }
    chosen.add(found[0]);
    at = end;
  }
  const ids = [...item.options.map((option) => option.id), NOT_APPLICABLE].filter((name) => chosen.has(name));
  return understood(ids.map((name) => (name === NOT_APPLICABLE ? ABSENT : name)).join(" or "), { ids });
}

function findOptions(item, name) {
  const lower = name.toLowerCase();
  if (item.may_be_absent && lower === ABSENT) return [NOT_APPLICABLE];
  const exact = item.options.map((option) => option.id).filter((id) => id === lower);
  if (exact.length > 0) return exact;
  if (isYesOrNo(item) && FALSE_FRIENDS.has(lower)) return [FALSE_FRIENDS.get(lower)];
  return item.options.filter((option) => option.spellings.includes(lower)).map((option) => option.id);
}

function isYesOrNo(item) {
  const ids = item.options.map((option) => option.id);
  return ids.includes("yes") && ids.includes("no");
}

// Unknown words: the nearest id, or all ids where they are few; and the way out for what the guide does not
// hold.
function unknownChoice(item, name) {
  const spellings = item.options.flatMap((option) =>
    [option.id, ...option.spellings].map((spelling) => [spelling, option]));
  const near = nearest(name, spellings.map(([spelling]) => spelling));
  const ids = item.options.map((option) => option.id);
  let advice;
  if (near !== null) advice = `did you mean \`${firstNamed(spellings, near).id}\`?`;
  else if (ids.length <= LISTED) advice = `type one of: ${ids.map((option) => `\`${option}\``).join(", ")}`;
  else advice = `type an id or a name that the guide lists for '${item.id}'`;
  if (ids.includes(UNLISTED)) {
    advice += `${near !== null ? " For" : "; for"} one that the guide does not hold type \`${UNLISTED}\``;
  }
  return fault(faults.UNKNOWN_CHOICE, `'${shown(name)}' is not a choice of '${item.id}'`, advice);
}

function firstNamed(spellings, name) {
  return spellings.find(([spelling]) => spelling === name)[1];
}

function understood(text, answer) {
  return { text, answer };
}

function fault(code, message, fix) {
  return { code, message, fix };
}

function isFault(found) {
  return found !== null && typeof found === "object" && found.code !== undefined;
}
