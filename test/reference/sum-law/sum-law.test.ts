import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import type { Distribution } from "../../../src/distributions/types.ts";
import { InternalError } from "../../../src/errors.ts";
import { normalCdf, normalPdf } from "../../../src/numeric/special.ts";
import { type SumTerm, sumLaw } from "../../../src/reliability/sum-law.ts";

const UNIT: Distribution = { kind: "uniform", low: 0, high: 1 };
const of = (distribution: Distribution, factor = 1): SumTerm => ({ factor, distribution });
const rectangular = (sd: number): Distribution => ({
  kind: "uniform",
  low: -sd * Math.sqrt(3),
  high: sd * Math.sqrt(3),
});

function irwinHall(n: number, x: number): number {
  let sum = 0;
  let binomial = 1;
  for (let k = 0; k <= x; k += 1) {
    let term = binomial;
    for (let j = 1; j <= n; j += 1) term *= (x - k) / j;
    sum += (k % 2 === 0 ? 1 : -1) * term;
    binomial *= (n - k) / (k + 1);
  }
  return sum;
}

describe("law of a sum against closed forms (source: SOURCE.md)", () => {
  it("Irwin-Hall, both tails within 1e-10", () => {
    for (const n of [2, 3, 4, 6]) {
      const law = sumLaw(Array.from({ length: n }, () => of(UNIT)));
      expect(law.mean).toBeCloseTo(n / 2, 14);
      expect(law.standardDeviation).toBeCloseTo(Math.sqrt(n / 12), 14);
      for (let x = 0.01; x < n / 2; x += 0.0373) {
        expect(Math.abs(law.cdf(x) - irwinHall(n, x)), `${n} at ${x}`).toBeLessThan(1e-13);
        expect(Math.abs(law.survival(n - x) - irwinHall(n, x)), `${n} at ${n - x}`).toBeLessThan(1e-13);
        expect(law.cdf(x) + law.survival(x)).toBeCloseTo(1, 14);
      }
      expect([law.low, law.high]).toEqual([0, n]);
      expect([law.cdf(-1), law.cdf(0), law.cdf(n + 1), law.survival(n)]).toEqual([0, 0, 1, 0]);
    }
  });
  it("density of two rectangular quantities is the triangle", () => {
    const law = sumLaw([of(UNIT), of(UNIT)]);
    for (const x of [0.1, 0.5, 0.99, 1.2, 1.9]) expect(law.pdf(x)).toBeCloseTo(x < 1 ? x : 2 - x, 9);
    expect(law.pdf(-0.1) + law.pdf(2.1)).toBe(0);
  });
  it("coverage interval of four rectangular quantities (JCGM 101, 9.2.3 and 9.2.4)", () => {
    const equal = sumLaw([1, 1, 1, 1].map((sd) => of(rectangular(sd))));
    expect(equal.quantile(0.975)).toBeCloseTo(2 * Math.sqrt(3) * (2 - 0.6 ** 0.25), 9);
    expect(equal.quantile(0.025)).toBeCloseTo(-3.8794067413, 9);
    const unequal = sumLaw([1, 1, 1, 10].map((sd) => of(rectangular(sd))));
    expect(unequal.upperQuantile(0.025)).toBeCloseTo(17.0158140999, 9);
  });
  it("normal plus rectangular, into the far tail: within 1e-13, and 1e-6 of its own value at 1e-9", () => {
    const s = 0.3;
    const integral = (v: number) => v * normalCdf(v / s) + s * normalPdf(v / s);
    const law = sumLaw([of({ kind: "normal", mean: 5, sd: 0.3 }), of({ kind: "uniform", low: -1, high: 2 })]);
    for (const x of [-2.6, -2, -1, 0, 0.5]) {
      const exact = (integral(x + 1) - integral(x - 2)) / 3;
      expect(Math.abs(law.cdf(5 + x) / exact - 1), `${x}`).toBeLessThan(1e-6);
      expect(Math.abs(law.cdf(5 + x) - exact), `${x}`).toBeLessThan(1e-13);
      expect(law.survival(5 + 1 - x)).toBeCloseTo(law.cdf(5 + x), 13);
    }
  });
  it("Cauchy plus rectangular, a tail without moments", () => {
    const integral = (v: number) => v / 2 + (v * Math.atan(v) - Math.log1p(v * v) / 2) / Math.PI;
    const law = sumLaw([of({ kind: "student-t", mean: 0, scale: 1, degreesOfFreedom: 1 }), of(UNIT, 4)]);
    for (const x of [-50, -3, 0, 1, 2.5, 7, 300]) {
      expect(Math.abs(law.cdf(x) - (integral(x) - integral(x - 4)) / 4), `${x}`).toBeLessThan(1e-11);
    }
    expect(law.mean).toBeNaN();
    expect(law.standardDeviation).toBe(Number.POSITIVE_INFINITY);
  });
  it("normals, constants and signs join in closed form", () => {
    const law = sumLaw([
      of({ kind: "normal", mean: 10, sd: 0.3 }, -1),
      of({ kind: "normal", mean: 2, sd: 0.2 }, 2),
      of({ kind: "constant", value: 7 }, 3),
    ]);
    expect(law.errorRatio).toBe(0);
    expect(law.mean).toBeCloseTo(15, 14);
    expect(law.cdf(15 - 0.5)).toBeCloseTo(normalCdf(-1), 14);
    expect(sumLaw([of({ kind: "constant", value: 7 }, 3)]).cdf(21)).toBe(1);
  });
  it("one other term is only stretched; a negative factor changes the tails", () => {
    const law = sumLaw([
      of({ kind: "lognormal", logMean: 0, logSd: 1, shift: 0 }, -2),
      of({ kind: "constant", value: 1 }),
    ]);
    expect(law.cdf(-1)).toBeCloseTo(0.5, 15);
    expect([law.low, law.high]).toEqual([Number.NEGATIVE_INFINITY, 1]);
    expect(law.quantile(1e-5)).toBeCloseTo(1 - 2 * Math.exp(4.264890793922825), 8);
    const column = Float64Array.of(0.1, 0.9);
    law.transform(column, 2);
    expect(column[0]).toBeCloseTo(law.quantile(0.1), 9);
    expect(column[1]).toBeCloseTo(law.quantile(0.9), 9);
  });
});

