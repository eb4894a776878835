// Answers questions put to a site's own scripts and pack: node decide.mjs <folder of engine/> <pack.json>
//
// One JSON line in, one out. {"table", "points": [[answer per column that is no decision]]}: an answer is a number,
// the id of a choice, or null for none; out come, per point, [rank, rank, rows, combinations] of what is decided alike.
// {"formula", "given": [{symbol: answer as typed}]} and {"input", "typed": [...]}: values and sets, or a fault.

import { readFileSync } from "node:fs";
import { createInterface } from "node:readline";
import { pathToFileURL } from "node:url";

const [, , folder, packFile] = process.argv;
const engine = (name) => import(new URL(`${name}.js`, pathToFileURL(`${folder}/`)));
const { indexTable, readTable } = await engine("tables");
const { evaluateFormula } = await engine("formulas");
const { readAnswer } = await engine("reading");
const pack = JSON.parse(readFileSync(packFile, "utf-8"));
const indexes = new Map();

for await (const line of createInterface({ input: process.stdin, crlfDelay: Infinity })) {
  let answer;
  try {
    answer = { value: decide(JSON.parse(line)) };
  } catch (error) {
    answer = { error: String(error.stack ?? error) };
  }
  process.stdout.write(`${JSON.stringify(answer)}\n`);
}

function decide(asked) {
  if (asked.table !== undefined) return asked.points.map((point) => atPoint(indexOf(asked.table), point));
  if (asked.formula !== undefined) return asked.given.map((given) => ofFormula(asked.formula, given));
  const input = pack.inputs.find((item) => item.id === asked.input);
  return asked.typed.map((typed) => readAnswer(input, typed).answer ?? null);
}

function indexOf(name) {
  if (!indexes.has(name)) indexes.set(name, indexTable(pack, pack.tables.find((table) => table.id === name)));
  return indexes.get(name);
}

function atPoint(index, point) {
  const { columns } = index.table;
  const places = columns.map((_, place) => place).filter((place) => columns[place].source !== "decision");
  const answers = new Map(places.map((place, i) => [place, setOf(columns[place], point[i])]));
  const moving = new Map(index.driven.map((driven) => [driven.join(" "), answers]));
  const alike = new Map();
  for (const [combination, { bounds, entries }] of readTable(index, answers, moving)) {
    const rows = entries.map((entry) => entry.row);
    const key = `${bounds.worst} ${bounds.best} ${rows}`;
    if (!alike.has(key)) alike.set(key, [bounds.worst, bounds.best, rows, []]);
    alike.get(key)[3].push(combination);
  }
  return [...alike.values()];
}

function setOf(column, answer) {
  if (column.kind === "choice") return { ids: [answer] };
  return answer === null ? { intervals: [], absent: true } : { intervals: [[answer, answer]], absent: false };
}

function ofFormula(name, given) {
  const formula = pack.formulas.find((item) => item.id === name);
  const read = {};
  for (const symbol of formula.symbols) {
    const found = readAnswer(asAnswer(symbol), given[symbol.id]).answer;
    if (found === undefined) return null;
    read[symbol.id] = found;
  }
  return evaluateFormula(formula, read);
}

// A letter of a formula is read like an answer in its unit, with the spellings of an input that has the same unit.
function asAnswer(symbol) {
  const like = pack.inputs.find((input) => input.kind === "number" && input.unit === symbol.unit);
  return {
    id: symbol.id, kind: "number", per_state: false, asked_of: "", may_be_absent: false, unit: symbol.unit,
    low: -1e300, high: 1e300, refusals: [], options: [], assumed: "",
    conversions: like ? like.conversions : [{ spelling: symbol.unit, n: 1, k: 0, d: 1, note: "" }],
  };
}
