// Gives back the value of a formula's expression: of single numbers, or the bounds over intervals of numbers.
//
// No value is a result: of the root of a negative number, a division by zero, a number too large to hold. For
// single numbers it is NaN or infinite; bounds are null where no number has a value, and `partial` where some
// have none. Bounds are those of the natural interval extension: never too narrow, wider than needed where a
// symbol stands twice. A span is {low, high, partial}. Twin of generator/evaluate/expressions.py.

const INF = Infinity;

// The expression as a function of single numbers by symbol; what it gives is NaN or infinite for no value.
export function prepareExpression(expression) {
  const name = expression[0];
  if (name === "number") return constant(expression[1]);
  if (name === "symbol") return symbol(expression[1]);
  if (name === "negate") return negate(prepareExpression(expression[1]));
  if (name in PREPARED) {
    return PREPARED[name](prepareExpression(expression[1]), prepareExpression(expression[2]));
  }
  if (name === "power") return powered(prepareExpression(expression[1]), expression[2]);
  if (name === "call") return called(POINT_CALLS[expression[1]], expression[2].map(prepareExpression));
  if (name === "if") {
    const [comparison, ...sides] = expression[1];
    return chosen(COMPARISONS[comparison], ...[...sides, ...expression.slice(2)].map(prepareExpression));
  }
  return interpolated(prepareExpression(expression[1]), expression[2]);
}

// The bounds over every choice of numbers within the symbols' spans.
export function evaluateExpression(expression, values) {
  const name = expression[0];
  if (name === "symbol") return values[expression[1]];
  if (name === "number") return { low: expression[1], high: expression[1], partial: false };
  if (name in SPAN_OPERATIONS) {
    const first = evaluateExpression(expression[1], values);
    const second = evaluateExpression(expression[2], values);
    return first === null || second === null ? null : SPAN_OPERATIONS[name](first, second);
  }
  if (name === "call") {
    const spans = expression[2].map((part) => evaluateExpression(part, values));
    return spans.some((span) => span === null) ? null : callSpans(expression[1], spans);
  }
  if (name === "if") return chooseSpan(expression, values);
  const base = evaluateExpression(expression[1], values);
  if (base === null) return null;
  if (name === "negate") return { low: -base.high, high: -base.low, partial: base.partial };
  if (name === "power") return powerSpan(base, expression[2]);
  return interpolateSpan(base, expression[2]);
}

// private: single numbers

function constant(number) {
  return () => number;
}

function symbol(name) {
  return (values) => values[name];
}

function negate(part) {
  return (values) => -part(values);
}

function added(first, second) {
  return (values) => first(values) + second(values);
}

function subtracted(first, second) {
  return (values) => first(values) - second(values);
}

function multiplied(first, second) {
  return (values) => first(values) * second(values);
}

function divided(first, second) {
  return (values) => {
    const divisor = second(values);
    return divisor !== 0 && Number.isFinite(divisor) ? first(values) / divisor : NaN;
  };
}

function powered(part, exponent) {
  return (values) => power(part(values), exponent);
}

function called(callee, parts) {
  return (values) => {
    const numbers = parts.map((part) => part(values));
    return numbers.every((number) => Number.isFinite(number)) ? callee(...numbers) : NaN;
  };
}

function chosen(holds, left, right, then, otherwise) {
  return (values) => {
    const first = left(values), second = right(values);
    if (!(Number.isFinite(first) && Number.isFinite(second))) return NaN;
    return holds(first, second) ? then(values) : otherwise(values);
  };
}

function interpolated(part, points) {
  return (values) => interpolate(part(values), points);
}

// Whole exponents by products, which both languages round alike; the others by the library.
function power(number, exponent) {
  if (!Number.isFinite(number) || (number === 0 && exponent < 0)) return NaN;
  if (exponent === Math.floor(exponent)) {
    let product = 1;
    for (let times = 0; times < Math.abs(exponent); times += 1) product *= number;
    if (exponent >= 0) return product;
    return product !== 0 && Number.isFinite(product) ? 1 / product : NaN;
  }
  if (number < 0) return NaN;
  return number ** exponent;
}

