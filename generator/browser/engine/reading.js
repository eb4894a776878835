// Gives back the set that a typed answer stands for, and how it was understood; or what to type instead.
//
// `80 degC`, `60 to 80 degC`, `pfa`, `PFA or PTFE`, `not applicable`, `not answered`. Units are
// case-sensitive, choices are not. What is understood is {text, answer, unknown}, `answer` null where nothing was
// answered, `unknown` what is said of each name that was taken for `unlisted`; a fault is {code, message, fix}.
// Twin of generator/answers/reading.py.

import * as faults from "./faults.js";
import { LISTED, example, readNumber, readUnit, splitFigure, upperEnd, withUnit } from "./figures.js";
import { NOT_APPLICABLE } from "./model.js";
import { plainText } from "./numbers.js";
import { longestWithin, nearest, shown, squeeze } from "./wording.js";

export const BLANK = "not answered";
export const ABSENT = "not applicable";
export const UNLISTED = "unlisted"; // the option that a name is taken for which the guide does not hold
export const BORE = "nominal_bore"; // the number of an option that makes it a size
const ABOVE = [">=", ">", "\u2265", "above ", "over ", "more than ", "at least "];
const BELOW = ["<=", "<", "\u2264", "below ", "under ", "less than ", "at most ", "up to "];
const NUMBER_WITHIN = /(?:[ ~\u2248:(]|[A-Za-z]\.)(-?[0-9].*)$/s;
const TURNS = /[-\u2013\u2014!]|(?:^| )not? /; // before a number: it would mean another one
const SIZE = /^(?:dn ?)?([0-9]+(?:\.[0-9]+)?)(?: ?mm)?$/;
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
  const oneEnd = faultOfOneEnd(item, typed, inputs, otherUnit);
  if (oneEnd !== null) return oneEnd;
  const between = typed.indexOf(" to ");
  if (between >= 0) {
    const first = splitFigure(typed.slice(0, between)), second = splitFigure(typed.slice(between + 4));
    return readBetween(item, typed, first, second, inputs, otherUnit);
  }
  const figure = splitFigure(typed);
  if (figure === null) {
    return fault(faults.NOT_A_NUMBER, `'${shown(typed)}' is not a number with its unit`,
      fixWithin(item, typed, inputs, otherUnit) || `write it like \`${example(item)}\``);
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
    const fix = first === null ? fixWithin(item, typed, inputs, otherUnit, " to ") : "";
    return fault(faults.NOT_A_NUMBER, `'${shown(typed)}' does not name two numbers`,
      fix || `write the two ends as \`${plainText(item.low)} to ${upperEnd(item)}\``);
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

// The fault of `> 60 degC` and the like, with the other end filled in; null for all else.
function faultOfOneEnd(item, typed, inputs, otherUnit) {
  const sign = [...ABOVE, ...BELOW].find((one) => typed.toLowerCase().startsWith(one));
  const figure = sign !== undefined ? splitFigure(typed.slice(sign.length).replace(/^ +| +$/g, "")) : null;
  if (figure === null || figure.unit.includes(" to ")) return null;
  const own = figure.unit === "" || figure.unit === item.unit;
  const number = own ? figure.number : `${figure.number} ${figure.unit}`;
  let ends;
  if (ABOVE.includes(sign)) ends = `${number} to ${upperEnd(item)}`;
  else {
    const low = plainText(item.low);
    ends = own ? `${low} to ${withUnit(number, item.unit)}` : `${withUnit(low, item.unit)} to ${number}`;
  }
  const meant = readAnswer(item, ends, inputs, otherUnit);
  return fault(faults.NOT_A_NUMBER, `'${shown(typed)}' names one end only`,
    isFault(meant) ? meant.fix : `write \`${shown(ends)}\`, with the end of the range`);
}

// What to type for `ca. 60 degC`: its own number; empty without one, or where it may mean another.
function fixWithin(item, typed, inputs, otherUnit, joint = "") {
  const found = NUMBER_WITHIN.exec(typed);
  if (found === null || !found[1].includes(joint)) return "";
  if (TURNS.test(typed.slice(0, typed.length - found[1].length))) return "";
  const meant = readAnswer(item, found[1], inputs, otherUnit);
  return isFault(meant) ? meant.fix : `write it like \`${shown(found[1])}\``;
}

function withNote(text, conversion) {
  return conversion.note ? `${text} (${conversion.note})` : text;
}

function readChoice(item, typed) {
  const parts = typed.split(" or ");
  const chosen = new Set(), unknown = [];
  let at = 0;
  while (at < parts.length) {
    let name = "", found = [], end = parts.length;
    // The longest name first: a title may hold the word `or` itself.
    for (; end > at; end -= 1) {
      name = parts.slice(at, end).join(" or ");
      found = findOptions(item, name);
      if (found.length > 0) break;
    }
    if (found.length === 0) {
      name = parts[at];
      end = at + 1;
      if (!item.options.some((option) => option.id === UNLISTED)) return unknownChoice(item, name);
      unknown.push(notHeld(item, name));
      found = [UNLISTED];
    }
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
  const text = ids.map((name) => (name === NOT_APPLICABLE ? ABSENT : name)).join(" or ");
  return understood(unknown.length > 0 ? `${text} (${unknown.join("; ")})` : text, { ids }, unknown);
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

// Unknown words: the nearest id, or all ids where they are few.
function unknownChoice(item, name) {
  const size = sizeAdvice(item, name);
  if (size !== null) {
    return fault(faults.UNKNOWN_CHOICE, `'${shown(name)}' is not a choice of '${item.id}'`, size);
  }
  const near = nearestOption(item, name);
  const ids = item.options.map((option) => option.id);
  let advice;
  if (near !== null) advice = `did you mean \`${near.id}\`?`;
  else if (ids.length <= LISTED) advice = `type one of: ${ids.map((option) => `\`${option}\``).join(", ")}`;
  else advice = `type an id or a name that the guide lists for '${item.id}'`;
  return fault(faults.UNKNOWN_CHOICE, `'${shown(name)}' is not a choice of '${item.id}'`, advice);
}

// What is said of a name that is taken for `unlisted`: never the nearest, but named where one is near.
function notHeld(item, name) {
  const near = nearestOption(item, name) ?? nearestOption(item, name, longestWithin);
  const advice = near === null ? "try its formula or its CAS number" : `perhaps '${near.id}' is meant`;
  return `'${shown(name)}' is no name in this guide; ${advice}`;
}

// The option with the spelling most like the name; null where none is like it.
function nearestOption(item, name, like = nearest) {
  const spellings = item.options.flatMap((option) =>
    [option.id, ...option.spellings].map((spelling) => [spelling, option]));
  const near = like(name, spellings.map(([spelling]) => spelling));
  return spellings.find(([spelling]) => spelling === near)?.[1] ?? null;
}

// What to type for a size that is not there: the same size spelt well, else its neighbours; or null.
function sizeAdvice(item, name) {
  const found = SIZE.exec(name.toLowerCase());
  const sizes = item.options.flatMap((option) => option.numbers.filter(([key]) => key === BORE)
    .map(([, number]) => [number, sizeName(option, number)])).sort(([one], [other]) => one - other);
  if (found === null || sizes.length === 0) return null;
  const bore = Number(found[1]);
  const same = sizes.find(([number]) => number === bore);
  if (same !== undefined) return `did you mean \`${same[1]}\`?`;
  const below = sizes.filter(([number]) => number < bore), above = sizes.filter(([number]) => number > bore);
  if (below.length === 0) return `the sizes begin at \`${above[0][1]}\``;
  if (above.length === 0) return `the sizes end at \`${below[below.length - 1][1]}\``;
  return `type \`${below[below.length - 1][1]}\` or \`${above[0][1]}\`, the sizes next to it`;
}

// `DN 80` where that is understood, else the id.
function sizeName(option, bore) {
  const name = `DN ${plainText(bore)}`;
  return option.spellings.includes(name.toLowerCase()) ? name : option.id;
}

function understood(text, answer, unknown = []) {
  return { text, answer, unknown };
}

function fault(code, message, fix) {
  return { code, message, fix };
}

function isFault(found) {
  return found !== null && typeof found === "object" && found.code !== undefined;
}
