import { expect, test } from "vitest";
import { OUTCOMES } from "../../../src/model/outcome.ts";
import { shipped } from "../../support/shipped.ts";
import { runStudy } from "../../support/yield.ts";

/** Less than a block: what is summed up must not hang on how far the last block is filled. */
const SAMPLES = 1500;

/** Position, spring, adjuster, shim, a gap instead of a window, a heat balance. */
const OF_EACH_KIND = [
  "oven-conveyor-wheel.yaml",
  "fan-spindle.yaml",
  "hand-cart-wheel.yaml",
  "gearbox-input.yaml",
  "encoder-stage.yaml",
  "drying-drum-spindle.yaml",
];

test.each(OF_EACH_KIND)(
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
