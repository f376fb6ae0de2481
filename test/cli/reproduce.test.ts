import { readFileSync, renameSync, rmSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { beforeAll, expect, test } from "vitest";
import { contents, seatspread, workFolder } from "../support/cli.ts";

const folder = workFolder();
const RESULT = "out/laminating-roller/result.json";

interface Record {
  provenance: { [key: string]: unknown; samples: number; streamVersion: number; platform: string };
  states: { preloadN: { mean: number } }[];
  scenario: { [key: string]: unknown };
  target: unknown;
}

const read = (): Record => JSON.parse(readFileSync(join(folder, RESULT), "utf8")) as Record;

/** A copy of the result with something changed in it. */
function changed(name: string, change: (record: Record) => void): string {
  const record = read();
  change(record);
  writeFileSync(join(folder, name), JSON.stringify(record));
  return name;
}

function reproduce(file: string, ...more: string[]) {
  const before = contents(folder);
  const result = seatspread(folder, ["reproduce", file, "-q", ...more]);
  expect(contents(folder)).toEqual(before);
  expect(result.stderr).not.toMatch(/internal|\bat .*\.js:/);
  return result;
}

beforeAll(() => {
  const args = ["scenarios/laminating-roller.yaml", "--samples", "5000", "--seed", "again", "-q"];
  expect(seatspread(folder, ["run", ...args]).code).toBe(0);
  // Nothing but the result is needed.
  renameSync(join(folder, "scenarios"), join(folder, "away"));
}, 60_000);

test("a result alone is enough to do its run again, to the last bit, with the other kernel and another number of workers too", () => {
  const same = reproduce(RESULT);
  expect(same.stdout).toMatch(/^The same: \d{3,} numbers of out\/laminating-roller\/result\.json to the last bit\n$/);
  expect(same.code).toBe(0);
  expect(reproduce(RESULT, "--kernel", "plain", "--workers", "1").code).toBe(0);
});

test("a number that is off by its last bit is named, with exit code 1", () => {
  const { mean } = read().states[2].preloadN;
  const next = mean * (1 + Number.EPSILON);
  const file = changed("bit.json", (record) => {
    record.states[2].preloadN.mean = next;
  });
  const { code, stdout } = reproduce(file);
  expect(code).toBe(1);
  expect(stdout).toContain(`1 values differ (in the file, now):\n  states.2.preloadN.mean: ${next}, ${mean}`);
});

test("another version or scenario behind the result is named before the numbers; another platform alone is no difference", () => {
  const elsewhere = reproduce(
    changed("platform.json", ({ provenance }) => {
      provenance.platform = "node 20 linux somewhere";
    }),
  );
  expect(elsewhere.code).toBe(0);
  expect(elsewhere.stdout).toContain("provenance.platform: ");
  const other = reproduce(
    changed("version.json", ({ provenance, scenario }) => {
      provenance.streamVersion = 1;
      provenance.version = "0.0.1";
      scenario.measuredAt = "21 degC";
    }),
  );
  expect(other.code).toBe(1);
  const lines = other.stdout.split("\n").map((line) => line.trim().split(":")[0]);
  expect(lines.slice(2, 5).sort()).toEqual([
    "provenance.scenarioHash",
    "provenance.streamVersion",
    "provenance.version",
  ]);
  expect(other.stdout).toMatch(/\d+ values differ \(in the file, now\):\n {2}nominal\./);
});

test.each([
  ["no such file", "nothing.json", null, /no such file/],
  ["no JSON", "cut.json", () => readFileSync(join(folder, RESULT), "utf8").slice(0, 4000), /no JSON, or that was cut/],
  ["JSON of another kind", "kind.json", () => '{"a": 1}', /JSON of another kind/],
  [
    "the result of a study that is not a run",
    "study.json",
    () => JSON.stringify({ ...read(), study: "compare" }),
    /result of compare/,
  ],
  [
    "a scenario of another format",
    "format.json",
    () => JSON.stringify({ ...read(), scenario: { ...read().scenario, seatspread: 7 } }),
    /scenario\.seatspread: expected the format version 1, got 7.*belongs to a newer program/,
  ],
  [
    "a result without its scenario",
    "bare.json",
    () => JSON.stringify({ ...read(), scenario: undefined }),
    /without its/,
  ],
])("%s cannot be done again: exit code 2 and the reason", (_, file, content, message) => {
  if (content !== null) writeFileSync(join(folder, file), content());
  const { code, stdout, stderr } = reproduce(file);
  expect(code).toBe(2);
  expect(stdout).toBe("");
  expect(stderr).toMatch(message);
  rmSync(join(folder, file), { force: true });
});

test("a run that went on for a time or a precision, and one with measured parts, are done again as they were", () => {
  renameSync(join(folder, "away"), join(folder, "scenarios"));
  for (const [scenario, ...options] of [
    ["belt-tensioner", "--time", "1s"],
    ["laminating-roller", "--precision", "0.2%", "--for", "hot:light"],
    ["press-roller-variants"],
  ]) {
    const file = `scenarios/${scenario}.yaml`;
    expect(seatspread(folder, ["run", file, "--samples", "3000", "-q", ...options]).code).toBeLessThanOrEqual(1);
    const { stdout, code } = reproduce(`out/${scenario}/result.json`);
    expect(stdout).toMatch(/^The same/);
    expect(code).toBe(0);
  }
});
