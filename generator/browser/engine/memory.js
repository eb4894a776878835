// Gives back answers that were met before, and what was worked out from them, so that nothing is worked out twice.
//
// Most tables and formulas ask only what all states share, or what has not changed since the application was last
// looked at. A memory belongs to one pack; it makes nothing else, only sooner. It is {answers, places, known}:
// `answers` are those met before by what they say, `places` gives each a number, `known` what was worked out, by
// what it is (a derived value or the place of a table) and then by the answers it was worked out from. Twin of
// generator/evaluate/memory.py.

// Of nothing.
export function newMemory() {
  return { answers: new Map(), places: new Map(), known: new Map() };
}

// The same answers, each the very object that stood for it before.
export function metBefore(memory, answers) {
  const met = new Map();
  for (const [name, answer] of answers) {
    if (memory.places.has(answer)) {
      met.set(name, answer);
      continue;
    }
    const words = answer.ids !== undefined ? answer.ids.join(" ") : `${answer.absent} ${answer.intervals.join(" ")}`;
    const known = memory.answers.get(words);
    if (known === undefined) {
      memory.answers.set(words, answer);
      memory.places.set(answer, memory.places.size);
    }
    met.set(name, known ?? answer);
  }
  return met;
}

// What `work` gives, which depends on the named answers alone; all of `answers` must be `metBefore`.
export function remembered(memory, what, names, answers, work) {
  let known = memory.known.get(what);
  if (known === undefined) memory.known.set(what, known = new Map());
  let key = "";
  for (const name of names) key += `${memory.places.get(answers.get(name))} `;
  let found = known.get(key);
  if (found === undefined) known.set(key, found = work());
  return found;
}
