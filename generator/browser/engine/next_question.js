// Gives back the open questions of an application, ranked: the one first whose answer alone settles most.
//
// A verdict is open here while an answer could still move it. An answer settles it alone where it waits for no other
// one. What all states share is asked once, in the first state of the pack. Twin of
// generator/evaluate/next_question.py.

// Every open input, {state, input, alone, waiting}, both of these lists of [decision, count]: by the number of
// verdicts that it settles alone, then by the number that wait for it among others, then in the order of states and
// of the vocabulary.
export function rankedQuestions(pack, selected) {
  const shared = new Set(pack.inputs.filter((item) => !item.per_state).map((item) => item.id));
  const found = new Map();
  for (const { decision, candidates } of selected.decisions) {
    for (const { open_inputs: open } of candidates) {
      const asked = new Set(open.map(([state, name]) => `${shared.has(name) ? pack.states[0].id : state} ${name}`));
      for (const key of asked) {
        if (!found.has(key)) found.set(key, { alone: new Map(), waiting: new Map() });
        count(found.get(key).waiting, decision);
        if (asked.size === 1) count(found.get(key).alone, decision);
      }
    }
  }
  const states = pack.states.map((state) => state.id);
  const inputs = pack.inputs.map((item) => item.id);
  return [...found].map(([key, { alone, waiting }]) => {
    const [state, input] = key.split(" ");
    return { state, input, alone: [...alone], waiting: [...waiting] };
  }).sort((one, other) => sum(other.alone) - sum(one.alone) || sum(other.waiting) - sum(one.waiting) ||
    states.indexOf(one.state) - states.indexOf(other.state) || inputs.indexOf(one.input) - inputs.indexOf(other.input));
}

// The first of the ranked questions; null where no verdict waits for an answer.
export function nextQuestion(pack, selected) {
  return rankedQuestions(pack, selected)[0] ?? null;
}

// private

function count(counts, decision) {
  counts.set(decision, (counts.get(decision) ?? 0) + 1);
}

function sum(counts) {
  return counts.reduce((total, [, number]) => total + number, 0);
}
