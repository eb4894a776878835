// Prints the seconds of each selection in JavaScript, or of its margins (`what`), for tests/bench: every application
// once per run, after one that is not counted.

import { readFileSync } from "node:fs";

const engine = new URL("../../generator/browser/engine/", import.meta.url);
const { margins } = await import(new URL("margins.js", engine));
const { prepare } = await import(new URL("prepared.js", engine));
const { choose, judge, select } = await import(new URL("select.js", engine));
const { situationOf } = await import(new URL("situation.js", engine));

const { pack, applications, runs, what } = JSON.parse(readFileSync(process.argv[2], "utf-8"));
const prepared = prepare(pack);
const works = applications.map((application) => {
  if (what === "select") return () => select(prepared, application);
  const judged = judge(prepared, application);
  const selected = choose(prepared, application, judged);
  return () => margins(situationOf(prepared, application, judged), selected);
});
for (const work of works) work();
const seconds = [];
for (let run = 0; run < runs; run += 1) {
  for (const work of works) {
    const start = performance.now();
    work();
    seconds.push((performance.now() - start) / 1000);
  }
}
process.stdout.write(JSON.stringify(seconds));
