// Gives back what an application is judged on: its parts, what every table says of them, and who is in play.
// Twin of generator/evaluate/situation.py.

import { NO_EFFECT, judgeGroup, partners } from "./choice.js";
import { judge } from "./select.js";

// The situation of an application, {prepared, parts, readings, own, inPlay, groups}, out of its verdicts if they are
// there already: `parts` is a Map by state, `readings` as readTables gives them, `own` per decision and candidate,
// `inPlay` per decision, `groups` as groupBounds gives them.
export function situationOf(prepared, application, judged = judge(prepared, application)) {
  const { parts, readings, own, groups } = judged;
  return { prepared, parts, readings, own, inPlay: partners(own), groups };
}

// The worst of what the tables shared with other decisions leave a candidate with the partners in play.
export function sharedBounds(situation, decision, candidate) {
  let { worst, best } = NO_EFFECT;
  for (const { decisions, combinations } of situation.groups) {
    if (!decisions.includes(decision)) continue;
    const { bounds } = judgeGroup(
      decisions, combinations, decision, candidate, situation.inPlay, situation.prepared.sizes);
    worst = Math.min(worst, bounds.worst);
    best = Math.min(best, bounds.best);
  }
  return { worst, best };
}
