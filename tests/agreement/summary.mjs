// Answers applications with the JavaScript engine, one JSON line in, one out, for tests/agreement/summary.py.
//
// {"pack"} makes a pack ready and answers true. {"applications"} answers two digests per application, of all
// words and of all numbers; with "full" the words and the numbers themselves; with "verdicts" those of every
// candidate; with "margins" all margins, the nearest one, and
// the ranked questions.

import { createHash } from "node:crypto";
import { createInterface } from "node:readline";

const engine = new URL("../../generator/browser/engine/", import.meta.url);
const { prepare } = await import(new URL("prepared.js", engine));
const { select } = await import(new URL("select.js", engine));
const { situationOf } = await import(new URL("situation.js", engine));
const { margins, nearestMargin } = await import(new URL("margins.js", engine));
const { rankedQuestions } = await import(new URL("next_question.js", engine));

let prepared = null;
for await (const line of createInterface({ input: process.stdin, crlfDelay: Infinity })) {
  const asked = JSON.parse(line);
  if (asked.pack) prepared = prepare(asked.pack);
  const told = asked.pack ? true : asked.applications.map((one) => answer(one, asked));
  process.stdout.write(`${JSON.stringify(told)}\n`);
}

function answer(application, { full, verdicts, margins: asked }) {
  const selected = select(prepared, application);
  if (asked) {
    const found = margins(situationOf(prepared, application), selected);
    return [found, nearestMargin(found), rankedQuestions(prepared.pack, selected)];
  }
  if (verdicts) {
    return Object.fromEntries(selected.decisions.flatMap(({ decision, candidates }) =>
      candidates.map((one) => [`${decision} ${one.candidate}`, one.verdict])));
  }
  const words = wordsOf(selected);
  const numbers = selected.values.flatMap((value) => (value.low === null ? [] : [value.low, value.high]));
  if (full) return [words, numbers];
  return [digest(words), digest(Buffer.from(Float64Array.from(numbers).buffer))];
}

function wordsOf(selected) {
  const lines = [selected.application];
  for (const decision of selected.decisions) {
    lines.push(`${decision.decision} ${Number(decision.in_play)}`);
    for (const one of decision.candidates) {
      lines.push(`${one.candidate} ${one.verdict} ${one.best} ${one.worst}`);
      lines.push(...reasonLines(one.reasons));
      lines.push(one.open_inputs.map((pair) => pair.join(".")).join(" "), one.confirm.join(" "));
    }
  }
  for (const one of selected.selections) {
    const openInputs = one.open_inputs.map((pair) => pair.join(".")).join(" ");
    lines.push(`${one.verdict} ${one.best} ${one.worst} ${openInputs} ${one.confirm.join(",")}`);
    lines.push(...reasonLines(one.limits));
    for (const part of one.chosen) {
      lines.push(`${part.decision} ${part.candidate} ${Number(part.pinned)} ` +
        `${part.verdict} ${part.best} ${part.worst} ${part.confirm.join(",")}`);
      lines.push(...reasonLines(part.limits));
    }
  }
  for (const one of selected.together) {
    lines.push(`${one.decision} ${one.candidate} ${one.verdict} ${one.best} ${one.worst}`);
    lines.push(...reasonLines(one.limits));
  }
  if (selected.conflict !== null) {
    lines.push(`${selected.conflict.left} ${selected.conflict.tables.join(" ")}`);
    lines.push(...reasonLines(selected.conflict.reasons));
  }
  lines.push(selected.advice.map((one) => `${one.id} ${Number(one.certain)}`).join(" "));
  for (const value of selected.values) {
    lines.push(`${value.name} ${value.formula} ${value.candidate} ${value.state} ${value.unit} ` +
      `${Number(value.low === null)} ${Number(value.absent)}`);
  }
  return lines.join("\n");
}

function reasonLines(reasons) {
  return reasons.map((one) => `${one.rule} ${one.table} ${one.state} ${one.verdict} ` +
    `${one.partner.map((pair) => pair.join("=")).join(",")} ${one.others} ` +
    `${Number(one.settled)} ${one.components.join("+")}`);
}

function digest(content) {
  return createHash("sha1").update(content).digest("hex");
}
