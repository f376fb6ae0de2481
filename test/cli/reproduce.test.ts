import { cpSync, existsSync, readdirSync, readFileSync, renameSync, rmSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { tableFromIPC } from "apache-arrow";
import { beforeAll, describe, expect, test } from "vitest";
import packageJson from "../../package.json" with { type: "json" };
import { CATALOGUE_VERSION } from "../../src/catalogue/defaults.ts";
import { STREAM_VERSION } from "../../src/random/streams.ts";
import { RESULT_VERSION } from "../../src/studies/result.ts";
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

/** The scenarios where they were, for what needs them. */
function putBack(): void {
  if (existsSync(join(folder, "away"))) renameSync(join(folder, "away"), join(folder, "scenarios"));
}

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
  expect(stdout).toContain(`1 value differs (in the file, now):\n  states.2.preloadN.mean: ${next}, ${mean}`);
});

test("another stream version or scenario behind the result is named before the numbers", () => {
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
    "the result of a study that this program does not know",
    "study.json",
    () => JSON.stringify({ ...read(), study: "weigh" }),
    /expected the result of run, .*, got weigh/,
  ],
  [
    "a result that does not say what was asked for",
    "asked.json",
    () => JSON.stringify({ ...read(), study: "compare" }),
    /result of compare that does not say what was asked for/,
  ],
  [
    "a result from before results had a version",
    "earlier.json",
    () => {
      const { provenance, ...rest } = read();
      const { resultVersion: _, ...earlier } = provenance;
      return JSON.stringify({ ...rest, provenance: { ...earlier, version: "0.0.9" } });
    },
    /provenance\.resultVersion: expected the result version 1, got none\. It is of an earlier program \(0\.0\.9\): run its scenario again/,
  ],
  [
    "a result of a newer program",
    "newer.json",
    () => JSON.stringify({ ...read(), provenance: { ...read().provenance, resultVersion: 2, version: "3.1.0" } }),
    /expected the result version 1, got 2\. It belongs to a newer program: reproduce it with version 3\.1\.0 or later/,
  ],
  [
    "a scenario from before the first format",
    "before.json",
    () => JSON.stringify({ ...read(), scenario: { ...read().scenario, seatspread: undefined } }),
    /scenario\.seatspread: .*Begin the file with "seatspread: 1"/,
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

test("a run that went on for a time or a precision, and one with measured parts, without a look for what is rare, are done again as they were", () => {
  putBack();
  for (const [scenario, ...options] of [
    ["belt-tensioner", "--time", "0.2s"],
    ["laminating-roller", "--precision", "0.2%", "--for", "hot:light"],
    ["press-roller-variants"],
  ]) {
    const file = `scenarios/${scenario}.yaml`;
    expect(
      seatspread(folder, ["run", file, "--samples", "3000", "--no-rare", "-q", ...options]).code,
    ).toBeLessThanOrEqual(1);
    const { stdout, code } = reproduce(`out/${scenario}/result.json`);
    expect(stdout).toMatch(/^The same/);
    expect(code).toBe(0);
  }
}, 180_000);

const VARIANTS = "scenarios/press-roller-variants.yaml";
const FEW = ["--samples", "2048"];

describe("the result of every command that writes one", { timeout: 120_000 }, () => {
  /** What each command says, where its result is, and a number in it to be moved by one bit. */
  const commands: readonly (readonly [string, readonly string[], string, readonly (string | number)[]])[] = [
    [
      "compare",
      ["compare", VARIANTS, ...FEW, "--with", "C4: bearings.both.clearanceGroup=C4"],
      "out/press-roller-variants/compare",
      ["variants", 1, "shares", "good", "ratio"],
    ],
    [
      "sweep",
      [
        "sweep",
        VARIANTS,
        ...FEW,
        ...["--over", "states.hot.housing=80..200 degC/4", "--and", "bearings.both.clearanceGroup=CN,C3"],
        ...["--target", "85%"],
      ],
      "out/press-roller-variants/sweep",
      ["series", 1, "cells", 2, "shares", "bench", "highRatio"],
    ],
    [
      "centre",
      ["centre", VARIANTS, ...FEW, "--resolution", "2 um", "--scrap", "12", "--seed", "centre"],
      "out/press-roller-variants/centre",
      ["best", "offsetMm"],
    ],
    [
      "allocate",
      ["allocate", "scenarios/feed-roller-tolerances.yaml", ...FEW, "--yield", "97%", "--grades"],
      "out/feed-roller-tolerances/allocate",
      ["current", "good", "ratio"],
    ],
    [
      "contributors",
      ["contributors", VARIANTS, ...FEW],
      "out/press-roller-variants/contributors",
      ["causes", 0, "yield", "total", "indexRatio"],
    ],
    [
      "methods",
      ["methods", VARIANTS, ...FEW, "--groups", "2", "--price", "as machined=2.5"],
      "out/press-roller-variants/methods",
      ["methods", 0, "shares", "good", "ratio"],
    ],
    [
      "shims",
      ["shims", "scenarios/gearbox-input.yaml", ...FEW, "--batch", "400", "--service", "99%"],
      "out/gearbox-input/shims",
      ["chosen", "good", "ratio"],
    ],
    [
      "batch",
      ["batch", "scenarios/pump-motor-batch.yaml", "--size", "100", "--samples", "20000"],
      "out/pump-motor-batch/batch",
      ["good", "sd"],
    ],
    [
      "audit",
      ["audit", "scenarios/winder-roll-audit.yaml", "--readings", "unit.csv", "--samples", "4000"],
      "out/winder-roll-audit/audit",
      ["good", "shareRatio"],
    ],
    [
      "fit",
      [
        "fit",
        "parts.csv",
        ...["--column", "length", "--limits", "31.766 ±0.004", "--lots", "lot"],
        ...["--gauge-study", "scenarios/measured/micrometer-study.csv"],
      ],
      "out/parts-length",
      ["values", "mean"],
    ],
  ];

  beforeAll(() => {
    putBack();
    writeFileSync(
      join(folder, "unit.csv"),
      "housing shoulder spacing [mm],spacer [mm]\n48.004,47.866\n48.005,47.867\n",
    );
    cpSync(join(folder, "scenarios/measured/spacers.csv"), join(folder, "parts.csv"));
  });

  test.each(commands)(
    "%s: made again from the result alone, only the bit that was put off differs, and versions stand in it",
    (_, words, at, place) => {
      expect(
        seatspread(folder, [...words, "-q"].slice(0, words[0] === "fit" ? -1 : undefined)).code,
      ).toBeLessThanOrEqual(1);
      const file = `${at}/result.json`;
      const content = JSON.parse(readFileSync(join(folder, file), "utf8"));
      const last = place.at(-1)!;
      const around = place.slice(0, -1).reduce((node, key) => node[key], content);
      const value = around[last] as number;
      expect(value).toEqual(expect.any(Number));
      around[last] = value === 0 ? Number.MIN_VALUE : value * (1 + Number.EPSILON);
      writeFileSync(join(folder, "off.json"), JSON.stringify(content));
      const off = reproduce("off.json");
      expect(off.code).toBe(1);
      expect(off.stdout).toContain(
        `1 value differs (in the file, now):\n  ${place.join(".")}: ${around[last]}, ${value}`,
      );

      const { version, platform, resultVersion, scenarioHash, streamVersion, catalogueVersion } = content.provenance;
      expect({ version, resultVersion }).toEqual({ version: packageJson.version, resultVersion: RESULT_VERSION });
      const own =
        words[0] === "fit"
          ? [content.provenance.tableHash]
          : [scenarioHash, String(catalogueVersion), String(streamVersion)];
      if (words[0] !== "fit") {
        expect({ streamVersion, catalogueVersion }).toEqual({
          streamVersion: STREAM_VERSION,
          catalogueVersion: String(CATALOGUE_VERSION),
        });
      }
      for (const name of readdirSync(join(folder, at)).filter((each) => each.endsWith(".arrow"))) {
        const metadata = [...tableFromIPC(readFileSync(join(folder, at, name))).schema.metadata.values()];
        expect(metadata, name).toEqual(expect.arrayContaining([version, platform, String(resultVersion), ...own]));
      }
      const page = readFileSync(join(folder, at, "report.html"), "utf8");
      for (const word of [version, platform, ...own]) expect(page, word).toContain(word);
    },
  );

  test("a fit whose table has changed is named by its hash, one whose table is gone is refused with what to do", () => {
    const file = "out/parts-length/result.json";
    const path = join(folder, "parts.csv");
    const text = readFileSync(path, "utf8");
    expect(reproduce(file).stdout).toMatch(/^The same: /);
    writeFileSync(path, text.replace(/\n[^\n]+\n$/, "\n"));
    const other = reproduce(file);
    expect(other.code).toBe(1);
    expect(other.stdout).toMatch(/provenance\.tableHash: .*the table was changed since[\s\S]*rows\.used: \d+, \d+/);
    rmSync(path);
    const gone = reproduce(file);
    expect(gone.code).toBe(2);
    expect(gone.stderr).toMatch(/parts\.csv: .*no such file\. .* was fitted to that table .* put it back/);
  });

  test("merged shards are made again as the run that they are", () => {
    for (const shard of ["1/2", "2/2"]) {
      expect(seatspread(folder, ["run", VARIANTS, "--samples", "20000", "--shard", shard, "-q"]).code).toBe(0);
    }
    const shards = [1, 2].map((shard) => `out/press-roller-variants/shards/shard-0${shard}-of-02.arrow`);
    expect(seatspread(folder, ["merge", ...shards, "--no-rare", "-q"]).code).toBeLessThanOrEqual(1);
    expect(reproduce("out/press-roller-variants/result.json").code).toBe(0);
  });
});
