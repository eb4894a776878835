// Gives back everything that is decided about one application: verdicts with reasons and open inputs, and what
// to buy.
//
// An application is {id, title, states: [{state, answers: [[input, answer], ...]}, ...], ...}; the result has
// the shapes of generator/evaluate/results.py, null for None. Twin of generator/evaluate/select.py.

import { adviceFor } from "./advice.js";
import { groupBounds, judgeGroup, ownBounds, partners } from "./choice.js";
import { confirmCandidate } from "./confirm.js";
import { newMemory, remembered } from "./memory.js";
import { partsOf, partsRead } from "./mixtures.js";
import { VERDICTS } from "./model.js";
import { columnAnswers } from "./prepared.js";
import { openInputs } from "./questions.js";
import { groupReasons, ordered, ownReasons } from "./reasons.js";
import { choosing, conflict, leadingSelections, together } from "./selection.js";
import { OPEN, everyCombination, readTable } from "./tables.js";

// Every decision of one application.
//
// Answers are sets, so a verdict comes with its bounds: `worst` and `best` hold for every completion of the
// answers. With the memory of an application like it only what has changed is worked out.
export function select(prepared, application, memory = newMemory()) {
  return choose(prepared, application, judge(prepared, application, memory));
}

// The verdicts of every decision, which can be shown before anything is chosen: {decisions}, with what they were
// found from.
export function judge(prepared, application, memory = newMemory()) {
  const parts = new Map(application.states.map((state) => [state.state, partsOf(prepared, state, memory)]));
  const answers = new Map([...parts].map(([state, [whole]]) => [state, whole.answers]));
  const readings = readTables(prepared, parts, memory);
  const own = ownBounds(prepared.sizes, readings);
  const inPlay = partners(own);
  const groups = groupBounds(readings);
  const decisions = prepared.pack.decisions.map((_, decision) =>
    decide(prepared, readings, answers, own, inPlay, groups, decision));
  return { parts, readings, own, groups, decisions };
}

// What to buy, and everything else that follows from the verdicts.
export function choose(prepared, application, { parts, readings, own, groups, decisions }) {
  const answers = new Map([...parts].map(([state, [whole]]) => [state, whole.answers]));
  const every = new Map([...parts].flatMap(([state, several]) =>
    several.map((part, place) => [`${state} ${place}`, part.answers])));
  const derived = new Map([...parts].map(([state, [whole]]) => [state, whole.derived]));
  const given = choosing(prepared, readings, answers, own, groups, application.pinned ?? []);
  const selections = leadingSelections(given);
  return {
    application: application.id, decisions, values: valuesOf(prepared, derived), selections,
    together: together(given, decisions), conflict: conflict(given),
    advice: adviceFor(prepared.pack, every, decisions, selections),
  };
}

// What every table says of every part of every state it applies to, by the decisions it names, then by table
// and state. With a memory, it is that of the parts.
export function readTables(prepared, parts, memory = null) {
  const measuring = new Set(prepared.pack.states.filter((state) => state.measuring).map((state) => state.id));
  const readings = new Map();
  prepared.tables.forEach((index, place) => {
    const decisions = prepared.decisions[place];
    const key = decisions.join(" ");
    for (const [state, several] of parts) {
      if (!index.table.always && !measuring.has(state)) continue;
      for (const part of partsRead(prepared, place, several)) {
        if (!readings.has(key)) readings.set(key, { decisions, found: [] });
        readings.get(key).found.push({
          table: place, part, outcomes: read(prepared, place, part, memory), told: new Map(),
        });
      }
    }
  });
  return readings;
}

// private

function read(prepared, place, part, memory) {
  const index = prepared.tables[place];
  const work = () => readTable(index, ...columnAnswers(prepared, index, part.answers, part.derived));
  return memory === null ? work() : remembered(memory, place, prepared.asks[place], part.answers, work);
}

function decide(prepared, readings, answers, own, inPlay, groups, decision) {
  const shared = groups.filter((group) => group.decisions.includes(decision));
  const results = own[decision].map((bounds, candidate) => {
    const verdicts = shared.map((group) =>
      judgeGroup(group.decisions, group.combinations, decision, candidate, inPlay, prepared.sizes));
    return candidateOf(prepared, readings, answers, bounds, inPlay, verdicts, decision, candidate);
  });
  const ranked = results.map((_, place) => place).sort((a, b) => worse(results[a], results[b]) || a - b);
  return {
    decision: prepared.pack.decisions[decision].id, in_play: own[decision].some((bounds) => bounds.best > 0),
    candidates: ranked.map((place) => results[place]),
  };
}

// By the worst that may still come, then by the best; ties keep the committee's order: who can only be better
// stands before who is settled.
function worse(one, other) {
  return VERDICTS.indexOf(other.worst) - VERDICTS.indexOf(one.worst) ||
    VERDICTS.indexOf(other.best) - VERDICTS.indexOf(one.best);
}

// Its reasons, open inputs and documents to confirm are worked out when they are first asked for: a verdict is shown before them.
function candidateOf(prepared, readings, answers, own, inPlay, verdicts, decision, candidate) {
  const { pack } = prepared;
  let { worst, best } = own;
  for (const { bounds } of verdicts) {
    worst = Math.min(worst, bounds.worst);
    best = Math.min(best, bounds.best);
  }
  const bounds = { worst, best };
  let reasons, asked, confirm;
  return {
    candidate: pack.decisions[decision].candidates[candidate].id, verdict: VERDICTS[worst === best ? worst : OPEN],
    best: VERDICTS[best], worst: VERDICTS[worst],
    get reasons() { return reasons ??= reasonsOf(pack, readings, [...answers.keys()], inPlay, verdicts, decision, candidate); },
    get open_inputs() {
      return asked ??= openInputs(prepared, readings, decision, candidate, bounds, verdicts, inPlay);
    },
    get confirm() {
      return confirm ??= confirmCandidate(pack, readings, decision, candidate, bounds, verdicts, inPlay);
    },
  };
}

function reasonsOf(pack, readings, states, inPlay, verdicts, decision, candidate) {
  return ordered([...ownReasons(pack, readings, states, decision, candidate), ...verdicts.flatMap((verdict) =>
    groupReasons(pack, readings, states, decision, candidate, verdict, inPlay))]);
}

function valuesOf(prepared, derived) {
  const ids = new Map(prepared.pack.decisions.map((decision) =>
    [decision.id, decision.candidates.map((candidate) => candidate.id)]));
  const named = prepared.pack.derived.map((item) => ({
    item, figured: item.arguments.some((argument) => argument.kind === "figure"),
    candidates: everyCombination(item.decisions.map((name) => ids.get(name))).map((names) => names.join(" ")),
  }));
  const values = [];
  for (const [state, known] of derived) {
    for (const { item, figured, candidates } of named) {
      let at = 0;
      for (const found of known.get(item.id).values()) {
        const candidate = candidates[at];
        const parts = found.intervals;
        at += 1;
        if (figured && parts.length === 0) continue; // a pair without a figure has nothing to show
        values.push({
          name: item.id, formula: item.formula, candidate, state, unit: item.unit,
          low: parts.length > 0 ? parts[0][0] : null,
          high: parts.length > 0 ? parts[parts.length - 1][1] : null,
          absent: found.absent,
        });
      }
    }
  }
  return values;
}
