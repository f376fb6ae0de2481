import { describe, expect, it } from "vitest";
import { integrateSegments } from "../../../src/reliability/gauss-kronrod.ts";

describe("adaptive quadrature", () => {
  it("one pass of the 21-point rule is exact for powers up to 31 (its degree), to rounding", () => {
    for (let power = 0; power <= 31; power += 1) {
      const found = integrateSegments((x) => x ** power, [0, 1], 1e300);
      expect(Math.abs(found * (power + 1) - 1), `x^${power}`).toBeLessThan(2e-14);
    }
  });
  it("and not for the 40th on a line through the middle, so that a wrong node would show", () => {
    const found = integrateSegments((x) => x ** 40, [-1, 1], 1e300);
    expect(Math.abs(found * (41 / 2) - 1)).toBeGreaterThan(1e-13);
  });
  it("refines at singular points and jumps that it was not told of: ∫ 1/√x = 2, ∫ (x > 1/3) = 2/3", () => {
    expect(integrateSegments((x) => 1 / Math.sqrt(x), [0, 1])).toBeCloseTo(2, 3);
    expect(integrateSegments((x) => Math.sqrt(x), [0, 1])).toBeCloseTo(2 / 3, 11);
    expect(integrateSegments((x) => (x > 1 / 3 ? 1 : 0), [0, 1])).toBeCloseTo(2 / 3, 7);
  });
  it("leaves out segments without width", () => {
    expect(integrateSegments((x) => x, [0, 0, 1, 1])).toBeCloseTo(0.5, 15);
  });
});
