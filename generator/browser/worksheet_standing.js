// Gives back how each decision stands, in words: its first candidate, that one's verdict, and what may be
// better.

import { VERDICTS } from "./engine/model.js";
import { PROVISIONAL } from "./worksheet_provisional.js";

// { title, first, verdict, more, better }: `more` counts those that share the verdict, `better` the open ones
// that the missing answers may lift above it.
export function standing(view, decision) {
  const { candidate, verdict, confirm } = decision.candidates[0];
  const equal = decision.candidates.filter((one) => one.verdict === verdict).length;
  const { title } = view.decisions.get(decision.decision);
  const alone = { title, more: "", better: "" };
  if (!decision.in_play) return { ...alone, first: "none left", verdict: "all unsuitable" };
  if (verdict === "open" && equal > 1) return { ...alone, first: "not settled", verdict: `${equal} open` };
  return {
    title,
    first: view.titles.get(`${decision.decision} ${candidate}`),
    verdict: verdict + (confirm.length ? PROVISIONAL : ""),
    more: equal > 1 ? `and ${equal - 1} more` : "",
    better: verdict === "open" ? "" : betterWords(decision, verdict),
  };
}

// All decisions in one line: `Size: DN 100, suitable and 2 more. Liner: PFA, caution; 2 open that may be
// better. ...`
export function summaryOf(view, selected) {
  return selected.decisions
    .map((decision) => {
      const { title, first, verdict, more, better } = standing(view, decision);
      const words = [`${title}: ${first}, ${verdict}`, more].filter(Boolean).join(" ");
      return `${[words, better].filter(Boolean).join("; ")}.`;
    })
    .join(" ");
}

// private

function betterWords(decision, verdict) {
  const rank = VERDICTS.indexOf(verdict);
  const better = decision.candidates.filter(
    (one) => one.verdict === "open" && VERDICTS.indexOf(one.best) > rank,
  ).length;
  return better ? `${better} open that may be better` : "";
}
