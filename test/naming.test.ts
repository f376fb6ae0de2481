import { beforeAll, describe, expect, test } from "vitest";
import { keptColumns } from "../src/engine/kept.ts";
import { compilePlan } from "../src/model/plan.ts";
import type { ResolvedScenario } from "../src/scenario/types.ts";
import { openUnit } from "../src/studies/unit.ts";
import { UNIT_SUFFIXES, unitSuffixOf } from "../src/units/suffixes.ts";
import { SHIPPED, shipped } from "./support/shipped.ts";
import { runStudy } from "./support/yield.ts";

/** Numbers that have no unit: counts, versions and places. Anything else carries its unit at the end of its name. */
const WITHOUT_UNIT = new Set([
  "count",
  "samples",
  "size",
  "batchSize",
  "ballCount",
  "index",
  "streamVersion",
  "schemaVersion",
  "resultVersion",
  "replicates",
  "effectiveCount",
  "pointsPerReplicate",
  "evaluationsPerPoint",
  // Units of a batch.
  "good",
  "benchFailures",
  "serviceFailures",
  // Share of the variance of normal scores, and a member's place in the chain (±1, ±0.5): pure numbers of the scenario.
  "batchShare",
  "factor",
  // Units of a sampling plan: checked, and failing at most.
  "sample",
  "accept",
  // How many springs, and which way a gap opens.
  "parallelCount",
  "seriesCount",
  "opensSign",
  // Money in the currency that the scenario names.
  "price",
]);

/** Numbers in the unit that the record around them names (`unit`) or that are parameters of a distribution in it. */
const UNIT_BESIDE = "unit";

/** A scenario as its author wrote it: no names of ours. */
const AS_WRITTEN = new Set(["content", "scenario"]);

/** Places of a variable in the list of variables, by the type `VariableIndex`. */
const INDICES = new Set([
  "clearance",
  "conformityInner",
  "conformityOuter",
  "standOut",
  "ringDiameter",
  "mateDiameter",
  "smoothing",
  "length",
  "force",
  "seatFriction",
  "variable",
  "variables",
  "rate",
  "freeLength",
  "value",
  "noLoadTorque",
  "error",
  "conductance",
  "ambient",
  "heat",
  "speed",
  "viscosity",
  "speeds",
  "viscosities",
  "radial",
  "axial",
  "moment",
]);

/** Names of numbers in a document that carry no unit themselves, nor stand in a group that does. */
function unnamed(value: unknown, allowed: ReadonlySet<string>, path: readonly string[] = []): string[] {
  if (typeof value === "number") {
    const named = path.some((part) => unitSuffixOf(part) !== null || allowed.has(part));
    return named ? [] : [path.join(".")];
  }
  if (value === null || typeof value !== "object") return [];
  if (Object.hasOwn(value, UNIT_BESIDE)) return [];
  return Object.entries(value).flatMap(([key, part]) =>
    unnamed(part, allowed, Array.isArray(value) ? path : [...path, key]),
  );
}

/** Where rare outcomes are looked for too: their fields are the same in all results. */
const WITH_RARE: ReadonlySet<string> = new Set(["router-spindle.yaml", "oven-conveyor-wheel.yaml"]);

describe.each(SHIPPED)("%s", (file) => {
  let scenario: ResolvedScenario;
  beforeAll(() => {
    scenario = shipped(file, { samples: 600 });
  }, 60_000);

  test("every numeric field of the resolved scenario ends in its unit", () => {
    expect(unnamed(scenario, new Set([...WITHOUT_UNIT, ...INDICES, ...AS_WRITTEN, "matrix"]))).toEqual([]);
    for (const { unit } of scenario.variables) expect(unit).not.toBe("");
  });

  test("every numeric field of a result and of an opened unit ends in its unit or stands beside it", async () => {
    const { finding } = await runStudy(scenario, { rare: WITH_RARE.has(file) });
    if (WITH_RARE.has(file)) expect(finding.rare).not.toEqual([]);
    expect(unnamed(finding, new Set([...WITHOUT_UNIT, ...AS_WRITTEN]))).toEqual([]);
    expect(unnamed(openUnit(scenario, 3), WITHOUT_UNIT)).toEqual([]);
  });

  test("every kept column ends in the suffix of its unit, or is a class, bits or an index", () => {
    const columns = keptColumns(scenario, compilePlan(scenario));
    expect(new Set(columns.map(({ name }) => name)).size).toBe(columns.length);
    const wrong = columns.filter(({ name, unit }) => {
      if (unit === "class") return !name.endsWith(".outcome");
      if (unit === "bits") return !name.endsWith(".flags");
      if (unit === "index") return !/(?:State|\.good)$/.test(name);
      // The letter of a bearing may stand before the unit: clearanceAMm.
      const suffix = unitSuffixOf(name.replace(/[AB](?=Mm$)/, ""));
      const printed: string = suffix === null ? "" : UNIT_SUFFIXES[suffix];
      return printed !== unit && printed !== unit.replace("degC", "°C").replace(".", "·").replace("mm2", "mm²");
    });
    expect(wrong).toEqual([]);
    for (const { description } of columns) expect(description).not.toBe("");
  });
});

test("a number without its unit is seen", () => {
  expect(unnamed({ offset: 1, deep: [{ preload: 2, preloadN: 3 }], clearanceMm: { a: 1 } }, new Set())).toEqual([
    "offset",
    "deep.preload",
  ]);
});
