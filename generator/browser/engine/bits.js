// Gives back sets as lists of 32-bit words, which are quicker here than one long whole number: member `at` is bit
// at % 32 of word at / 32. All sets of one layout have the same number of words. Python needs none of this.

export function none(words) {
  return new Array(words).fill(0);
}

export function single(at, words) {
  const set = none(words);
  set[at >> 5] = 1 << (at & 31);
  return set;
}

export function union(sets, words) {
  const all = none(words);
  for (const set of sets) for (let i = 0; i < words; i += 1) all[i] |= set[i];
  return all;
}

export function both(one, other) {
  return one.map((word, i) => word & other[i]);
}

export function without(one, other) {
  return one.map((word, i) => word & ~other[i]);
}

export function isSame(one, other) {
  return one.every((word, i) => word === other[i]);
}

// Whether the two have a member in common.
export function meets(one, other) {
  for (let i = 0; i < one.length; i += 1) if ((one[i] & other[i]) !== 0) return true;
  return false;
}

// Whether `one` has every member of `other`.
export function holds(one, other) {
  for (let i = 0; i < one.length; i += 1) if ((other[i] & ~one[i]) !== 0) return false;
  return true;
}

export function isEmpty(set) {
  for (let i = 0; i < set.length; i += 1) if (set[i] !== 0) return false;
  return true;
}
