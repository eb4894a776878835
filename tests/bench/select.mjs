// Prints the seconds of each selection in JavaScript, for tests/bench: every application once per run, after one
// that is not counted.

import { readFileSync } from "node:fs";

const engine = new URL("../../generator/browser/engine/", import.meta.url);
const { prepare } = await import(new URL("prepared.js", engine));
const { select } = await import(new URL("select.js", engine));

const { pack, applications, runs } = JSON.parse(readFileSync(process.argv[2], "utf-8"));
const prepared = prepare(pack);
for (const application of applications) select(prepared, application);
const seconds = [];
for (let run = 0; run < runs; run += 1) {
  for (const application of applications) {
    const start = performance.now();
    select(prepared, application);
    seconds.push((performance.now() - start) / 1000);
  }
}
process.stdout.write(JSON.stringify(seconds));
