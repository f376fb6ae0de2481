import { existsSync, readdirSync, readFileSync, rmSync, statSync, truncateSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { setTimeout as wait } from "node:timers/promises";
import { beforeAll, describe, expect, test } from "vitest";
import { encodeEntry, JournalEnd } from "../../src/tables/journal.ts";
import { contents, processesIn, seatspread, startSeatspread, workFolder } from "../support/cli.ts";
import { dice } from "../support/mutate.ts";
import { withFault } from "../support/worker-faults.ts";

const folder = workFolder();
const ROLLER = "scenarios/laminating-roller.yaml";
/** Without a look for what is rare: it comes after all that is recorded. */
const STUDY = ["run", ROLLER, "--samples", "800000", "--workers", "2", "--no-rare", "-q"];
const SHORT = ["run", ROLLER, "--samples", "500", "--no-rare", "-q"];
const OFTEN = ["--record-every", "0.1s"];
const RECORD = join(folder, "out/.laminating-roller.partial");

/** Kills at random moments; `SEATSPREAD_TEST_KILLS=200` does it more often. */
const KILLS = Number(process.env.SEATSPREAD_TEST_KILLS ?? 3);

let whole: Record<string, string>;
let earlier: Record<string, string>;

const result = () => contents(join(folder, "out/laminating-roller"));

/** Runs until the record holds something of it, and ends it there. */
async function cutShort(args: readonly string[], signal: "SIGKILL" | "SIGINT" = "SIGKILL") {
  const { child, ended } = startSeatspread(folder, args);
  const started = Date.now();
  while (!existsSync(join(RECORD, "state")) && Date.now() - started < 40_000) await wait(5);
  child.kill(signal);
  return ended;
}

beforeAll(() => {
  expect(seatspread(folder, [...STUDY, "--out", "whole"]).code).toBe(0);
  whole = contents(join(folder, "whole/laminating-roller"));
  expect(seatspread(folder, SHORT).code).toBe(0);
  earlier = result();
}, 120_000);

test(`${KILLS} kills at random moments, each run going on from the last: the result of one that was never killed, to the bit`, async () => {
  const roll = dice(21);
  let kept = 0;
  const startedMs = Date.now();
  expect(seatspread(folder, [...STUDY, "--resume"]).code).toBe(0);
  const wholeMs = Date.now() - startedMs;
  let isFinished = true;
  let kills = 0;
  // Moments at which nothing was recorded yet say little: half of the kills have to leave a record.
  const isEnough = () => kills >= KILLS && 2 * kept >= KILLS;
  while (!isEnough() || !isFinished) {
    if (isFinished) {
      // An earlier result, which has to stay as it is until the new one is whole.
      rmSync(join(folder, "out"), { recursive: true });
      expect(seatspread(folder, SHORT).code).toBe(0);
    }
    const workers = String(1 + roll.below(3));
    const { child, ended } = startSeatspread(folder, [...STUDY, ...OFTEN, "--resume", "--workers", workers]);
    if (!isEnough()) {
      await Promise.race([wait(roll.below(Math.ceil(0.8 * wholeMs))), ended]);
      child.kill("SIGKILL");
    }
    const { code, stderr } = await ended;
    isFinished = code !== null;
    if (isFinished) {
      expect(stderr).toBe("");
      expect(code).toBe(0);
      expect(result()).toEqual(whole);
      expect(existsSync(RECORD)).toBe(false);
    } else {
      kills += 1;
      if (existsSync(join(RECORD, "state"))) kept += 1;
      expect([earlier, whole]).toContainEqual(result());
    }
  }
  expect(readdirSync(join(folder, "out"))).toEqual(["laminating-roller"]);
}, 7_200_000);

describe("a run that is cut short", () => {
  test("by Ctrl-C says how to go on, and goes on on other workers and with the other kernel", async () => {
    const { code, stderr, stdout } = await cutShort([...STUDY, ...OFTEN], "SIGINT");
    expect(code).toBe(130);
    expect(stdout).toBe("");
    expect(stderr).toBe(
      "seatspread: interrupted, no result was written; what is done is kept in out/.laminating-roller.partial: the same command with --resume goes on from there\n",
    );
    const again = seatspread(folder, [...STUDY, "--workers", "1", "--kernel", "plain", "--resume"]);
    expect(again.stderr).toBe("");
    expect(again.code).toBe(0);
    expect(result()).toEqual(whole);
    expect(readdirSync(join(folder, "out"))).toEqual(["laminating-roller"]);
  }, 60_000);

  test("by a worker that ends keeps what is done as well", () => {
    const fault = withFault("process.exit(7);", { at: 40 });
    const { code, stderr } = seatspread(folder, [...STUDY, ...OFTEN], fault);
    expect(code).toBe(3);
    expect(stderr).toMatch(/^note: what is done is kept in .*--resume.*\nseatspread: internal error.*exit code 7/);
    expect(seatspread(folder, [...STUDY, "--resume"]).code).toBe(0);
    expect(result()).toEqual(whole);
  }, 60_000);
});

describe("a record that lies there", () => {
  beforeAll(async () => {
    await cutShort([...STUDY, ...OFTEN]);
    expect(processesIn(folder)).toEqual([]);
  }, 60_000);

  test("of another study is refused by name, with exit code 2, and stays", () => {
    const before = contents(RECORD);
    const cases: [string[], RegExp][] = [
      [["--samples", "800001"], /expected the number of samples of this run, 800001, got 800000/],
      [["--seed", "another"], /expected the seed of this run, another, got/],
      [["--keep-samples", "10"], /expected the number of rows kept of this run, 10, got 20480/],
      [["--precision", "0.1%"], /expected the precision asked for of this run/],
    ];
    for (const [more, words] of cases) {
      const { code, stderr, stdout } = seatspread(folder, [...STUDY, "--resume", ...more]);
      expect(stderr).toMatch(words);
      expect(stderr).toMatch(/^seatspread: out\/\.laminating-roller\.partial: --resume: /);
      expect(code).toBe(2);
      expect(stdout).toBe("");
    }
    expect(contents(RECORD)).toEqual(before);
  }, 60_000);

  test("is told of by a run without --resume; a short one of another study leaves it alone", () => {
    const before = contents(RECORD);
    const { code, stderr } = seatspread(folder, SHORT);
    expect(stderr).toMatch(
      /^note: .*partial: an interrupted run of another study had done \d+ of 800000 units; this one starts anew/,
    );
    expect(code).toBe(0);
    expect(contents(RECORD)).toEqual(before);
  }, 60_000);

  test("with a half-written end is gone on from; cut short, changed or emptied it is refused by name", () => {
    const journal = join(RECORD, readdirSync(RECORD).find((name) => name.startsWith("tasks-")) ?? "");
    const bytes = readFileSync(journal);
    const state = readFileSync(join(RECORD, "state"));
    const refused = (got: RegExp) => {
      const { code, stderr } = seatspread(folder, [...STUDY, "--resume"]);
      expect(stderr).toMatch(/^seatspread: .*partial: --resume: expected the .*record of an interrupted run, got /);
      expect(stderr).toMatch(got);
      expect(code).toBe(2);
    };
    truncateSync(journal, Math.floor(bytes.length / 2));
    refused(/a damaged one: it can be read up to part \d+ of \d+/);
    const changed = Buffer.from(bytes);
    changed[Math.floor(bytes.length / 3)] ^= 1;
    writeFileSync(journal, changed);
    refused(/a damaged one: it can be read up to part/);
    rmSync(journal);
    refused(/one without its journal/);
    writeFileSync(journal, bytes);
    writeFileSync(join(RECORD, "state"), state.subarray(0, state.length - 8));
    refused(/a damaged one\./);
    writeFileSync(join(RECORD, "state"), encodeEntry(new JournalEnd(), { name: "seatspread-record-0", value: {} }));
    refused(/one of another version of the program\. Go on with that version/);
    writeFileSync(join(RECORD, "state"), state);
    writeFileSync(journal, Buffer.concat([bytes, bytes.subarray(0, 100)]));
    expect(statSync(journal).size).toBe(bytes.length + 100);
    expect(seatspread(folder, [...STUDY, "--resume"]).code).toBe(0);
    expect(result()).toEqual(whole);
    expect(existsSync(RECORD)).toBe(false);
  }, 120_000);
});

test("a run that is over in a moment makes no record, and --resume without one runs from the start", () => {
  const short = [...SHORT, "--resume"];
  expect(seatspread(folder, short).code).toBe(0);
  expect(result()).toEqual(earlier);
  expect(readdirSync(join(folder, "out"))).toEqual(["laminating-roller"]);
});

test("what cannot be gone on with is refused: a shard, and more kept rows than a record holds", () => {
  const shard = seatspread(folder, [...STUDY, "--resume", "--shard", "1/2"]);
  expect(shard.stderr).toMatch(/^seatspread: --resume: expected a run of its own/);
  const rows = seatspread(folder, [...STUDY, "--resume", "--keep-samples", "all"]);
  expect(rows.stderr).toMatch(/^seatspread: --keep-samples: expected at most 500000 rows/);
  expect([shard.code, rows.code]).toEqual([2, 2]);
});
