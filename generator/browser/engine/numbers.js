// Gives back numbers of at most 12 significant digits, rounded by one rule, and their plain text.
//
// The rule: the exact value of the binary number (or of the fraction) is rounded to 12 significant digits, a
// half away from zero. Twin of generator/evaluate/numbers.py.

export const DIGITS = 12;

// `x` rounded to 12 significant digits; zero has no sign; what is not finite stays as it is.
export function roundTo12(x) {
  // toPrecision works on the exact value and takes the larger neighbour of a tie, after setting the sign
  // aside.
  return Number(x.toPrecision(DIGITS)) + 0;
}

// The fraction of two BigInts rounded to 12 significant digits. The denominator is more than zero.
//
// Its size must stay within what a number can hold (1e-300 to 1e300 in size, or zero).
export function fractionTo12(numerator, denominator) {
  const size = numerator < 0n ? -numerator : numerator;
  if (size === 0n) return 0;
  let power = DIGITS + String(denominator).length - String(size).length;
  let digits = roundedQuotient(size, denominator, power);
  if (digits >= 10n ** BigInt(DIGITS)) {             // one digit too many: the guess of the power was high
    power -= 1;
    digits = roundedQuotient(size, denominator, power);
  }
  return Number(`${numerator < 0n ? "-" : ""}${digits}e${-power}`);
}

// The shortest decimal that is `x`, without an exponent: `40`, `0.000012`, `-2.5`. `x` is finite.
export function plainText(x) {
  const [mantissa, exponent] = String(Math.abs(x)).split("e");
  const [whole, part = ""] = mantissa.split(".");
  const digits = whole + part;
  const point = whole.length + Number(exponent ?? 0);
  const padded = point <= 0 ? "0".repeat(1 - point) + digits : digits.padEnd(point, "0");
  const at = point <= 0 ? 1 : point;
  const decimals = padded.slice(at).replace(/0+$/, "");
  const text = padded.slice(0, at) + (decimals ? `.${decimals}` : "");
  return x < 0 ? `-${text}` : text;
}

// private

// size / denominator * 10**power as a whole number, a half away from zero.
function roundedQuotient(size, denominator, power) {
  if (power >= 0) size *= 10n ** BigInt(power);
  else denominator *= 10n ** BigInt(-power);
  return (2n * size + denominator) / (2n * denominator);
}
