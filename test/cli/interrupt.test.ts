import { existsSync, mkdirSync, readdirSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { setTimeout as wait } from "node:timers/promises";
import { beforeAll, describe, expect, test } from "vitest";
import { contents, processesIn, seatspread, startSeatspread, workFolder } from "../support/cli.ts";

const folder = workFolder();
const out = join(folder, "out");
const ROLLER = "scenarios/laminating-roller.yaml";

/** A run of few units, of which only the files count. */
const SHORT = ["run", ROLLER, "--samples", "500", "--no-rare", "-q"];

/** Starts a run that would take minutes and waits until it is writing. */
async function longRun() {
  const run = startSeatspread(folder, ["run", ROLLER, "--samples", "1e8", "--workers", "2"]);
  const started = Date.now();
  const writing = () =>
    readdirSync(out).some((name) => name.endsWith(".tmp") && existsSync(join(out, name, "samples.arrow")));
  while (!writing() && Date.now() - started < 20_000) await wait(20);
  expect(writing()).toBe(true);
  // Past the start of the workers, in the middle of the work.
  await wait(400);
  return run;
}

describe("a run that is interrupted", () => {
  beforeAll(() => {
    expect(seatspread(folder, SHORT).code).toBe(0);
  }, 60_000);

  test.each([
    ["SIGINT", 130],
    ["SIGTERM", 143],
  ] as const)(
    "by %s ends with %d, leaves nothing half-written and the earlier result as it was",
    async (signal, code) => {
      const before = contents(out);
      expect(Object.keys(before)).toHaveLength(5);
      const { child, ended } = await longRun();
      child.kill(signal);
      const result = await ended;
      expect(result.code).toBe(code);
      expect(result.stderr).toContain("interrupted, nothing was written");
      expect(result.stdout).toBe("");
      expect(contents(out)).toEqual(before);
    },
  );

  test("by SIGKILL cannot tidy up: the next run does, and the earlier result is still whole", async () => {
    const before = contents(out);
    const { child, ended } = await longRun();
    child.kill("SIGKILL");
    await ended;
    const left = readdirSync(out).filter((name) => name.endsWith(".tmp"));
    expect(left).toHaveLength(1);
    expect(contents(join(out, "laminating-roller"))["result.json"]).toBe(before["laminating-roller/result.json"]);
    expect(seatspread(folder, SHORT).code).toBe(0);
    expect(contents(out)).toEqual(before);
  });

  test("between the two renames of the swap is put right by the next run", () => {
    const before = contents(out);
    // As if the old result had been moved aside and the new one not yet moved in.
    mkdirSync(join(out, ".laminating-roller.earlier"));
    writeFileSync(join(out, ".laminating-roller.earlier/result.json"), "{}");
    expect(seatspread(folder, SHORT).code).toBe(0);
    expect(contents(out)).toEqual(before);
  });
});

describe("a study that is interrupted in the middle of its work", () => {
  const VARIANTS = "press-roller-variants";

  // Each would take minutes, most of them in one piece.
  test.each([
    ["compare", VARIANTS, ["--samples", "1e7"]],
    ["sweep", VARIANTS, ["--over", "states.hot.housing=60..140 degC/1000"]],
    ["ranges", VARIANTS, ["--over", "states.hot.housing=60..140 degC/1000"]],
    ["centre", VARIANTS, ["--samples", "1e7"]],
    ["allocate", "feed-roller-tolerances", ["--samples", "1e7", "--yield", "97%"]],
    ["contributors", VARIANTS, ["--samples", "1e7"]],
    ["methods", VARIANTS, ["--samples", "1e7"]],
    ["shims", "gearbox-input", ["--samples", "1e7"]],
    ["batch", "pump-motor-batch", ["--size", "8192", "--samples", "1e9"]],
    ["audit", "winder-roll-audit", ["--samples", "1e6"]],
  ])("%s: ends at once with 130, and leaves nothing but the earlier result", async (study, scenario, more) => {
    const place = join(out, scenario);
    mkdirSync(join(place, study), { recursive: true });
    writeFileSync(join(place, study, "result.json"), "earlier");
    const before = contents(out);
    const { child, ended } = startSeatspread(folder, [study, `scenarios/${scenario}.yaml`, ...more]);
    const started = Date.now();
    while (!readdirSync(place).some((name) => name.endsWith(".tmp")) && Date.now() - started < 20_000) await wait(20);
    await wait(600);
    expect(child.exitCode).toBeNull();
    const told = Date.now();
    child.kill("SIGINT");
    const { code, stdout, stderr } = await ended;
    // Takes some hundredths of a second; the rest is leave for a machine with other work.
    expect(Date.now() - told).toBeLessThan(2000);
    expect(stderr).toBe("seatspread: interrupted, nothing was written\n");
    expect(code).toBe(130);
    expect(stdout).toBe("");
    expect(contents(out)).toEqual(before);
    expect(processesIn(folder)).toEqual([]);
  });
});
