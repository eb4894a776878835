// Gives back the documents that a verdict still waits to be confirmed against: figures quoted from memory.
//
// A suitable or cautious verdict rests on every rule that was read for it. An unsuitable one stands by itself
// as soon as one table rules the candidate out without such a figure. An open verdict claims nothing.
// Twin of generator/evaluate/confirm.py.

import { NO_VALUE, OPEN, everyCombination } from "./tables.js";

// Places in `pack.recalled`, rising: what the verdict of a candidate by itself rests on.
export function confirmCandidate(pack, readings, decision, candidate, bounds, verdicts, inPlay) {
  const sharedOf = (verdict) => readings.get(verdict.decisions.join(" ")).found;
  const own = read(readings.get(String(decision))?.found ?? [], [candidate]);
  if (bounds.worst === bounds.best && bounds.best > OPEN) {
    return all(pack, [...own, ...verdicts.flatMap((verdict) => read(sharedOf(verdict), verdict.partner))]);
  }
  if (bounds.best > 0) return [];
  const ways = own.some(([, outcome]) => outcome.bounds.best === 0) ? [failing(pack, own)] : [];
  for (const verdict of verdicts) {
    if (verdict.bounds.best === 0) {
      const playing = everyCombination(
        verdict.decisions.map((place) => (place === decision ? [candidate] : inPlay[place].possible)));
      ways.push(playing.flatMap((one) => failing(pack, read(sharedOf(verdict), one))));
    }
  }
  return rising(ways);
}

// The same for one candidate per decision; with a decision, by the tables that name it.
export function confirmChosen(pack, readings, chosen, bounds, decision = null) {
  const found = [...readings.values()]
    .filter(({ decisions }) => decision === null || decisions.includes(decision))
    .flatMap(({ decisions, found: shared }) => read(shared, decisions.map((place) => chosen[place])));
  if (bounds.worst === bounds.best && bounds.best > OPEN) return all(pack, found);
  return bounds.best === 0 ? failing(pack, found) : [];
}

// private

function read(readings, combination) {
  const key = combination.join(" ");
  return readings.filter((reading) => reading.outcomes.has(key))
    .map((reading) => [reading.table, reading.outcomes.get(key)]);
}

function recalled(pack, table, outcome) {
  const { rows } = pack.tables[table];
  return outcome.entries.flatMap((entry) => (entry.row === NO_VALUE ? [] : rows[entry.row].recalled));
}

function all(pack, found) {
  return sorted(found.flatMap(([table, outcome]) => recalled(pack, table, outcome)));
}

// What the tables that rule out rest on; nothing where one of them rests on no such figure. Of a collect table
// each row that holds for certain rules out by itself.
function failing(pack, found) {
  const ways = [];
  for (const [table, outcome] of found) {
    if (outcome.bounds.best !== 0) continue;
    if (pack.tables[table].hit_policy === "collect") {
      const sure = outcome.entries.filter((entry) => entry.rank === 0 && entry.certain);
      ways.push(...sure.map((entry) => pack.tables[table].rows[entry.row].recalled));
    } else ways.push(recalled(pack, table, outcome));
  }
  return rising(ways);
}

// All of them; nothing where one way to the same verdict rests on nothing.
function rising(ways) {
  return ways.every((way) => way.length > 0) ? sorted(ways.flat()) : [];
}

function sorted(places) {
  return [...new Set(places)].sort((a, b) => a - b);
}
