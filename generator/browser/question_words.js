// Gives back what hangs on an open question in words. Twin of generator/render/question_words.py.

// `the only open answer of 14 verdicts of 3 decisions; 20 verdicts of 5 decisions wait for it`
export function questionWords({ alone, waiting }) {
  const settles = alone.length > 0 ? `the only open answer of ${verdicts(alone)}` : "one of several open answers";
  const isSame = JSON.stringify(alone) === JSON.stringify(waiting);
  const waits = `; ${verdicts(waiting)} ${total(waiting) > 1 ? "wait" : "waits"} for it`;
  return isSame ? settles : settles + waits;
}

// private

function total(counts) {
  return counts.reduce((sum, [, number]) => sum + number, 0);
}

function verdicts(counts) {
  const sum = total(counts);
  return `${sum} verdict${sum > 1 ? "s" : ""} of ${counts.length} decision${counts.length > 1 ? "s" : ""}`;
}
