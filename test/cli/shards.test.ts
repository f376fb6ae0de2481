import { copyFileSync, existsSync, readdirSync, readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { setTimeout as wait } from "node:timers/promises";
import { beforeAll, describe, expect, test } from "vitest";
import { contents, seatspread, startSeatspread, workFolder } from "../support/cli.ts";

const folder = workFolder();
const SPINDLE = "scenarios/router-spindle.yaml";
const SHARDS = "out/router-spindle/shards";
const run = (...args: string[]) => seatspread(folder, ["run", SPINDLE, "--samples", "70000", "-q", ...args]);
const shardFile = (shard: number) => join(SHARDS, `shard-0${shard}-of-03.arrow`);

describe("seatspread run --shard and merge", () => {
  let single: Record<string, string>;
  beforeAll(() => {
    expect([0, 1]).toContain(run("--out", "single").code);
    single = contents(join(folder, "single/router-spindle"));
    for (const [shard, workers] of [
      ["1/3", "1"],
      ["2/3", "2"],
      ["3/3", "1"],
    ]) {
      const { code, stdout } = run("--shard", shard, "--workers", workers);
      expect(code).toBe(0);
      expect(stdout).toContain(`shard-0${shard[0]}-of-03.arrow`);
    }
  }, 60_000);

  test("shards write one file each into the scenario's folder, and nothing else", () => {
    expect(readdirSync(join(folder, "out/router-spindle"))).toEqual(["shards"]);
    expect(readdirSync(join(folder, SHARDS))).toEqual([1, 2, 3].map((shard) => `shard-0${shard}-of-03.arrow`));
  });

  test("merge writes every file that a single run writes, to the bit, and leaves the shards", () => {
    const { code } = seatspread(folder, ["merge", shardFile(2), shardFile(3), shardFile(1), "-q"]);
    expect([0, 1]).toContain(code);
    const { shards, ...merged } = Object.fromEntries(
      Object.entries(contents(join(folder, "out/router-spindle"))).filter(([name]) => !name.startsWith("shards/")),
    );
    expect(shards).toBe("folder");
    expect(merged).toEqual(single);
    // Merged once more over its own result, and printed.
    const again = seatspread(folder, ["merge", shardFile(1), shardFile(2), shardFile(3), "--json", "-q"]);
    expect(again.stdout).toBe(readFileSync(join(folder, "single/router-spindle/result.json"), "utf8"));
    expect(readdirSync(join(folder, SHARDS))).toHaveLength(3);
  });

  test("what does not fit is refused with 2 and every problem at once, and nothing is written", () => {
    const before = contents(join(folder, "out"));
    writeFileSync(join(folder, "short.arrow"), readFileSync(join(folder, shardFile(2))).subarray(0, 5000));
    copyFileSync(join(folder, shardFile(1)), join(folder, "copy.arrow"));
    const cases: [string[], RegExp][] = [
      [[shardFile(1)], /shard 2 of 3[\s\S]*shard 3 of 3/],
      [[shardFile(1), "copy.arrow", shardFile(2), shardFile(3)], /copy\.arrow: expected every shard once/],
      [[shardFile(1), "short.arrow", shardFile(3)], /short\.arrow: .*ends after 5000 bytes/],
      [
        ["gone.arrow", "scenarios", SPINDLE],
        /gone\.arrow: .*no such file[\s\S]*scenarios: .*a folder[\s\S]*something else/,
      ],
    ];
    for (const [files, message] of cases) {
      const { code, stderr, stdout } = seatspread(folder, ["merge", ...files]);
      expect([code, stdout]).toEqual([2, ""]);
      expect(stderr).toMatch(message);
    }
    expect(contents(join(folder, "out"))).toEqual(before);
  });

  test("a shard that is none, beside what it cannot do, or with too many rows is refused with 2", () => {
    for (const args of [
      ["--shard", "4/3"],
      ["--shard", "0/3"],
      ["--shard", "3"],
      ["--shard", "1/3", "--precision", "0.1%"],
      ["--shard", "1/3", "--time", "1s"],
      ["--shard", "1/3", "--keep-samples", "all", "--samples", "1e6"],
    ]) {
      expect(run(...args).code, args.join(" ")).toBe(2);
    }
  });

  test("an interrupted shard leaves nothing behind", async () => {
    const args = ["run", SPINDLE, "--samples", "1e9", "--shard", "1/2", "--out", "cut", "--workers", "1", "-q"];
    const { child, ended } = startSeatspread(folder, args);
    const shards = join(folder, "cut/router-spindle/shards");
    const isWriting = () => existsSync(shards) && readdirSync(shards).some((name) => name.endsWith(".tmp"));
    const started = Date.now();
    while (!isWriting() && Date.now() - started < 20_000) await wait(20);
    expect(isWriting()).toBe(true);
    await wait(400);
    child.kill("SIGINT");
    expect((await ended).code).toBe(130);
    expect(existsSync(join(folder, "cut"))).toBe(false);
  });
});
