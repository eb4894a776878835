// Gives back how each concession stands beside the verdict that it departs from, which it never changes.
//
// Twin of generator/evaluate/conceded.py.

export const HOLDS = "holds";
export const EXPIRED = "expired";
export const NEEDLESS = "needless";

// In the order given, each as {concession, verdict, rules, standing}; `today` as 2026-12-31. A concession holds
// through its last day. It is needless where the candidate is suitable, or where the rule or the state that it
// names does not stand against it.
export function conceded(selected, concessions, today) {
  return concessions.map((one) => stand(selected, one, today));
}

// private

function stand(selected, one, today) {
  const { candidates } = selected.decisions.find(({ decision }) => decision === one.decision);
  const result = candidates.find(({ candidate }) => candidate === one.candidate);
  const rules = [...new Set(against(selected, result, one).map((reason) => reason.rule))];
  const standing = rules.length === 0 ? NEEDLESS : one.until < today ? EXPIRED : HOLDS;
  return { concession: one, verdict: result.verdict, rules, standing };
}

// The reasons that the concession is about: those of the rule it names, or those that set the verdict.
function against(selected, result, one) {
  const reasons = [...result.reasons, ...joint(selected, one)]
    .filter((reason) => reason.verdict !== "suitable" && ["", reason.state].includes(one.state));
  if (one.rule) return reasons.filter((reason) => reason.rule === one.rule);
  if (result.verdict === "suitable") return [];
  const deciding = reasons.filter((reason) => reason.verdict === result.worst);
  const settled = deciding.filter((reason) => reason.settled);
  return settled.length > 0 ? settled : deciding;
}

// What stands against the candidate only together with others: it may be conceded by the rule's name.
function joint(selected, one) {
  if (!one.rule) return [];
  return [...selected.selections.flatMap((selection) => selection.chosen), ...selected.together]
    .filter((part) => part.decision === one.decision && part.candidate === one.candidate)
    .flatMap((part) => part.limits);
}