describe("law of a sum against an independent quadrature (source: SOURCE.md)", () => {
  const flat = (sd: number): Distribution => ({ kind: "truncated-normal", mean: 0, sd, low: -3 * sd, high: 3 * sd });
  const lognormal: Distribution = { kind: "lognormal", logMean: 0.5, logSd: 0.3, shift: 0 };
  const arcsine: Distribution = { kind: "arcsine", low: -1, high: 1 };
  const laws: Record<string, SumTerm[]> = {
    "truncated-normal + truncated-normal": [of(flat(1)), of(flat(0.4), -1)],
    "three truncated-normal + normal(4)": [
      of(flat(3), -1),
      of(flat(4.3)),
      of(flat(5.6)),
      of({ kind: "normal", mean: 0, sd: 4 }),
    ],
    "lognormal + lognormal": [of(lognormal), of(lognormal)],
    "skewed + triangular": [
      of({ kind: "skewed", low: 5, high: 20, alpha: 2.2, beta: 3.8 }),
      of({ kind: "triangular", low: 1, mode: 1.7, high: 4 }),
    ],
    "arcsine + arcsine": [of(arcsine), of(arcsine)],
    "student-t(3) + normal(0.8)": [
      of({ kind: "student-t", mean: 0, scale: 1, degreesOfFreedom: 3 }),
      of({ kind: "normal", mean: 0, sd: 0.8 }),
    ],
    "-lognormal(0, 0.5) + normal(0.2)": [
      of({ kind: "lognormal", logMean: 0, logSd: 0.5, shift: 0 }, -1),
      of({ kind: "normal", mean: 0, sd: 0.2 }),
    ],
  };
  const rows = readFileSync(new URL("sums.csv", import.meta.url), "utf8")
    .trim()
    .split("\n")
    .slice(1)
    .map((line) => line.split(","))
    .map((cells) => ({ name: cells.slice(0, -2).join(","), x: Number(cells.at(-2)), p: Number(cells.at(-1)) }));
  it.each(Object.keys(laws))("%s", (name) => {
    const law = sumLaw(laws[name]);
    const mine = rows.filter((row) => row.name === name);
    expect(mine.length).toBeGreaterThan(3);
    for (const { x, p } of mine) {
      expect(Math.abs(law.cdf(x) - p), `${x}`).toBeLessThan(1e-10);
      expect(Math.abs(law.survival(x) - (1 - p)), `${x}`).toBeLessThan(1e-10);
      expect(law.quantile(p)).toBeCloseTo(x, 7);
    }
  });
});

