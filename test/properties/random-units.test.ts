import { expect, test } from "vitest";
import { createFastKernel } from "../../src/kernel/fast.ts";
import { PLAIN_KERNEL } from "../../src/kernel/plain.ts";
import { compiledKernel } from "../support/kernel.ts";
import { dice } from "../support/mutate.ts";
import { bracketedPreloadN, randomPair, solveAll } from "../support/random-pairs.ts";

/** Units over the whole admissible range; `SEATSPREAD_TEST_UNITS=1e6` looks at a million. */
const UNITS = Number(process.env.SEATSPREAD_TEST_UNITS ?? 20_000);
const AT_ONCE = 1000;

test("the preload of any pair that a scenario may hold agrees with a solution by halving alone to 1e-9, and in both kernels to the bit", () => {
  const fast = createFastKernel(compiledKernel());
  const roll = dice(31);
  let worst = { error: 0, pair: "" };
  let carrying = 0;
  let unlike = 0;
  for (let first = 0; first < UNITS; first += AT_ONCE) {
    const pairs = Array.from({ length: AT_ONCE }, () => randomPair(roll));
    const plain = solveAll(PLAIN_KERNEL, pairs);
    const quick = solveAll(fast, pairs);
    pairs.forEach((pair, index) => {
      if (!Object.is(plain[index], quick[index])) unlike += 1;
      const expected = bracketedPreloadN(pair);
      if (expected > 0) carrying += 1;
      const error = expected === 0 ? plain[index] : Math.abs(plain[index] / expected - 1);
      // Not `error > worst`: NaN must not pass.
      if (!(error <= worst.error)) worst = { error, pair: JSON.stringify({ ...pair, expected, got: plain[index] }) };
    });
  }
  expect(unlike).toBe(0);
  expect(carrying / UNITS).toBeGreaterThan(0.9);
  expect(worst.error, worst.pair).toBeLessThan(1e-9);
}, 3_600_000);
