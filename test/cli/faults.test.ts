import { spawnSync } from "node:child_process";
import { chmodSync, existsSync, mkdirSync, readdirSync, readFileSync, rmSync } from "node:fs";
import { join } from "node:path";
import { setTimeout as wait } from "node:timers/promises";
import { beforeAll, describe, expect, test } from "vitest";
import { contents, PROGRAM, seatspread, startSeatspread, workFolder } from "../support/cli.ts";
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

/** Runs under a limit of the shell, such as the size that a file may have. */
function limited(limit: string, args: readonly string[]) {
  const command = `${limit}; exec "$0" "$@"`;
  const { status, stdout, stderr } = spawnSync("bash", ["-c", command, process.execPath, PROGRAM, ...args], {
    cwd: folder,
    encoding: "utf8",
    timeout: 60_000,
  });
  return { code: status, stdout, stderr };
}

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

describe("a place that cannot be written to", () => {
  test("a disk that fills up is named, with exit code 2; nothing half-written stays, the earlier result does", () => {
    // The shell's limit is in blocks of 1024 bytes; Node turns the signal into an error of the write.
    const { code, stderr, stdout } = limited("ulimit -f 100", ["run", ROLLER, "--samples", "20000", "-q"]);
    expect(stderr).toMatch(/^seatspread: --out: expected .*EFBIG/);
    expect(code).toBe(2);
    expect(stdout).toBe("");
    expect(contents(out)).toEqual(whole);
  });

  test("a file in its way, or a folder that may not be written, is named, with exit code 2", () => {
    const file = seatspread(folder, [...SMALL, "--out", ROLLER]);
    expect(file.code).toBe(2);
    expect(file.stderr).toMatch(/^seatspread: --out: expected .*(?:ENOTDIR|EEXIST)/);
    const device = seatspread(folder, [...SMALL, "--out", "/proc/nothing"]);
    expect(device.code).toBe(2);
    expect(device.stderr).toMatch(/^seatspread: --out: expected a folder that can be written to.*ENOENT/);
    const closed = join(folder, "closed");
    mkdirSync(closed);
    chmodSync(closed, 0o500);
    const { code, stderr } = seatspread(folder, [...SMALL, "--out", "closed"]);
    // The superuser may write everywhere.
    expect(code === 0 || /a folder that can be written to.*EACCES/.test(stderr)).toBe(true);
  });

  test("a folder that vanishes during the run is named, with exit code 2", async () => {
    const { ended } = startSeatspread(folder, ["run", ROLLER, "--samples", "300000", "--out", "gone", "-q"]);
    const place = join(folder, "gone");
    const started = Date.now();
    while (!(existsSync(place) && readdirSync(place).length > 0) && Date.now() - started < 30_000) await wait(10);
    rmSync(place, { recursive: true });
    const { code, stderr } = await ended;
    expect(stderr).toMatch(/^seatspread: --out: expected .*ENOENT/);
    expect(code).toBe(2);
  });
});

test("a reader that goes away early is no fault: the result is written, nothing on stderr", () => {
  const command = `"$0" "$@" | head -c 1; exit \${PIPESTATUS[0]}`;
  const { status, stderr } = spawnSync("bash", ["-c", command, process.execPath, PROGRAM, ...SMALL, "--json"], {
    cwd: folder,
    encoding: "utf8",
    timeout: 60_000,
  });
  expect(stderr).toBe("");
  expect(status).toBe(0);
  expect(contents(out)).toEqual(whole);
});

test("a worker that runs out of memory ends the run with its reason and exit code 3; nothing half-written stays", () => {
  const args = ["run", ROLLER, "--samples", "60000", "--workers", "2", "-q"];
  const { code, stderr } = seatspread(folder, args, [
    "--import",
    `data:text/javascript,${encodeURIComponent(STARVED)}`,
  ]);
  expect(stderr).toMatch(/^seatspread: internal error, please report it: .*a worker stopped: .*memory/);
  expect(code).toBe(3);
  expect(contents(out)).toEqual(whole);
}, 60_000);

/** Gives every worker next to no memory. */
const STARVED = `
import workers from "node:worker_threads";
import { syncBuiltinESMExports } from "node:module";
const { Worker } = workers;
workers.Worker = class extends Worker {
  constructor(script, options) {
    super(script, { ...options, resourceLimits: { maxOldGenerationSizeMb: 3 } });
  }
};
syncBuiltinESMExports();
`;
