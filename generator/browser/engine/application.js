// Gives back an application from typed answers, with every problem in them and what each answer was
// understood as.
//
// What is typed is an object: `id`, `title`, and per state either `none` or an object of inputs to texts.
// Inputs of the whole application stand under `normal` and hold in every state. `pinned` maps decisions to
// the candidates that are kept; `concessions` lists signed departures. A problem is {state, input, part, code, message, fix}, an understood answer
// {state, input, typed, understood}. Twin of generator/answers/application.py.

import { CONCESSIONS, readConcessions } from "./concessions.js";
import * as faults from "./faults.js";
import { readComponents } from "./components.js";
import { MEDIUM, MIXED_WITH } from "./model.js";
import { PINNED, instead, readPins } from "./pins.js";
import { BLANK, readAnswer } from "./reading.js";
import { shown, squeeze } from "./wording.js";

export const NORMAL = "normal";
export const NAMES = ["id", "title"]; // what an application says about itself, beside its states
export const RULED_OUT = "none";
export const SAME = "same";

// Every answer of every state: {application, problems, understood}. `otherUnit` is what `readAnswer` takes; `readOne` is
// `readAnswer` itself, or one that remembers what it has read.
//
// With problems the application holds what was understood, which is not what the engineer meant.
export function readApplication(pack, typedObject, otherUnit = null, readOne = readAnswer) {
  const typed = new Map(Object.entries(typedObject));
  const problems = unknownStates(pack, typed);
  const ruledOut = [], undescribed = [], described = [];
  for (const state of pack.states) {
    const given = typed.get(state.id);
    if (isMapping(given)) described.push([state.id, new Map(Object.entries(given))]);
    else if (state.id === NORMAL) problems.push(notDescribed(state.id, typed.has(state.id)));
    else if (typeof given === "string" && squeeze(given) === RULED_OUT) ruledOut.push(state.id);
    else if (!typed.has(state.id)) undescribed.push(state.id);
    else problems.push(notDescribed(state.id, true));
  }
  const normal = newReader(pack, NORMAL, null, otherUnit, readOne);
  read(normal, new Map(described).get(NORMAL) ?? new Map());
  const readers = [normal];
  for (const [name, given] of described) {
    if (name !== NORMAL) {
      readers.push(newReader(pack, name, normal, otherUnit, readOne));
      read(readers[readers.length - 1], given);
    }
  }
  for (const reader of readers) assume(reader);
  const known = new Map(readers.map((reader) => [reader.state, reader]));
  const kept = typed.has(PINNED) ? typed.get(PINNED) : {};
  if (!isMapping(kept)) {
    problems.push({ state: PINNED, input: "", part: "value", code: faults.WRONG_SHAPE,
      message: `\`${PINNED}\` is not written as decisions with a candidate each`,
      fix: `write \`${PINNED}: {liner: ptfe}\`` });
  }
  const [pins, wrong] = readPins(pack, new Map(isMapping(kept) ? Object.entries(kept) : []));
  const [concessions, unclear] = readConcessions(pack, typed.has(CONCESSIONS) ? typed.get(CONCESSIONS) : []);
  const application = {
    id: nameOf(typed, "id"), title: nameOf(typed, "title"),
    states: described.map(([name]) =>
      ({ state: name, answers: allAnswers(known.get(name)), components: known.get(name).components })),
    ruled_out: ruledOut, undescribed, assumed: readers.flatMap((reader) => reader.assumed),
    pinned: pins.map(([decision, , candidate]) => [decision, candidate]), concessions,
    unknown: described.flatMap(([name]) => known.get(name).unknown.map((words) => [name, words])),
  };
  for (const [decision, part, { code, message, fix }] of wrong) {
    problems.push({ state: PINNED, input: decision, part, code, message, fix });
  }
  for (const [where, part, { code, message, fix }] of unclear) {
    problems.push({ state: CONCESSIONS, input: where, part, code, message, fix });
  }
  return {
    application, problems: [...problems, ...readers.flatMap((reader) => reader.problems)],
    understood: [...readers.flatMap(lines), ...pins.map(([decision, typed, candidate]) =>
      ({ state: PINNED, input: decision, typed, understood: candidate }))],
  };
}

// private

// What reads the answers of one state; `normal` is the reader of the normal state, null for itself.
function newReader(pack, state, normal, otherUnit, readOne) {
  return {
    pack, state, normal, otherUnit, readOne, answers: new Map(), components: [], texts: new Map(), problems: [], assumed: [],
    unknown: [], // what is said of names that are taken for `unlisted`
  };
}

// Takes what was typed for this state; normal must have been read before the others.
function read(reader, given) {
  const ids = reader.pack.inputs.map((item) => item.id);
  for (const name of given.keys()) {
    if (!ids.includes(name)) {
      say(reader, name, "key",
        fault(faults.UNKNOWN_INPUT, `there is no input '${shown(name)}'`, instead(name, ids)));
    }
  }
  for (const item of reader.pack.inputs) {
    if (given.has(item.id)) readGiven(reader, item, given.get(item.id));
  }
}

// Fills in the assumed values of inputs that have one and were not answered; other inputs come first.
function assume(reader) {
  for (const item of reader.pack.inputs) {
    if (!item.assumed || reader.answers.has(item.id) || (reader.normal !== null && !item.per_state)) continue;
    const understood = readAnswer(item, assumedText(reader, item));
    if (understood.code === undefined && understood.answer !== null) {
      reader.answers.set(item.id, understood.answer);
      reader.texts.set(item.id, ["", understood.text]);
      reader.assumed.push([reader.state, item.id]);
    }
  }
}

