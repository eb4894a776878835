// Gives back a typed number with its unit as a number of an input's own unit, exactly converted and rounded
// once.
//
// `104 degF` becomes 40 for an input in degC: the decimal text is taken as an exact fraction, the conversion
// is one of whole numbers, and only the result is rounded, to 12 significant digits. A fault is {code,
// message, fix}, a figure {number, unit}. Twin of generator/answers/figures.py.

import * as faults from "./faults.js";
import { fractionTo12, plainText } from "./numbers.js";
import { nearest, shown } from "./wording.js";

export const MOST_DIGITS = 12;
export const LARGEST_POWER = 99; // of ten: no quantity of the trade needs more
const WIDE = 1000; // a range that ends here or beyond spans several powers of ten
export const LISTED = 12; // units or choices that a message lists

const NUMBER = /^(-?)(0|[1-9][0-9]*)(?:\.([0-9]+))?(?:[eE]([+-]?[0-9]+))?$/;
const FIGURE = /^([-+]?[.,]?[0-9][0-9.,'_]*(?:[eE][+-]?[0-9]+)?) ?(.*)$/s;
const GROUPED = /^-?[0-9]{1,3}(,[0-9]{3})+(\.[0-9]+)?$/;
const PADDED = /^(-?)0+([0-9].*)$/s;
const DIGIT = /^[0-9]/;
const SECOND_END = /^[-\u2013\u2014] ?([0-9].*)$/s;

// The number and the unit of a squeezed text; null if it does not begin with a number.
export function splitFigure(text) {
  const found = FIGURE.exec(text);
  return found === null ? null : { number: found[1], unit: found[2] };
}

// How a typed unit becomes the input's own, or why not. `inputs` are all, to know the units of other
// quantities.
export function readUnit(item, unit, typed, inputs, otherUnit) {
  for (const conversion of item.conversions) {
    if (conversion.spelling === unit) return conversion;
  }
  for (const refusal of item.refusals) {
    if (refusal.spelling === unit) {
      return fault(faults.REFUSED_UNIT, `the unit '${shown(unit)}' is not taken here`, refusal.ask);
    }
  }
  if (unit === "") {
    if (item.unit === "1") return { spelling: "", n: 1, k: 0, d: 1, note: "" };
    return fault(faults.MISSING_UNIT, `'${shown(typed)}' has no unit`,
      `write \`${shown(typed)} ${item.unit}\``);
  }
  const found = otherUnit ? otherUnit(unit, item.unit) : null;
  if (found) return { spelling: unit, n: found[0], k: found[1], d: found[2], note: "" };
  for (const other of inputs) {
    if (other.conversions.some((conversion) => conversion.spelling === unit)) {
      return fault(faults.OTHER_QUANTITY, `'${shown(unit)}' is a unit of '${other.id}', not of '${item.id}'`,
        `use one of: ${unitsOf(item)}`);
    }
  }
  const near = nearest(unit, item.conversions.map((conversion) => conversion.spelling));
  return fault(faults.UNKNOWN_UNIT, `'${shown(unit)}' is not a known unit of '${item.id}'`,
    near !== null ? `did you mean \`${near}\`?` : `use one of: ${unitsOf(item)}`);
}

// The number in the input's unit, within its range; or what is wrong with it.
export function readNumber(item, figure, conversion) {
  const typed = trim(`${figure.number} ${figure.unit}`);
  const found = NUMBER.exec(figure.number);
  if (found === null) return misspelt(figure);
  const second = SECOND_END.exec(figure.unit);
  if (second !== null) {
    return fault(faults.NOT_A_NUMBER, `'${shown(figure.number + figure.unit)}' joins two numbers by a dash`,
      `write \`${shown(`${figure.number} to ${second[1]}`)}\``);
  }
  if (DIGIT.test(figure.unit)) {
    return fault(faults.THOUSANDS, `'${shown(typed)}' has a space within the number`,
      `write \`${shown(figure.number + figure.unit)}\``);
  }
  const sign = found[1], whole = found[2], decimals = found[3] ?? "";
  const power = (found[4] ?? "0").replace(/^\++/, "");
  const digits = (whole + decimals).replace(/^0+/, "").replace(/0+$/, "");
  if (digits.length > MOST_DIGITS) {
    return fault(faults.TOO_MANY_DIGITS, `'${shown(typed)}' has ${digits.length} significant digits`,
      `round it to ${MOST_DIGITS} digits or fewer`);
  }
  const shift = shiftOf(whole, decimals, power);
  if (digits && Math.abs(shift) > LARGEST_POWER) {
    return fault(faults.NOT_A_NUMBER, `'${shown(typed)}' is beyond every quantity that is asked for here`,
      `write a number like \`${example(item)}\``);
  }
  const size = BigInt(digits || "0");
  let [numerator, denominator] = shift > 0 ? [size * 10n ** BigInt(shift), 1n]
    : [size, digits ? 10n ** BigInt(-shift) : 1n];
  numerator = sign ? -numerator : numerator;
  const n = BigInt(conversion.n), k = BigInt(conversion.k), d = BigInt(conversion.d);
  const value = fractionTo12(numerator * n + denominator * k, denominator * d);
  if (item.low <= value && value <= item.high) return value;
  const own = withUnit(plainText(value), item.unit);
  const limits = withUnit(`${plainText(item.low)} to ${plainText(item.high)}`, item.unit);
  const same = conversion.n === 1 && conversion.k === 0 && conversion.d === 1;
  const converted = same ? "" : `is ${own}, which `;
  return fault(faults.OUTSIDE_RANGE, `'${shown(typed)}' ${converted}is outside ${limits}`,
    `type a value from ${limits}`);
}

// An answer that the input accepts and that someone may well type: a round number in the lower part of its range.
export function example(item) {
  let power = 0;
  while (Number(`1e${power + 1}`) <= item.high) power += 1;
  // Of a wide range the middle in powers of ten: 100 m3/h of 0 to 10000 m3/h.
  const middle = Number(`1e${Math.floor((power + 1) / 2)}`);
  const low = Math.max(item.low, 0);
  const about = item.high >= WIDE && middle >= low ? middle : low + (item.high - low) / 4;
  let rounded = null;
  for (let at = -6; at <= power; at += 1) {
    for (const first of [1, 2, 5]) {
      const value = Number(`${first}e${at}`);
      if (item.low <= value && value <= about) rounded = value;
    }
  }
  return withUnit(plainText(rounded ?? item.high), item.unit);
}

// The last answer that the input accepts.
export function upperEnd(item) {
  return withUnit(plainText(item.high), item.unit);
}

// The text and its unit; a plain number has none.
export function withUnit(text, unit) {
  return unit === "1" ? text : `${text} ${unit}`;
}

// private

// The fault of a text that begins like a number and is not written as one.
function misspelt({ number, unit }) {
  const typed = trim(`${number} ${unit}`);
  const write = (...numbers) =>
    `write ${numbers.map((fixed) => `\`${shown(trim(`${fixed} ${unit}`))}\``).join(", or ")}`;

  if (GROUPED.test(number)) {
    const joined = number.replaceAll(",", "");
    const unclear = count(number, ",") === 1 && !number.includes(".");
    return fault(faults.THOUSANDS, `'${shown(typed)}' has a comma, which may part thousands or decimals`,
      unclear ? write(joined, number.replaceAll(",", ".")) : write(joined));
  }
  if (count(number, ",") === 1 && !number.includes(".")) {
    return fault(faults.DECIMAL_COMMA, `'${shown(typed)}' has a decimal comma`,
      write(plain(number.replaceAll(",", "."))));
  }
  if ([...",'_"].some((sign) => number.includes(sign)) || count(number, ".") > 1) {
    return fault(faults.THOUSANDS, `'${shown(typed)}' has marks between its digits`,
      "write the digits without marks, and a point before decimals");
  }
  if (PADDED.test(number) && !number.endsWith(".")) {
    return fault(faults.LEADING_ZERO, `'${shown(typed)}' begins with a zero that says nothing`,
      write(plain(number)));
  }
  return fault(faults.NOT_A_NUMBER, `'${shown(typed)}' is not written as a number`, write(plain(number)));
}

// The number without a plus, with a digit on both sides of its point, and without needless zeros in front.
function plain(typed) {
  let number = typed.replace(/^\++/, "");
  const sign = number.startsWith("-") ? "-" : "";
  number = number.slice(sign.length);
  const [mantissa, mark, power] = partition(number.toLowerCase(), "e");
  const [start, , decimals] = partition(mantissa, ".");
  const whole = start.replace(/^0+/, "") || "0";
  return `${sign}${whole}${decimals ? "." : ""}${decimals}${mark}${power}`;
}

// The power of ten that belongs to the significant digits of whole.decimals, as far as it matters.
function shiftOf(whole, decimals, power) {
  const trailing = (whole + decimals).length - (whole + decimals).replace(/0+$/, "").length;
  const negative = power.startsWith("-");
  const figures = power.replace(/^-+/, "").replace(/^0+/, "");
  const raised = figures.length > 3 ? 10 * LARGEST_POWER : Number(figures || "0");
  return (negative ? -raised : raised) - decimals.length + trailing;
}

function unitsOf(item) {
  const spellings = item.conversions.map((conversion) => conversion.spelling);
  return spellings.slice(0, LISTED).map((spelling) => `\`${spelling}\``).join(", ") +
    (spellings.length > LISTED ? ", ..." : "");
}

function fault(code, message, fix) {
  return { code, message, fix };
}

function trim(text) {
  return text.replace(/^ +| +$/g, "");
}

function count(text, sign) {
  return text.split(sign).length - 1;
}

function partition(text, mark) {
  const at = text.indexOf(mark);
  return at < 0 ? [text, "", ""] : [text.slice(0, at), mark, text.slice(at + mark.length)];
}