function interpolate(number, points) {
  if (number === points[0][0]) return points[0][1];
  for (let place = 1; place < points.length; place += 1) {
    const [x0, y0] = points[place - 1], [x1, y1] = points[place];
    if (x0 < number && number < x1) {
      const value = y0 + (number - x0) * (y1 - y0) / (x1 - x0);
      return Math.min(Math.max(value, Math.min(y0, y1)), Math.max(y0, y1));
    }
    if (number === x1) return y1;
  }
  return NaN;
}

const PREPARED = { add: added, subtract: subtracted, multiply: multiplied, divide: divided };
const COMPARISONS = {
  "<": (a, b) => a < b, "<=": (a, b) => a <= b, ">": (a, b) => a > b, ">=": (a, b) => a >= b,
  "=": (a, b) => a === b };
const POINT_CALLS = {
  min: Math.min, max: Math.max, abs: Math.abs,
  sqrt: (x) => (x >= 0 ? Math.sqrt(x) : NaN), exp: Math.exp,
  log: (x) => (x > 0 ? Math.log(x) : NaN), log10: (x) => (x > 0 ? Math.log10(x) : NaN),
  floor: Math.floor, ceiling: Math.ceil, pi: () => Math.PI,
  sin: Math.sin, cos: Math.cos, acos: (x) => (x >= -1 && x <= 1 ? Math.acos(x) : NaN) };

// private: bounds

// Bounds with an infinite end hold cases that are too large to have a value; all of them, if both ends agree.
function span(low, high, partial) {
  if (low === INF || high === -INF) return null;
  return { low, high, partial: partial || low === -INF || high === INF };
}

function addSpans(first, second) {
  return span(first.low + second.low, first.high + second.high, first.partial || second.partial);
}

function subtractSpans(first, second) {
  return span(first.low - second.high, first.high - second.low, first.partial || second.partial);
}

function multiplySpans(first, second) {
  if (first.low >= 0 && second.low >= 0 && first.high < INF && second.high < INF) {
    return span(first.low * second.low, first.high * second.high, first.partial || second.partial);
  }
  return corners([first.low * second.low, first.low * second.high, first.high * second.low,
    first.high * second.high], first.partial || second.partial);
}

function divideSpans(first, second) {
  const partial = first.partial || second.partial;
  if (first.low >= 0 && second.low > 0 && first.high < INF) {
    return span(first.low / second.high, first.high / second.low, partial);
  }
  if (second.low > 0 || second.high < 0) {
    return corners([first.low / second.low, first.low / second.high, first.high / second.low,
      first.high / second.high], partial);
  }
  if (second.low === 0 && second.high === 0) return null;
  if (second.low < 0 && second.high > 0) return { low: -INF, high: INF, partial: true };
  if (second.low < 0) {                              // the same quotients with both signs changed
    first = { low: -first.high, high: -first.low };
    second = { low: -second.high, high: -second.low };
  }
  const low = first.low >= 0 ? first.low / second.high : -INF;
  const high = first.high <= 0 ? first.high / second.high : INF;
  return span(low, high, true);
}

function corners(numbers, partial) {
  // Zero times infinity and infinity by infinity: an infinite end is never reached, and zero lies within.
  const settled = numbers.map((number) => (Number.isNaN(number) ? 0 : number));
  return span(Math.min(...settled), Math.max(...settled), partial);
}

const SPAN_OPERATIONS = {
  add: addSpans, subtract: subtractSpans, multiply: multiplySpans, divide: divideSpans };

