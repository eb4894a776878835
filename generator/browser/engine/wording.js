// Gives back typed texts as they are compared and shown, and the known word most like a mistyped one.
//
// Twin of generator/answers/wording.py: the same words in both, whatever sign a reader types.

export const LONGEST = 60; // signs of a typed text that a message repeats

const SPACES = /[ \t\r\n\u00a0\u2007\u2009\u202f]+/gu;
const FIGURES = /[0-9]+(?:[.,/][0-9]+)*/g;
const UNPRINTABLE = /[\x00-\x1f\x7f-\x9f\u2028\u2029\ufeff\ud800-\udfff]/gu;

// The text with single spaces and none at its ends; a true minus sign becomes a hyphen.
export function squeeze(text) {
  return text.replace(SPACES, " ").replace(/^ +| +$/g, "").replaceAll("\u2212", "-");
}

// The text as a message may repeat it: on one line, printable, cut where it is long.
export function shown(text) {
  const signs = [...squeeze(text.replace(UNPRINTABLE, " "))];
  return signs.length <= LONGEST ? signs.join("") : `${signs.slice(0, LONGEST - 3).join("")}...`;
}

// The known word that takes fewest changes from `text`, the earliest of equals; null where none is near.
//
// A word with other numbers than `text` is never near: a slip of the pen may not become another size.
export function nearest(text, known) {
  const typed = [...text.toLowerCase()];
  let best = null, fewest = Math.floor(typed.length / 3) + 1;
  if (typed.length > LONGEST) return null;
  const figures = figuresIn(text);
  for (const word of known) {
    const signs = [...word.toLowerCase()];
    if (Math.abs(signs.length - typed.length) >= fewest || figuresIn(word) !== figures) continue;
    const changes = changesBetween(typed, signs, fewest);
    if (changes < fewest) [best, fewest] = [word, changes];
  }
  return best;
}

// The longest known word that stands in the text between blanks, the earliest of equals: `nitric acid` in
// `nitric acid 30 %`; null where none does.
export function longestWithin(text, known) {
  const typed = ` ${text.toLowerCase()} `;
  return known.filter((word) => typed.includes(` ${word.toLowerCase()} `))
    .reduce((best, word) => (best === null || [...word].length > [...best].length ? word : best), null);
}

// private

// The numbers in a text, a decimal comma as a point.
function figuresIn(text) {
  return (text.match(FIGURES) ?? []).map((figure) => figure.replaceAll(",", ".")).join(" ");
}

// How many signs must be added, taken away or replaced to make `other` of `one`; `enough` stands for all that are
// as many.
function changesBetween(one, other, enough) {
  let before = Array.from({ length: other.length + 1 }, (_, place) => place);
  for (let i = 0; i < one.length; i += 1) {
    const row = [i + 1];
    let fewest = i + 1;
    for (let j = 0; j < other.length; j += 1) {
      const changes = Math.min(before[j + 1] + 1, row[j] + 1, before[j] + (one[i] !== other[j] ? 1 : 0));
      row.push(changes);
      if (changes < fewest) fewest = changes;
    }
    if (fewest >= enough) return enough; // it only grows from row to row
    before = row;
  }
  return before[before.length - 1];
}