// The answers that hold in this state, in the order of the vocabulary.
function allAnswers(reader) {
  const shared = reader.normal === null ? new Map() : reader.normal.answers;
  const found = [];
  for (const item of reader.pack.inputs) {
    const answers = item.per_state || reader.normal === null ? reader.answers : shared;
    if (answers.has(item.id)) found.push([item.id, answers.get(item.id)]);
  }
  return found;
}

// What was typed in this state, or assumed for it, in the order of the vocabulary.
function lines(reader) {
  return reader.pack.inputs.filter((item) => reader.texts.has(item.id)).map((item) => {
    const [typed, understood] = reader.texts.get(item.id);
    return { state: reader.state, input: item.id, typed, understood };
  });
}

function readGiven(reader, item, typed) {
  if (typeof typed !== "string") {
    say(reader, item.id, "value", fault(faults.WRONG_SHAPE, `the answer to '${item.id}' is not a text`,
      "write one answer, like `60 to 80 degC` or `yes`"));
  } else if (reader.normal !== null && !item.per_state) {
    say(reader, item.id, "key", fault(faults.SHARED_INPUT, `'${item.id}' is the same in every state`,
      `answer it once, under \`${NORMAL}\``));
  } else if (squeeze(typed).toLowerCase() === SAME) {
    copy(reader, item, typed);
  } else if (item.id === MIXED_WITH) {
    readMixture(reader, item, typed);
  } else {
    const understood = reader.readOne(item, typed, reader.pack.inputs, reader.otherUnit);
    if (understood.code !== undefined) {
      say(reader, item.id, "value", understood);
    } else if (understood.answer !== null) {
      reader.answers.set(item.id, understood.answer);
      reader.texts.set(item.id, [squeeze(typed), understood.text]);
      reader.unknown.push(...understood.unknown);
    }
  }
}

function readMixture(reader, item, typed) {
  const understood = readComponents(reader.pack, typed, reader.otherUnit);
  if (understood.code !== undefined) {
    say(reader, item.id, "value", understood);
  } else if (understood.text !== BLANK) {
    reader.components = understood.components;
    reader.texts.set(item.id, [squeeze(typed), understood.text]);
    reader.unknown.push(...understood.unknown);
  }
}

function copy(reader, item, typed) {
  if (reader.normal === null) {
    say(reader, item.id, "value",
      fault(faults.NOTHING_TO_COPY, `\`${SAME}\` takes the answer of '${NORMAL}', which is here`,
        `type the answer, or \`${BLANK}\``));
  } else if (item.id === MIXED_WITH && reader.normal.texts.has(item.id)) {
    reader.components = reader.normal.components;
    reader.texts.set(item.id, [squeeze(typed), reader.normal.texts.get(item.id)[1]]);
  } else if (reader.normal.answers.has(item.id)) {
    reader.answers.set(item.id, reader.normal.answers.get(item.id));
    reader.texts.set(item.id, [squeeze(typed), reader.normal.texts.get(item.id)[1]]);
  }
}

// The assumed answer as text; `X.y` is the word y of the option chosen for X, empty where that is not known. The
// components of a mixture must have the same word, or nothing is assumed.
function assumedText(reader, item) {
  const point = item.assumed.indexOf(".");
  const source = point < 0 ? item.assumed : item.assumed.slice(0, point);
  const word = point < 0 ? "" : item.assumed.slice(point + 1);
  const origin = reader.pack.inputs.find((other) => other.id === source);
  if (origin === undefined) return item.assumed;
  const holder = origin.per_state || reader.normal === null ? reader : reader.normal;
  const answers = [holder.answers.get(source)];
  if (source === MEDIUM) answers.push(...holder.components.map((one) => one.medium));
  if (!answers.every((answer) => answer?.ids !== undefined && answer.ids.length === 1)) return "";
  const chosen = answers.map((answer) => answer.ids[0]);
  const words = new Set(origin.options.filter((option) => chosen.includes(option.id))
    .map((option) => new Map(option.words).get(word) ?? ""));
  return words.size === 1 ? [...words][0] : "";
}

function say(reader, name, part, { code, message, fix }) {
  reader.problems.push({ state: reader.state, input: name, part, code, message, fix });
}

function unknownStates(pack, typed) {
  const states = pack.states.map((state) => state.id);
  const inputs = pack.inputs.map((item) => item.id);
  const problems = [];
  for (const name of typed.keys()) {
    if (!states.includes(name) && ![PINNED, CONCESSIONS].includes(name) && !NAMES.includes(name)) {
      const fix = inputs.includes(name) ? `move it under \`${NORMAL}\`` : instead(name, states);
      problems.push({ state: name, input: "", part: "key", code: faults.UNKNOWN_STATE,
        message: `there is no state '${shown(name)}'`, fix });
    }
  }
  return problems;
}

function notDescribed(state, given) {
  if (state === NORMAL) {
    return { state, input: "", part: given ? "value" : "key", code: faults.NORMAL_MISSING,
      message: `the state '${NORMAL}' is not described`, fix: `write the answers under \`${NORMAL}\`` };
  }
  return { state, input: "", part: "value", code: faults.WRONG_SHAPE,
    message: `'${state}' has neither answers nor \`${RULED_OUT}\``,
    fix: `write its answers, \`{}\` where none is known, or \`${RULED_OUT}\` where it never happens` };
}

function nameOf(typed, key) {
  const text = typed.get(key);
  return typeof text === "string" ? squeeze(text) : "";
}

function isMapping(value) {
  return value !== null && typeof value === "object" && !Array.isArray(value);
}

function fault(code, message, fix) {
  return { code, message, fix };
}
