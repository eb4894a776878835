// Gives back what an application is judged on: its parts, what every table says of them, and who is in play.
// Twin of generator/evaluate/situation.py.

import { NO_EFFECT, groupBounds, judgeGroup, ownBounds, partners } from "./choice.js";
import { partsOf } from "./mixtures.js";
import { readTables } from "./select.js";

// The situation of an application, {prepared, parts, readings, own, inPlay, groups}: `parts` is a Map by state,
// `readings` as readTables gives them, `own` per decision and candidate, `inPlay` per decision, `groups` as
// groupBounds gives them. What is not answered is what its blank means.
export function situationOf(prepared, application) {
  const parts = new Map(application.states.map((state) => [state.state, partsOf(prepared, state)]));
  const readings = readTables(prepared, parts);
  const own = ownBounds(prepared.sizes, readings);
  return { prepared, parts, readings, own, inPlay: partners(own), groups: groupBounds(readings) };
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
