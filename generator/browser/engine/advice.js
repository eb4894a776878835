// Gives back which cautions and hand-over items go with a result: those whose condition holds, or may hold.
//
// A condition is read in every described state, and there for every component of a mixture, with the candidates
// of the first selection; where there is none,
// with every candidate that is still in play. Twin of generator/evaluate/advice.py.

// In the order of the pack, each as {id, certain}: not certain where open answers, or the choice, may still make
// it idle.
export function adviceFor(pack, answers, decisions, selections) {
  const chosen = chosenOf(decisions, selections);
  const told = [];
  for (const one of pack.advice) {
    const met = [...answers.values()].map((known) => metBy(one, known, chosen));
    if (met.some(([possible]) => possible)) told.push({ id: one.id, certain: met.some(([, certain]) => certain) });
  }
  return told;
}

// private

function chosenOf(decisions, selections) {
  if (selections.length > 0) {
    return new Map(selections[0].chosen.map((one) => [one.decision, { ids: [one.candidate] }]));
  }
  return new Map(decisions.map((decision) => [decision.decision, {
    ids: decision.candidates.filter((one) => one.best !== "unsuitable" || !decision.in_play)
      .map((one) => one.candidate),
  }]));
}

// Whether the condition may hold, and whether it does for every completion of the answers.
function metBy(one, known, chosen) {
  const parts = one.conditions.map(({ name, cell }) => meets(chosen.get(name) ?? known.get(name), cell));
  return [parts.every(([possible]) => possible), parts.every(([, certain]) => certain)];
}

function meets(answer, cell) {
  let inside;
  if (answer.ids !== undefined) {
    inside = answer.ids.map((name) => cell.ids.includes(name));
  } else {
    inside = answer.intervals.map(([low, high]) => cell.intervals.some((part) => holds(part, low, high)));
    if (answer.absent) inside.push(cell.absent);
    if (answer.intervals.some(([low, high]) => cell.intervals.some((part) => touches(part, low, high)))) {
      return [true, inside.every(Boolean)];
    }
  }
  return [inside.some(Boolean), inside.length > 0 && inside.every(Boolean)];
}

function holds(part, low, high) {
  return (part.low < low || (part.low_in && part.low === low)) &&
    (high < part.high || (part.high_in && high === part.high));
}

function touches(part, low, high) {
  return (part.low < high || (part.low_in && part.low === high)) &&
    (low < part.high || (part.high_in && low === part.high));
}
