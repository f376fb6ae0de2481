// A one-off run of many mutants: node <bundle> <first seed> <count>. Prints what must not happen, and how many of each kind.
import { readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { measuredFileReader } from "../../src/cli/measured.ts";
import { judge } from "./judge.ts";
import { dice, mutant } from "./mutate.ts";

const [folder, first = "1", count = "1000"] = process.argv.slice(2);
const files = readdirSync(folder).filter((name) => name.endsWith(".yaml"));
const texts = files.map((name) => readFileSync(join(folder, name), "utf8"));
const reader = measuredFileReader(join(folder, files[0]));
const tally: Record<string, number> = { refused: 0, ran: 0, fault: 0 };
let slowest = 0;
for (let seed = Number(first); seed < Number(first) + Number(count); seed += 1) {
  const { text, steps } = mutant(texts, dice(seed));
  const started = process.cpuUsage();
  const result = await judge(text, { reader, integrates: seed % 8 === 0 });
  const ms = process.cpuUsage(started).user / 1000;
  if (ms > slowest) {
    slowest = ms;
    console.log(`slowest so far: seed ${seed}, ${ms.toFixed(0)} ms (${result.kind}; ${steps.join("; ")})`);
  }
  tally[result.kind] += 1;
  if (result.kind === "fault")
    console.log(`seed ${seed}: ${steps.join("; ").slice(0, 200)}\n   ${result.why.slice(-600)}`);
  if (seed % 500 === 0) console.log(seed, JSON.stringify(tally), `${(process.memoryUsage().rss / 1e6).toFixed(0)} MB`);
}
console.log(JSON.stringify(tally));
