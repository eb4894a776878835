// Gives back the course of a derived value while one answer moves: where it comes to other rows.
//
// The answer runs through the 12-digit numbers of its range. Halves in which the value reaches the same rows
// throughout are left alone, the others halved again, down to two neighbouring numbers. Where a formula bounds its
// value so widely that halving does not end, the value is taken to rise or fall within a half whose ends reach the
// same. Twin of generator/evaluate/courses.py.

import { roundTo12 } from "./numbers.js";

export const MOST = 1000; // looks between two ends before these are taken at their word
export const STEP = 1e-12; // the number next to zero

// {before, after, reaches}: the last numbers before each change and the first ones behind it, rising, and what the
// value reaches up to the first change and behind each. `reach(a, b)` is what the value reaches while the answer is
// anything from a to b.
export function courseOf(reach, low, high) {
  const ends = [];
  let left = MOST;
  const waiting = [[low, high]];
  while (waiting.length > 0) {
    const [start, end] = waiting.pop();
    const first = reach(start, start);
    const last = reach(end, end);
    left -= 1;
    if (isSameReach(first, last) && (left < 0 || isSameReach(reach(start, end), first))) continue;
    const middle = roundTo12((start + end) / 2);
    if (start < middle && middle < end && end - start > STEP) waiting.push([middle, end], [start, middle]);
    else if (!isSameReach(first, last)) ends.push([start, end]);
  }
  return {
    before: ends.map(([start]) => start), after: ends.map(([, end]) => end),
    reaches: [reach(low, low), ...ends.map(([, end]) => reach(end, end))],
  };
}

// What the value reaches with the answer at the number (side 0), just below it (-1) or just above it (1).
export function reachBeside(course, number, side) {
  let place = course.before.filter((other) => other < number).length; // changes behind smaller numbers
  if (side > 0 && course.before[place] === number) place += 1;
  if (side < 0 && place > 0 && course.after[place - 1] === number) place -= 1;
  return course.reaches[place];
}

// private

function isSameReach(one, other) {
  return one.rows === other.rows && one.sure === other.sure && one.perhaps === other.perhaps &&
    one.never === other.never;
}
