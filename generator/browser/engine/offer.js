// Gives back how an offered sensor compares with what an application requires, decision by decision, by the same
// rules.
//
// What is required is the first selection of the application, and for each figure the application's own extreme:
// a sensor must bear at least its highest `..._max` and at most its lowest `..._min`. Offered candidates are judged
// together, at the true bore if that is stated. What is offered as required, and falls short only beside another part
// that is not, is left to that part. An offer is {chosen: [[decision, candidate]], figures: [[input,
// number]], true_bore: number or null}. Twin of generator/evaluate/offer.py.

import { prepare } from "./prepared.js";
import { select } from "./select.js";
import { VERDICTS } from "./model.js";

export const BORE = "nominal_bore"; // the number of a candidate that a true bore takes the place of
export const AS_REQUIRED = "as_required";
export const ACCEPTED = "accepted";
export const DEVIATION = "deviation";
export const OPEN = "open";

// Candidates in the order of the decisions as {decision, required, offered, standing, verdict, reasons}, figures in
// that of the inputs as {input, required, offered, standing}.
export function compareOffer(pack, application, offer) {
  const required = first(pack, application);
  const judged = first(withTrueBore(pack, offer), { ...application, pinned: offer.chosen });
  const stated = new Map(offer.chosen);
  const candidates = eachToItsOwn(required, pack.decisions.map(({ id }) =>
    candidateOf(id, part(required, id), part(judged, id), stated.get(id) ?? "")));
  const figures = new Map(offer.figures);
  return {
    candidates,
    figures: requiredFigures(pack, application).map(([name, needed]) =>
      figureOf(name, needed, figures.get(name) ?? null)),
  };
}

// The pack in which the offered size has its true bore in place of the nominal one.
export function withTrueBore(pack, offer) {
  if (offer.true_bore === null) return pack;
  const stated = new Map(offer.chosen);
  return { ...pack, decisions: pack.decisions.map((decision) => ({
    ...decision, candidates: decision.candidates.map((one) => (stated.get(decision.id) !== one.id ? one : {
      ...one, numbers: one.numbers.map(([name, number]) => [name, name === BORE ? offer.true_bore : number]),
    })),
  })) };
}

// Per number input that ends in `_max` or `_min` the extreme of all states, as far as it is answered.
export function requiredFigures(pack, application) {
  const found = [];
  for (const { id } of pack.inputs) {
    const ends = application.states.flatMap((state) => state.answers)
      .filter(([name, answer]) => name === id && answer.intervals !== undefined)
      .flatMap(([, answer]) => answer.intervals.flat());
    if (ends.length > 0 && id.endsWith("_max")) found.push([id, Math.max(...ends)]);
    else if (ends.length > 0 && id.endsWith("_min")) found.push([id, Math.min(...ends)]);
  }
  return found;
}

// private

function first(pack, application) {
  return select(prepare(pack), application).selections[0] ?? null;
}

function part(selection, decision) {
  return selection === null ? null : selection.chosen.find((one) => one.decision === decision);
}

function candidateOf(decision, required, judged, offered) {
  const needed = required !== null ? required.candidate : "";
  if (!offered) return { decision, required: needed, offered: "", standing: OPEN, verdict: "", reasons: [] };
  if (judged === null) {
    return { decision, required: needed, offered, standing: DEVIATION, verdict: VERDICTS[0], reasons: [] };
  }
  return {
    decision, required: needed, offered, standing: standingOf(required, judged), verdict: judged.verdict,
    reasons: judged.limits,
  };
}

function standingOf(required, judged) {
  if (judged.verdict === "open") return OPEN;
  if (judged.verdict === VERDICTS[0] ||
      (required !== null && VERDICTS.indexOf(judged.verdict) < VERDICTS.indexOf(required.verdict))) {
    return DEVIATION;
  }
  return required !== null && judged.candidate === required.candidate ? AS_REQUIRED : ACCEPTED;
}

// A line that is offered as required and stands as deviation or open only by rules that it shares with another line,
// which is not and stands so too, has its required verdict: the other line tells what is wrong.
function eachToItsOwn(required, lines) {
  if (required === null) return lines;
  const changed = new Map(lines.filter((one) => one.offered !== one.required)
    .map((one) => [`${one.decision} ${one.offered}`, one.standing]));
  return lines.map((one) => {
    const { verdict } = part(required, one.decision);
    const elsewhere = one.offered === one.required && [DEVIATION, OPEN].includes(one.standing) &&
      one.reasons.length > 0 && one.reasons.every((reason) =>
        reason.partner.some(([decision, candidate]) => changed.get(`${decision} ${candidate}`) === one.standing));
    return elsewhere && ["suitable", "caution"].includes(verdict)
      ? { ...one, standing: AS_REQUIRED, verdict, reasons: [] } : one;
  });
}

function figureOf(name, needed, offered) {
  if (offered === null) return { input: name, required: needed, offered, standing: OPEN };
  const enough = name.endsWith("_max") ? offered >= needed : offered <= needed;
  const standing = !enough ? DEVIATION : offered === needed ? AS_REQUIRED : ACCEPTED;
  return { input: name, required: needed, offered, standing };
}
