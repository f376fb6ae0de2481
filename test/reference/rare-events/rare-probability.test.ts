import { describe, expect, it } from "vitest";
import { normalCdf, normalPdf } from "../../../src/numeric/special.ts";
import { seedKey } from "../../../src/random/streams.ts";
import { anyLimit, type LimitFunction } from "../../../src/reliability/limit-function.ts";
import { type RareProbability, rareProbability } from "../../../src/reliability/rare-probability.ts";
import { LIMIT_STATES, pointwise } from "./limit-states.ts";

const KEY = seedKey("rare");
const OPTIONS = { reachRatio: 7, remoteRatio: 6, isSeen: true };

function search(ways: readonly LimitFunction[], dimensions: number, key = KEY): RareProbability {
  const union = anyLimit(ways);
  return rareProbability({ dimensions, ways, union, sides: union }, key, OPTIONS);
}

/** Half the interval is 1.96 standard errors; 4 of them pass one run in 16 000 by chance. */
function expectNear({ probability, low, high }: RareProbability, exact: number, widestRatio = 0.4): void {
  expect(Math.abs(probability - exact)).toBeLessThan((4 / 1.96) * 0.5 * (high - low));
  // A width that would hide anything is no check.
  expect(high - low).toBeLessThan(widestRatio * exact);
}

describe("the whole search for a rare probability against known ones, within 4 standard errors (source: SOURCE.md)", () => {
  const { strengthLoad, rp8, rp28, rp33, rp35, rp54, fourBranches6, fourBranches7, rackwitz40 } = LIMIT_STATES;
  it.each([strengthLoad, rp8, rp28, rp54, rackwitz40])("one way: $name", ({ limits, dimensions, probability }) => {
    expectNear(search(limits, dimensions), probability);
  });
  it.each([rp33, rp35, fourBranches6, fourBranches7])("a way each: $name", ({ limits, dimensions, probability }) => {
    const found = search(limits, dimensions);
    expect(found.method).toBe("importance");
    expectNear(found, probability);
  });
  it.each([rp35, fourBranches6, fourBranches7])(
    "several ways told as one, whose other points have to be found: $name",
    ({ limits, dimensions, probability }) => {
      const found = search([anyLimit(limits)], dimensions);
      expect(found.method).toBe("importance");
      expectNear(found, probability);
    },
  );
});

describe("what one aim does not settle, in closed form", () => {
  it("a way with kinks, as seats that are loose or tight have: four points to one way, of which slopes from the middle show one", () => {
    // Fails where c + k(a) + k(b) > 4.5, k(x) = 1.5·max(0, x - 2): with a or b above 2 at a distance of 4.16, with both at 4.47, with neither at 4.5.
    const kink = (x: number) => 1.5 * Math.max(0, x - 2);
    const limit = pointwise(20, (z) => 4.5 - z[0] - kink(z[5]) - kink(z[11]));
    // The mean of Φ(-(4.5 - k(a) - k(b))), by Simpson's rule on either side of the kink.
    const mean = (f: (x: number) => number) => normalCdf(2) * f(0) + simpson((x) => normalPdf(x) * f(x), 2, 10, 400);
    const exact = mean((a) => mean((b) => normalCdf(kink(a) + kink(b) - 4.5)));
    const found = search([limit], 20);
    expect(found.method).toBe("importance");
    expect(found.samples, "the first sample alone was not trusted").toBeGreaterThan(8000);
    expectNear(found, exact);
  });

  it("a way with steps, as shims have: a rest of rounding beside what is smooth", () => {
    // z₃ in units of 1/1.6 of its spread leaves an even rest u in ±½ (its characteristic function at the period is e^(-2π²·1.6²) = 1e-22), so that
    // P = ∫ Φ(-(β - w·u)) du = [x·Φ(x) + φ(x)]/w between -β ± w/2.
    const [beta, width] = [5.2, 3];
    const limit = pointwise(16, (z) => {
      const shim = 1.6 * z[3];
      return beta - (z[0] + z[1] - 0.7 * z[2]) / Math.sqrt(2.49) - width * (shim - Math.round(shim));
    });
    const integral = (x: number) => x * normalCdf(x) + normalPdf(x);
    const exact = (integral(-beta + 0.5 * width) - integral(-beta - 0.5 * width)) / width;
    expectNear(search([limit], 16), exact, 0.5);
  });

  it("nothing is claimed of a limit that is nowhere: remote where nothing speaks for it, else unresolved", () => {
    const nowhere = pointwise(3, ([a]) => 1 + Math.abs(a));
    const failure = { dimensions: 3, ways: [nowhere], union: nowhere, sides: nowhere };
    expect(rareProbability(failure, KEY, { ...OPTIONS, isSeen: false }).method).toBe("remote");
    const found = rareProbability(failure, KEY, OPTIONS);
    expect(found.method).toBe("unresolved");
    expect(found.probability).toBeNaN();
  });
});

/** Simpson's rule, an even number of steps. */
function simpson(f: (x: number) => number, from: number, to: number, steps: number): number {
  const h = (to - from) / steps;
  let sum = f(from) + f(to);
  for (let k = 1; k < steps; k += 1) sum += (k % 2 === 1 ? 4 : 2) * f(from + k * h);
  return (sum * h) / 3;
}