describe("terms of very unlike widths", () => {
  it("a normal from a tenth to a millionth of the rectangle, through the edge", () => {
    for (const s of [0.1, 1e-2, 1e-3, 1e-4, 1e-6]) {
      const integral = (v: number) => v * normalCdf(v / s) + s * normalPdf(v / s);
      const law = sumLaw([of(UNIT), of({ kind: "normal", mean: 0, sd: s })]);
      for (const z of [-5, -2, -0.5, 0, 0.3, 1, 4, 9]) {
        const exact = integral(z * s) - integral(z * s - 1);
        expect(Math.abs(law.cdf(z * s) - exact), `${s} at ${z}`).toBeLessThan(1e-11);
      }
    }
  });
  it("narrow symmetric terms T beside a rectangle: cdf(x) - cdf(-x) = x about its edge, since E[(x - T)₊ - (-x - T)₊] = x", () => {
    const narrow: SumTerm[][] = [
      [3, 5, 7, 11, 13].map((k) =>
        of({ kind: "truncated-normal", mean: 0, sd: k * 1e-5, low: -3e-5 * k, high: 3e-5 * k }),
      ),
      [of({ kind: "student-t", mean: 0, scale: 1e-4, degreesOfFreedom: 9 })],
      [
        of({ kind: "truncated-normal", mean: 0, sd: 1e-4, low: -1, high: 1 }),
        of({ kind: "arcsine", low: -1e-4, high: 1e-4 }),
      ],
    ];
    for (const terms of narrow) {
      const law = sumLaw([of(UNIT), ...terms]);
      for (const x of [1e-5, 4e-5, 1.3e-4, 3e-4, 9e-4, 3e-3]) {
        expect(Math.abs(law.cdf(x) - law.cdf(-x) - x), `${x}`).toBeLessThan(1e-10);
        expect(law.cdf(x)).toBeGreaterThan(x - 1e-10);
      }
    }
  });
});

describe("conventions", () => {
  it("readings that repeat keep their probability: 0, 1, 1, 1, 3 plus a rectangle, as a mixture of closed forms", () => {
    // Steps of 1/4 each: a rectangle on 0 to 1, twice the value 1, a rectangle on 1 to 3; each joined with one on 0 to 0.5.
    const ramp = (v: number) => (v <= 0 ? 0 : 0.5 * v * v);
    const joined = (x: number, low: number, high: number) =>
      (ramp(x - low) - ramp(x - high) - ramp(x - 0.5 - low) + ramp(x - 0.5 - high)) / (0.5 * (high - low));
    const rectangle = (x: number) => Math.min(1, Math.max(0, x / 0.5));
    for (const sign of [1, -1]) {
      const law = sumLaw([
        of({ kind: "empirical", values: [0, 1, 1, 1, 3] }, sign),
        of({ kind: "uniform", low: 0, high: 0.5 }, sign),
      ]);
      for (const x of [0.2, 0.9, 1.1, 1.49, 1.7, 3.1, 3.4]) {
        const exact = joined(x, 0, 1) / 4 + rectangle(x - 1) / 2 + joined(x, 1, 3) / 4;
        expect(sign === 1 ? law.cdf(x) : law.survival(-x), `${sign} ${x}`).toBeCloseTo(exact, 11);
      }
    }
  });
  it("the same beside a normal", () => {
    const s = 0.2;
    const integral = (v: number) => v * normalCdf(v / s) + s * normalPdf(v / s);
    const law = sumLaw([of({ kind: "empirical", values: [0, 1, 1, 1, 3] }), of({ kind: "normal", mean: 0, sd: s })]);
    for (const x of [-0.5, 0.3, 0.95, 1.2, 2.9, 3.5]) {
      const exact =
        (integral(x) - integral(x - 1)) / 4 + normalCdf((x - 1) / s) / 2 + (integral(x - 1) - integral(x - 3)) / 8;
      expect(law.cdf(x), `${x}`).toBeCloseTo(exact, 11);
    }
  });
  it("the order of the terms does not matter to 1e-13", () => {
    const terms = [
      of(UNIT),
      of({ kind: "triangular", low: 0, mode: 1, high: 3 }, -1),
      of({ kind: "empirical", values: [0, 1, 5] }),
    ];
    const forward = sumLaw(terms);
    const back = sumLaw(terms.slice().reverse());
    for (const x of [-2, -1, 0, 1, 3]) expect(Math.abs(forward.cdf(x) - back.cdf(x))).toBeLessThan(1e-13);
  });
  it("a chain of five truncated normals about a mean of 60 mm keeps 1e-10 and symmetry", () => {
    const terms = [3, 4, 5, 7, 11].map((um) => {
      const sd = um / 1000;
      return of({ kind: "truncated-normal", mean: 12, sd, low: 12 - 3 * sd, high: 12 + 3 * sd } as const);
    });
    const law = sumLaw(terms);
    expect(law.mean).toBeCloseTo(60, 12);
    for (const z of [0.3, 1, 2, 3, 4]) {
      const x = z * law.standardDeviation;
      expect(Math.abs(law.cdf(60 - x) - law.survival(60 + x))).toBeLessThan(1e-10);
    }
  });
  it("refuses no terms and factors that are not finite", () => {
    expect(() => sumLaw([])).toThrow(InternalError);
    expect(() => sumLaw([of(UNIT, Number.NaN)])).toThrow(InternalError);
  });
});
