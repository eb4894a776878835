// Gives back what a provisional verdict is to be confirmed against: documents whose figures were quoted from
// memory. The words are those of generator/render/provisional.py.

export const PROVISIONAL = ", provisional";

// `provisional: confirm ISO 20456 clause 4 and general corrosion handbooks`, or nothing; `result` is whatever
// has a verdict.
export function provisionalWords(view, { confirm }) {
  const names = confirm.map((place) => {
    const { source, clause } = view.recalled[place];
    return shortTitle(view.sources.get(source).title) + (clause ? ` clause ${clause}` : "");
  });
  if (!names.length) return "";
  const last = names.pop();
  return `provisional: confirm ${names.length ? `${names.join(", ")} and ${last}` : last}`;
}

// The same as a sentence: `Provisional: confirm ISO 20456.`
export function confirmSentence(view, result) {
  const words = provisionalWords(view, result);
  return words && `${words[0].toUpperCase()}${words.slice(1)}.`;
}

// private

function shortTitle(title) {
  const [short] = title.split(", ");
  return /^.\p{Ll}/u.test(short) ? short[0].toLowerCase() + short.slice(1) : short;
}