function powerSpan(base, exponent) {
  if (exponent === Math.floor(exponent)) {
    if (exponent < 0) {
      const product = powerSpan(base, -exponent);
      return product === null ? null : divideSpans({ low: 1, high: 1, partial: false }, product);
    }
    const ends = [reach(base.low, exponent), reach(base.high, exponent)];
    if (exponent % 2 === 1) return span(ends[0], ends[1], base.partial);
    const low = base.low < 0 && base.high > 0 ? 0 : Math.min(...ends);
    return span(exponent > 0 ? low : 1, Math.max(...ends), base.partial);
  }
  if (base.high < 0 || (base.high === 0 && exponent < 0)) return null;
  const low = Math.max(base.low, 0), partial = base.partial || base.low < 0;
  if (exponent > 0) return span(reach(low, exponent), reach(base.high, exponent), partial);
  const high = low === 0 ? INF : reach(low, exponent);
  return span(reach(base.high, exponent), high, partial);
}

// The power of an end of a span, which may be infinite.
function reach(end, exponent) {
  if (Number.isFinite(end)) return power(end, exponent);
  if (exponent < 0) return 0;
  return end > 0 || exponent % 2 === 0 ? INF : -INF;
}

function callSpans(name, spans) {
  const partial = spans.some((one) => one.partial);
  if (name === "min" || name === "max") {
    const choose = name === "min" ? Math.min : Math.max;
    return span(choose(...spans.map((one) => one.low)), choose(...spans.map((one) => one.high)), partial);
  }
  if (name === "pi") return { low: Math.PI, high: Math.PI, partial: false };
  const { low, high } = spans[0];
  if (name === "abs") {
    const lower = low < 0 && high > 0 ? 0 : Math.min(Math.abs(low), Math.abs(high));
    return span(lower, Math.max(Math.abs(low), Math.abs(high)), partial);
  }
  const callee = POINT_CALLS[name];
  if (name === "sin" || name === "cos") {
    if (low !== high) return { low: -1, high: 1, partial };
    return { low: callee(low), high: callee(low), partial };
  }
  if (name === "acos") {
    if (high < -1 || low > 1) return null;
    return { low: Math.acos(Math.min(high, 1)), high: Math.acos(Math.max(low, -1)),
      partial: partial || low < -1 || high > 1 };
  }
  if (name === "sqrt") {
    if (high < 0) return null;
    return span(Math.sqrt(Math.max(low, 0)), Math.sqrt(high), partial || low < 0);
  }
  if (name === "log" || name === "log10") {
    if (high <= 0) return null;
    return span(low > 0 ? callee(low) : -INF, callee(high), partial);
  }
  return span(callee(low), callee(high), partial);   // exp, floor, ceiling: rising everywhere
}

// The branch that the comparison settles on, or the hull of both where it depends.
function chooseSpan(expression, values) {
  let [comparison, left, right] = expression[1];
  left = evaluateExpression(left, values);
  right = evaluateExpression(right, values);
  if (left === null || right === null) return null;
  if (comparison === ">" || comparison === ">=") {
    [left, right, comparison] = [right, left, comparison === ">" ? "<" : "<="];
  }
  let always, never;
  if (comparison === "<") {
    always = left.high < right.low;
    never = left.low >= right.high;
  } else if (comparison === "<=") {
    always = left.high <= right.low;
    never = left.low > right.high;
  } else {
    always = left.low === left.high && left.high === right.low && right.low === right.high;
    never = left.high < right.low || left.low > right.high;
  }
  const branches = [];
  if (!never) branches.push(evaluateExpression(expression[2], values));
  if (!always) branches.push(evaluateExpression(expression[3], values));
  const known = branches.filter((branch) => branch !== null);
  if (known.length === 0) return null;
  const partial = left.partial || right.partial || known.length < branches.length ||
    known.some((branch) => branch.partial);
  return { low: Math.min(...known.map((branch) => branch.low)),
    high: Math.max(...known.map((branch) => branch.high)), partial };
}

function interpolateSpan(base, points) {
  const first = points[0][0], last = points[points.length - 1][0];
  if (base.high < first || base.low > last) return null;
  const low = Math.max(base.low, first), high = Math.min(base.high, last);
  const reached = [interpolate(low, points), interpolate(high, points),
    ...points.filter(([x]) => low < x && x < high).map(([, y]) => y)];
  return { low: Math.min(...reached), high: Math.max(...reached),
    partial: base.partial || base.low < first || base.high > last };
}
