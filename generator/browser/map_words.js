// Gives back numbers and intervals in words as the pages print them: `1 000 000`, `above 40 up to 60 °C`.
// Twin of the same functions of generator/render/words.py.

import { plainText } from "./engine/numbers.js";

// A number with its unit; the unit 1 and no unit are not printed.
export function numberText(value, unitSymbol = "") {
  const text = grouped(plainText(value)).replace("-", "\u2212");
  return unitSymbol === "" || unitSymbol === "1" ? text : `${text}\u00a0${unitSymbol}`;
}

// An interval in words; an end at or beyond `low` or `high`, the range of its column, is no limit.
export function intervalText(interval, low, high, unitSymbol) {
  const below = interval.low > low || (interval.low === low && !interval.low_in);
  const above = interval.high < high || (interval.high === high && !interval.high_in);
  if (interval.low === interval.high) return `exactly ${numberText(interval.low, unitSymbol)}`;
  if (below && above) {
    const first = `${interval.low_in ? "from" : "above"} ${numberText(interval.low)}`;
    return `${first} ${interval.high_in ? "up to" : "and below"} ${numberText(interval.high, unitSymbol)}`;
  }
  if (below) {
    const number = numberText(interval.low, unitSymbol);
    return interval.low_in ? `${number} or more` : `above ${number}`;
  }
  if (above) {
    const number = numberText(interval.high, unitSymbol);
    return interval.high_in ? `up to ${number}` : `below ${number}`;
  }
  return "any";
}

// `a`, `a or b`, `a, b or c`.
export function joined(parts, conjunction) {
  if (parts.length < 2) return parts.join("");
  return `${parts.slice(0, -1).join(", ")} ${conjunction} ${parts.at(-1)}`;
}

export function capital(text) {
  return text.slice(0, 1).toUpperCase() + text.slice(1);
}

// `1 rule`, `2 rules`.
export function counted(number, one, many = "") {
  return `${number} ${number === 1 ? one : many || `${one}s`}`;
}

// private

// Digits of a long whole part in threes. Up to four digits stand together.
function grouped(text) {
  const [whole, rest] = text.split(".");
  const digits = whole.replace("-", "");
  const shown = digits.length > 4 ? digits.replace(/\B(?=(\d{3})+$)/g, "\u202f") : digits;
  return (whole.startsWith("-") ? "-" : "") + shown + (rest === undefined ? "" : `.${rest}`);
}
