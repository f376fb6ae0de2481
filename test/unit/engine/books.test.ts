import { expect, test } from "vitest";
import { OUTCOMES } from "../../../src/model/outcome.ts";
import { SHIPPED, shipped } from "../../support/shipped.ts";
import { runStudy } from "../../support/yield.ts";

/** Less than a block: what is summed up must not hang on how far the last block is filled. */
const SAMPLES = 1500;

test.each(SHIPPED)(
  "%s: a small run keeps its books: every unit has one class in every state, and one fate",
  async (file) => {
    const scenario = shipped(file, { samples: SAMPLES });
    const { finding, samples } = await runStudy(scenario, { rare: false });
    expect(samples.count).toBe(SAMPLES);
    for (const state of finding.states) {
      const counts = OUTCOMES.map((outcome) => state.outcomes[outcome].count);
      expect(
        counts.reduce((sum, count) => sum + count, 0),
        state.name,
      ).toBe(SAMPLES);
      expect(state.playMm.count).toBe(state.outcomes.play.count);
    }
    const { goodInEveryState, failsAtBench, failsInService } = finding.overall;
    const fates = goodInEveryState.shareRatio + failsAtBench.shareRatio + failsInService.shareRatio;
    expect(fates).toBeCloseTo(1, 9);
  },
);
