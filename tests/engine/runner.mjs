// Answers calls of the JavaScript engine, one JSON line in, one JSON line out, for tests/engine/twin.py.
//
// A call is {"module", "call", "args"}; an argument {"$big": "12"} is a BigInt, {"$kept": "name"} is what an
// earlier call with "keep": "name" gave back, {"$map": [[key, value]]} a Map. The answer is {"value"} or
// {"error"}. {"batch": [[args], ...]} calls once per entry.

import { createInterface } from "node:readline";

const engine = new URL("../../generator/browser/engine/", import.meta.url);
const kept = new Map();

for await (const line of createInterface({ input: process.stdin, crlfDelay: Infinity })) {
  process.stdout.write(`${JSON.stringify(await answer(JSON.parse(line)))}\n`);
}

async function answer(asked) {
  try {
    if (asked.call === "$hold") {
      kept.set(asked.keep, incoming(asked.args[0]));
      return { value: null };
    }
    const module = await import(new URL(`${asked.module}.js`, engine));
    if (asked.call === "$exports") return { value: exportsInOrder(await source(asked.module)) };
    const call = module[asked.call];
    if (asked.batch) return { value: asked.batch.map((args) => outgoing(call(...args.map(incoming)))) };
    const value = call(...asked.args.map(incoming));
    if (!asked.keep) return { value: outgoing(value) };
    kept.set(asked.keep, value);
    return { value: null };
  } catch (error) {
    return { error: String(error.stack ?? error) };
  }
}

function incoming(value) {
  if (value === null || typeof value !== "object") return value;
  if (Array.isArray(value)) return value.map(incoming);
  if ("$big" in value) return BigInt(value.$big);
  if ("$kept" in value) return kept.get(value.$kept);
  if ("$infinite" in value) return value.$infinite * Infinity;
  if ("$map" in value) return new Map(value.$map.map(([key, inner]) => [key, incoming(inner)]));
  return Object.fromEntries(Object.entries(value).map(([key, inner]) => [key, incoming(inner)]));
}

// What JSON cannot say is said with a mark: not finite numbers, maps, and "nothing".
function outgoing(value) {
  if (typeof value === "number" && !Number.isFinite(value)) return { $number: String(value) };
  if (typeof value === "bigint") return { $big: String(value) };
  if (value === undefined) return { $undefined: true };
  if (value === null || typeof value !== "object") return value;
  if (value instanceof Map) return { $map: [...value].map(([key, inner]) => [key, outgoing(inner)]) };
  if (Array.isArray(value)) return value.map(outgoing);
  return Object.fromEntries(Object.entries(value).map(([key, inner]) => [key, outgoing(inner)]));
}

async function source(name) {
  const { readFile } = await import("node:fs/promises");
  return readFile(new URL(`${name}.js`, engine), "utf-8");
}

function exportsInOrder(text) {
  return [...text.matchAll(/^export (?:async )?(?:function|const|class) (\w+)/gm)].map((found) => found[1]);
}
