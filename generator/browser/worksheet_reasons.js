// Gives back which of a candidate's rules decides, and its words: what only some answers lead to is no fact.

export const UNSETTLED = "Not ruled out yet: ";
export const LONG_NOTE = 100; // letters; a longer note to a basis is folded, and left out on paper

// The rule that stands first: of the verdict that decides, the first that holds whatever is still open; null
// if there is none. Of an open candidate the worst verdict decides: it says what still stands in the way.
export function headline(result) {
  const deciding = result.best === result.worst ? result.verdict : result.worst;
  const alike = result.reasons.filter((reason) => reason.verdict === deciding);
  return alike.find(isSettled) ?? alike[0] ?? result.reasons[0] ?? null;
}

// Whether a rule holds for every completion of the answers.
export function isSettled(reason) {
  return reason.settled === true;
}

// The words of a rule's verdict: what is not settled rejects nothing yet.
export function reasonVerdict(reason) {
  return isSettled(reason) ? reason.verdict : `may be ${reason.verdict}`;
}

// ` (together with PFA)`, or nothing; of a mixture the components too: ` (Citric acid and Seawater; ...)`.
export function partnerWords(view, reason) {
  const titles = reason.partner.map(([decision, candidate]) => view.titles.get(`${decision} ${candidate}`));
  const liquids = reason.components.map((place) => view.liquids.get(`${reason.state} ${place}`));
  const parts = [liquids.join(" and "), titles.length > 0 && `together with ${titles.join(", ")}`].filter(Boolean);
  return parts.length > 0 ? ` (${parts.join("; ")})` : "";
}
