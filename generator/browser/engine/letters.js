// Gives back the open inputs of an application by who usually knows them: what a letter to each of them asks.
// Twin of generator/evaluate/letters.py.

// One letter per addressee, {asked_of, asked: [{input, states, alone, waiting}, ...]}, in the order in which the
// vocabulary first names them; its questions are in the vocabulary's order too. An input that several states share, or
// leave open alike, is one question. `alone` and `waiting` are lists of [decision, [candidate, ...]].
export function letters(pack, selected) {
  const shared = new Set(pack.inputs.filter((item) => !item.per_state).map((item) => item.id));
  const states = new Map();
  const alone = new Map();
  const waiting = new Map();
  for (const { decision, candidates } of selected.decisions) {
    for (const { candidate, open_inputs: open } of candidates) {
      const names = new Set(open.map(([, name]) => name));
      for (const [state, name] of open) {
        if (!states.has(name)) states.set(name, new Set());
        states.get(name).add(shared.has(name) ? pack.states[0].id : state);
      }
      for (const name of names) {
        add(waiting, name, decision, candidate);
        if (names.size === 1) add(alone, name, decision, candidate);
      }
    }
  }
  const found = new Map(pack.inputs.map((item) => [item.asked_of, []]));
  for (const item of pack.inputs.filter(({ id }) => states.has(id))) {
    found.get(item.asked_of).push({
      input: item.id,
      states: pack.states.map((state) => state.id).filter((state) => states.get(item.id).has(state)),
      alone: [...(alone.get(item.id) ?? [])], waiting: [...waiting.get(item.id)],
    });
  }
  return [...found].filter(([, asked]) => asked.length > 0).map(([asked_of, asked]) => ({ asked_of, asked }));
}

// private

function add(counts, name, decision, candidate) {
  if (!counts.has(name)) counts.set(name, new Map());
  const known = counts.get(name);
  if (!known.has(decision)) known.set(decision, []);
  known.get(decision).push(candidate);
}
