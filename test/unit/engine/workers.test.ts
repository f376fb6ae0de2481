import { beforeAll, describe, expect, test } from "vitest";
import { CHUNK_SIZE } from "../../../src/engine/run.ts";
import { FIGURE_ROWS } from "../../../src/studies/yield.ts";
import { shipped } from "../../support/shipped.ts";
import { columnOf, expectSameBits, type Ran, runStudy } from "../../support/yield.ts";

/** Not a whole number of chunks or blocks, and past the rows of the figures. */
const SAMPLES = 2 * CHUNK_SIZE + 1234;
const KEPT = FIGURE_ROWS + 5000;

/** Rings that can walk, a batch share, a correlation: everything that a run can do. */
const scenario = shipped("oven-conveyor-wheel.yaml", {
  samples: SAMPLES,
  "chain.wheel shoulder.length": { limits: "20.000 ±0.010", batchShare: 0.3 },
  correlations: [{ between: ["bearings.a.clearance", "bearings.b.clearance"], coefficient: 0.4 }],
  "batch.size": 60,
});

/** Without a look for what is rare, which is taken in one thread after all tasks. */
const run = (of: typeof scenario, options: { readonly workers?: number; readonly keepRows?: number }) =>
  runStudy(of, { ...options, rare: false });

describe("a run", () => {
  let reference: Ran;
  beforeAll(async () => {
    reference = await run(scenario, { keepRows: KEPT });
  }, 60_000);

  test.each([1, 2, 7])("finds the same to the last bit on %d worker threads as in this one", async (workers) => {
    const ran = await run(scenario, { workers, keepRows: KEPT });
    expect(ran.finding).toStrictEqual(reference.finding);
    // Numbers that print alike are alike: JSON holds every bit of a double but the sign of zero.
    expect(JSON.stringify(ran.finding)).toBe(JSON.stringify(reference.finding));
    expectSameBits(ran.kept, reference.kept);
    expectSameBits(ran.samples, reference.samples);
  });

  test.each([0, SAMPLES])("finds the same whatever is kept: %d rows", async (keepRows) => {
    const ran = await run(scenario, { keepRows });
    expect(ran.finding).toStrictEqual(reference.finding);
    expect(ran.kept.count).toBe(keepRows);
    expectSameBits(ran.samples, reference.samples);
  });

  test("keeps the rows asked for, in order, the first of them those of the figures", () => {
    expect(reference.kept.count).toBe(KEPT);
    expect(reference.samples.count).toBe(FIGURE_ROWS);
    const kept = columnOf(reference.kept, "oven.preloadN");
    const figures = columnOf(reference.samples, "oven.preloadN");
    expect(Array.from(kept.slice(0, FIGURE_ROWS))).toEqual(Array.from(figures));
  });

  test("begins alike whatever the number of samples: more units change none of those drawn before", async () => {
    const short = await run({ ...scenario, samples: 3000 }, { keepRows: 3000 });
    expect(short.samples.count).toBe(3000);
    for (const { name, values } of short.kept.columns) {
      expect(Array.from(values)).toEqual(Array.from(columnOf(reference.kept, name).slice(0, 3000)));
    }
  });

  test("of one single unit is summed up too", async () => {
    const { finding } = await run({ ...scenario, samples: 1 }, { keepRows: 1 });
    expect(finding.overall.goodInEveryState.count + finding.overall.failsAtBench.count).toBeLessThanOrEqual(1);
    expect(finding.states[0].preloadN.count).toBe(1);
  });

  test("of another seed finds other units", async () => {
    const other = await run({ ...scenario, seed: "another", samples: 100 }, { keepRows: 100 });
    expect(columnOf(other.kept, "bearings.a.clearanceMm")[0]).not.toBe(
      columnOf(reference.kept, "bearings.a.clearanceMm")[0],
    );
  });
});
