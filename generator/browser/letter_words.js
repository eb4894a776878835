// Gives back a letter that asks for open answers as plain text, ready to send. Twin of
// generator/render/letter_words.py.

import { plainText } from "./engine/numbers.js";

const MOST_CHOICES = 12; // a longer list is told by its first few and its number
const FIRST_CHOICES = 4;
const FIRST_CANDIDATES = 4;

// Subject, greeting without a name, each question with what it hangs on, and whose guide asks. `read` is what
// readApplication gives, `letter` one of letters.js.
export function letterText(pack, texts, read, letter) {
  const { id, title } = read.application;
  const named = title ? `${id}, ${title}` : id;
  const count = letter.asked.length;
  const lines = [
    `Subject: ${count} question${count > 1 ? "s" : ""} about measuring point ${named}`,
    `To: ${addressee(letter.asked_of)}`,
    "",
    "Good day,",
    "",
    `an electromagnetic flowmeter sensor is being chosen for the measuring point ${named}. The choice waits for the ` +
      'answers below, which you are most likely to know. A range such as "60 to 80" is an answer too, if it is sure ' +
      "to hold. Please do not guess: a blank keeps a verdict open, a wrong answer makes it wrong.",
  ];
  letter.asked.forEach((asked, place) => {
    lines.push("", ...question(pack, texts, read.understood, place + 1, asked));
  });
  const { company, edition, notice } = texts.edition;
  return [...lines, "", "Thank you.", "", `${company}, ${edition}`, notice, ""].join("\n");
}

// `process` as it is written to.
export function addressee(askedOf) {
  const words = askedOf.replaceAll("_", " ");
  return words.slice(0, 1).toUpperCase() + words.slice(1);
}

// private

function question(pack, texts, understood, place, asked) {
  const item = pack.inputs.find((one) => one.id === asked.input);
  const text = texts.inputs.find((one) => one.id === asked.input);
  const states = new Map(texts.states.map((one) => [one.id, one.title]));
  const where = item.per_state ? ` (${asked.states.map((state) => states.get(state)).join(", ")})` : "";
  const typed = new Map(understood.filter((one) => one.input === asked.input && one.typed)
    .map((one) => [one.state, one.typed]));
  const given = asked.states.filter((state) => typed.has(state))
    .map((state) => typed.get(state) + (item.per_state ? ` (${states.get(state)})` : ""));
  return [
    `${place}. ${text.title}${where}`,
    `   ${text.help}`,
    `   Answer: ${answerWanted(item, text)}`,
    `   Given so far: ${given.join("; ") || "nothing"}`,
    `   Why it is asked: ${why(texts, asked)}`,
    `   If nobody answers: ${text.blank}`,
  ];
}

function answerWanted(item, text) {
  const titles = text.options.map(([, title]) => title);
  const unit = ["", "1"].includes(text.unit_symbol) ? "" : ` ${text.unit_symbol}`;
  const answer = item.kind === "number" ? `a number from ${plainText(item.low)} to ${plainText(item.high)}${unit}`
    : titles.length <= MOST_CHOICES ? `one of: ${titles.join("; ")}`
      : `one of ${titles.length} names in the guide, such as: ${titles.slice(0, FIRST_CHOICES).join("; ")}`;
  return answer + (item.may_be_absent ? "; or: not applicable" : "");
}

function why(texts, asked) {
  const told = asked.waiting.map(([id, candidates]) => {
    const decision = texts.decisions.find((one) => one.id === id);
    const titles = new Map(decision.items.map((item) => [item.id, item.title]));
    const first = candidates.slice(0, FIRST_CANDIDATES).map((one) => titles.get(one)).join(", ");
    const more = candidates.length - FIRST_CANDIDATES;
    return `${decision.title} (${first}${more > 0 ? ` and ${more} more` : ""})`;
  });
  const total = verdicts(asked.waiting);
  const alone = verdicts(asked.alone);
  const nothing = alone > 0 ? `; ${alone} of them for nothing else` : "";
  return `${total} verdict${total > 1 ? "s wait" : " waits"} for it${nothing}: ${told.join("; ")}.`;
}

function verdicts(found) {
  return found.reduce((total, [, candidates]) => total + candidates.length, 0);
}
