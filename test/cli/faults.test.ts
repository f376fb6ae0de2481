import { readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { setTimeout as wait } from "node:timers/promises";
import { beforeAll, expect, test } from "vitest";
import { contents, seatspread, startSeatspread, workFolder } from "../support/cli.ts";
import { dice } from "../support/mutate.ts";

const folder = workFolder();
const out = join(folder, "out");
const ROLLER = "scenarios/laminating-roller.yaml";
const SMALL = ["run", ROLLER, "--samples", "500", "-q"];

/** Kills at random moments; `SEATSPREAD_TEST_KILLS=200` does it more often. */
const KILLS = Number(process.env.SEATSPREAD_TEST_KILLS ?? 5);

let whole: Record<string, string>;

beforeAll(() => {
  expect(seatspread(folder, SMALL).code).toBe(0);
  whole = contents(out);
}, 60_000);

test(`${KILLS} kills at random moments of a run: never a half-written result under its final name, and the next run is as ever`, async () => {
  const roll = dice(9);
  for (let kill = 0; kill < KILLS; kill += 1) {
    const started = Date.now();
    const { child, ended } = startSeatspread(folder, ["run", ROLLER, "--samples", "40000", "--workers", "2", "-q"]);
    await Promise.race([wait(roll.below(4000)), ended]);
    child.kill("SIGKILL");
    await ended;
    expect(Date.now() - started).toBeLessThan(30_000);
    const result = readFileSync(join(out, "laminating-roller/result.json"), "utf8");
    const { provenance } = JSON.parse(result) as { provenance: { samples: number } };
    expect([500, 40_000]).toContain(provenance.samples);
    expect(readdirSync(join(out, "laminating-roller")).sort()).toEqual(
      ["report.html", "result.json", "samples.arrow", "summary.arrow"].sort(),
    );
  }
  expect(seatspread(folder, SMALL).code).toBe(0);
  expect(contents(out)).toEqual(whole);
}, 3_600_000);
