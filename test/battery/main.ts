/**
 * The random numbers as the engine uses them through the tests of dieharder (R. G. Brown, D. Eddelbuettel, D. Bauer; Debian's package).
 *
 *     npm run battery -- [--order units] [--record test/battery/record.json]     all orders, or one; a record keeps the others
 *     node .build/battery.js --emit units [--start 0] | …                         32-bit words without end, for any other battery
 *
 * One order gets the whole battery, the others the tests that take little time. About an hour on one core; what came out is in `record.json`.
 */
import { spawnSync } from "node:child_process";
import { existsSync, readFileSync, writeFileSync, writeSync } from "node:fs";
import { cpus } from "node:os";
import { fileURLToPath } from "node:url";
import { parseArgs } from "node:util";
import { STREAM_VERSION } from "../../src/random/streams.ts";
import { ORDERS, wordsOf } from "./orders.ts";
import type { BatteryRecord, TestResult } from "./record.ts";

/** The order that gets everything: what the program does all day. */
const WHOLE = "units";

/** Tests of the others, by dieharder's numbers: rank, bit patterns, runs, gaps, serial, permutations. Each reads its own stretch of the streams. */
const SHORT = [0, 1, 2, 4, 8, 9, 10, 15, 16, 17, 100, 101, 102, 204, 206, 209];

/** For orders that give fewer numbers a second: the tests that ask for fewer. */
const FEWER: Readonly<Record<string, readonly number[]>> = {
  blocks: [0, 2, 15, 16, 100, 101, 102],
  scores: [0, 2, 15, 16, 100, 101, 102],
  names: [0, 15, 100, 101],
};

/** Batches between the stretches that two tests read: more than any of them takes. */
const STRETCH = 2 ** 24;

const { values: options } = parseArgs({
  options: {
    emit: { type: "string" },
    start: { type: "string", default: "0" },
    order: { type: "string" },
    record: { type: "string" },
  },
});

if (options.emit !== undefined) emit(options.emit, Number(options.start));
else run(options.order === undefined ? Object.keys(ORDERS) : [options.order]);

function emit(name: string, start: number): void {
  const order = ORDERS[name]();
  const uniforms = new Float64Array(order.length);
  const words = new Uint32Array(order.length);
  const bytes = new Uint8Array(words.buffer);
  try {
    for (let batch = start; ; batch += 1) {
      order.fill(batch, uniforms);
      wordsOf(order, uniforms, words);
      for (let sent = 0; sent < bytes.length; ) sent += writeSync(1, bytes, sent);
    }
  } catch (error) {
    // The reader has had enough.
    if ((error as NodeJS.ErrnoException).code !== "EPIPE") throw error;
  }
}

function run(names: readonly string[]): void {
  const results: TestResult[] = [];
  const began = Date.now();
  for (const name of names) {
    const { about } = ORDERS[name]();
    console.log(`${name}: ${about}`);
    if (name === WHOLE) {
      results.push(...battery(name, "-a", 0));
    } else {
      for (const [at, test] of (FEWER[name] ?? SHORT).entries()) {
        results.push(...battery(name, `-d ${test}`, at * STRETCH));
      }
    }
  }
  const record: BatteryRecord = {
    streamVersion: STREAM_VERSION,
    battery: version(),
    node: process.version,
    processor: cpus()[0].model,
    minutes: Math.round((Date.now() - began) / 6000) / 10,
    orders: Object.fromEntries(names.map((name) => [name, ORDERS[name]().about])),
    results,
  };
  if (options.record !== undefined) writeFileSync(options.record, formatRecord(joined(options.record, record)));
  const said = results.map((result) => result.assessment);
  console.log(
    `${said.length} results: ${said.filter((word) => word === "WEAK").length} weak, ${said.filter((word) => word === "FAILED").length} failed`,
  );
  process.exitCode = said.includes("FAILED") ? 1 : 0;
}

/** With the other orders that the file already holds of these streams. */
function joined(file: string, record: BatteryRecord): BatteryRecord {
  if (!existsSync(file)) return record;
  const kept: BatteryRecord = JSON.parse(readFileSync(file, "utf8"));
  if (kept.streamVersion !== record.streamVersion) return record;
  return {
    ...record,
    minutes: Math.round((kept.minutes + record.minutes) * 10) / 10,
    orders: { ...kept.orders, ...record.orders },
    results: [...kept.results.filter(({ order }) => record.orders[order] === undefined), ...record.results],
  };
}

/** One run of dieharder over one order. */
function battery(order: string, tests: string, start: number): TestResult[] {
  const itself = fileURLToPath(import.meta.url);
  const fields = ["test_name", "ntuple", "tsamples", "psamples", "pvalues", "assessment"]
    .map((field) => `-D ${field}`)
    .join(" ");
  const command = `"${process.execPath}" "${itself}" --emit ${order} --start ${start} | dieharder -g 200 -c , ${fields} ${tests}`;
  const done = spawnSync("sh", ["-c", command], {
    encoding: "utf8",
    maxBuffer: 1e8,
    stdio: ["ignore", "pipe", "inherit"],
  });
  if (done.error !== undefined) throw done.error;
  const results = done.stdout
    .split("\n")
    .map((line) => line.split(",").map((part) => part.trim()))
    .filter((parts) => parts.length === 6)
    .map(([test, tuple, samples, repeats, p, assessment]) => ({
      order,
      test,
      tuple: Number(tuple),
      samples: Number(samples),
      repeats: Number(repeats),
      p: Number(p),
      assessment: assessment as TestResult["assessment"],
    }));
  if (results.length === 0) throw new Error(`no result of \`${command}\`: is dieharder installed?`);
  for (const { test, tuple, p, assessment } of results) console.log(`  ${test} ${tuple}: p ${p} ${assessment}`);
  return results;
}

function version(): string {
  const said = spawnSync("dieharder", ["-h"], { encoding: "utf8" }).stdout;
  return `dieharder ${/version (\S+)/.exec(said)?.[1] ?? "?"}`;
}

/** A line a result. */
function formatRecord(record: BatteryRecord): string {
  const { results, ...head } = record;
  const lines = results.map((result) => `    ${JSON.stringify(result)}`).join(",\n");
  return `${JSON.stringify(head, null, 2).slice(0, -2)},\n  "results": [\n${lines}\n  ]\n}\n`;
}
