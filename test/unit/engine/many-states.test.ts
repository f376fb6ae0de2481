import { expect, test } from "vitest";
import { fixedPair } from "../../support/fixed-pair.ts";
import { runStudy } from "../../support/yield.ts";

test("a state written down nine more times changes no share of the units: all of them are good or bad together", async () => {
  const named = (count: number) =>
    Array.from({ length: count }, (_, i) => ({ name: i === 0 ? "bench" : `again-${i}`, housing: "20 degC" }));
  const run = async (count: number) =>
    (
      await runStudy(
        fixedPair({
          "chain.housing spacing.length": "40.18 ±0.05 mm",
          states: named(count),
          samples: 3000,
          seed: "nine",
        }),
        { rare: false },
      )
    ).finding;
  const [one, ten] = [await run(1), await run(10)];
  expect(one.states[0].good.shareRatio).toBeGreaterThan(0.2);
  expect(one.states[0].good.shareRatio).toBeLessThan(0.9);
  for (const state of ten.states) expect(state.good.count).toBe(one.states[0].good.count);
  expect(ten.overall.goodInEveryState.shareRatio).toBeCloseTo(one.overall.goodInEveryState.shareRatio, 12);
  expect(ten.overall.failsInService.shareRatio).toBe(0);
});
