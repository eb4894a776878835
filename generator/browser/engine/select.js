// Gives back everything that is decided about one application: verdicts with reasons and open inputs, and what
// to buy.
//
// An application is {id, title, states: [{state, answers: [[input, answer], ...]}, ...], ...}; the result has
// the shapes of generator/evaluate/results.py, null for None. Twin of generator/evaluate/select.py.

import { adviceFor } from "./advice.js";
import { groupBounds, judgeGroup, ownBounds, partners } from "./choice.js";
import { confirmCandidate } from "./confirm.js";
import { partsOf, partsRead } from "./mixtures.js";
import { VERDICTS } from "./model.js";
import { columnAnswers } from "./prepared.js";
import { openInputs } from "./questions.js";
import { groupReasons, ordered, ownReasons } from "./reasons.js";
import { choosing, conflict, leadingSelections, together } from "./selection.js";
import { OPEN, readTable } from "./tables.js";

// Every decision of one application.
//
// Answers are sets, so a verdict comes with its bounds: `worst` and `best` hold for every completion of the
// answers.
export function select(prepared, application) {
  const { pack } = prepared;
  const parts = new Map(application.states.map((state) => [state.state, partsOf(prepared, state)]));
  const answers = new Map([...parts].map(([state, [whole]]) => [state, whole.answers]));
  const every = new Map([...parts].flatMap(([state, several]) =>
    several.map((part, place) => [`${state} ${place}`, part.answers])));
  const derived = new Map([...parts].map(([state, [whole]]) => [state, whole.derived]));
  const readings = readTables(prepared, parts);
  const own = ownBounds(prepared.sizes, readings);
  const inPlay = partners(own);
  const groups = groupBounds(readings);
  const decisions = pack.decisions.map((_, decision) =>
    decide(prepared, readings, answers, own, inPlay, groups, decision));
  const given = choosing(prepared, readings, answers, own, groups, application.pinned ?? []);
  const selections = leadingSelections(given);
  return {
    application: application.id, decisions, values: valuesOf(prepared, derived), selections,
    together: together(given, decisions), conflict: conflict(given),
    advice: adviceFor(pack, every, decisions, selections),
  };
}

// What every table says of every part of every state it applies to, by the decisions it names, then by table
// and state.
export function readTables(prepared, parts) {
  const measuring = new Set(prepared.pack.states.filter((state) => state.measuring).map((state) => state.id));
  const readings = new Map();
  prepared.tables.forEach((index, place) => {
    const decisions = prepared.decisions[place];
    let before = null;
    let outcomes = null;
    for (const [state, several] of parts) {
      if (!index.table.always && !measuring.has(state)) continue;
      for (const part of partsRead(prepared, place, several)) {
        const asked = columnAnswers(prepared, index, part.answers, part.derived);
        if (before === null || !isSameAsked(asked, before)) { // many tables ask only what all states share
          outcomes = readTable(index, asked[0], asked[1]);
          before = asked;
        }
        if (!readings.has(decisions.join(" "))) readings.set(decisions.join(" "), { decisions, found: [] });
        readings.get(decisions.join(" ")).found.push({ table: place, part, outcomes });
      }
    }
  });
  return readings;
}

// private

function isSameAsked([steady, moving], [steadyBefore, movingBefore]) {
  if (moving.size > 0 || movingBefore.size > 0) return false; // reading again is cheaper than comparing
  return [...steady].every(([place, answer]) => isSameAnswer(answer, steadyBefore.get(place)));
}

function isSameAnswer(answer, other) {
  if (answer === other) return true;
  if (answer.ids !== undefined) return answer.ids.join(" ") === other.ids.join(" ");
  return answer.absent === other.absent && answer.intervals.length === other.intervals.length &&
    answer.intervals.every((part, i) =>
      part[0] === other.intervals[i][0] && part[1] === other.intervals[i][1]);
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

function candidateOf(prepared, readings, answers, own, inPlay, verdicts, decision, candidate) {
  const { pack } = prepared;
  const states = [...answers.keys()];
  const found = ownReasons(pack, readings, states, decision, candidate);
  let { worst, best } = own;
  for (const verdict of verdicts) {
    worst = Math.min(worst, verdict.bounds.worst);
    best = Math.min(best, verdict.bounds.best);
    found.push(...groupReasons(pack, readings, states, decision, candidate, verdict, inPlay));
  }
  const shown = worst === best ? worst : OPEN;
  const bounds = { worst, best };
  return {
    candidate: pack.decisions[decision].candidates[candidate].id, verdict: VERDICTS[shown],
    best: VERDICTS[best], worst: VERDICTS[worst], reasons: ordered(found),
    open_inputs: openInputs(prepared, readings, decision, candidate, bounds, verdicts, inPlay),
    confirm: confirmCandidate(pack, readings, decision, candidate, bounds, verdicts, inPlay),
  };
}

function valuesOf(prepared, derived) {
  const ids = new Map(prepared.pack.decisions.map((decision) =>
    [decision.id, decision.candidates.map((candidate) => candidate.id)]));
  const values = [];
  for (const [state, known] of derived) {
    for (const item of prepared.pack.derived) {
      const figured = item.arguments.some((argument) => argument.kind === "figure");
      for (const [combination, found] of known.get(item.id)) {
        if (figured && found.intervals.length === 0) continue; // a pair without a figure has nothing to show
        const places = combination === "" ? [] : combination.split(" ").map(Number);
        const candidate = places.map((place, i) => ids.get(item.decisions[i])[place]).join(" ");
        const parts = found.intervals;
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
