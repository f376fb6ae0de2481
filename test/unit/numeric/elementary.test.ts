import { describe, expect, it } from "vitest";
import * as all from "../../../src/numeric/elementary.ts";

const elementary = { ...all };
const { acos, asin, atan, atan2, cbrt, cos, exp, expm1, hypot, log, log1p, pow, sin, tan } = elementary;

/** Distance in units of the last place between two doubles of one sign. */
function ulpsApart(first: number, second: number): number {
  const view = new DataView(new ArrayBuffer(16));
  view.setFloat64(0, first);
  view.setFloat64(8, second);
  return Math.abs(Number(view.getBigInt64(0) - view.getBigInt64(8)));
}

describe("elementary functions against the engine's own", () => {
  const onGrid = (low: number, high: number): number[] =>
    Array.from({ length: 2000 }, (_, index) => low + ((high - low) * (index + 0.37)) / 2000);
  const rows: [keyof typeof elementary, number, number][] = [
    ["exp", -40, 40],
    ["expm1", -3, 3],
    ["log", 1e-4, 20],
    ["log1p", -0.9, 5],
    ["cbrt", -30, 30],
    ["sin", -10, 10],
    ["cos", -10, 10],
    ["tan", -10, 10],
    ["asin", -1, 1],
    ["acos", -1, 1],
    ["atan", -20, 20],
  ];
  for (const [name, low, high] of rows) {
    it(`${name} is within 2 ulp of Math.${name} from ${low} to ${high}`, () => {
      const own = elementary[name] as (x: number) => number;
      const built = Math[name] as (x: number) => number;
      const worst = Math.max(...onGrid(low, high).map((x) => ulpsApart(own(x), built(x))));
      expect(worst).toBeLessThanOrEqual(2);
    });
  }
  it("pow, hypot and atan2 are within 3 ulp of theirs", () => {
    for (const x of onGrid(0.01, 9)) {
      for (const y of [-2.5, -1.5, -0.1, 1 / 3, 0.7, 1.5, 3.3, 17]) {
        expect(ulpsApart(pow(x, y), x ** y), `pow(${x}, ${y})`).toBeLessThanOrEqual(3);
        expect(ulpsApart(hypot(x, y), Math.hypot(x, y)), `hypot(${x}, ${y})`).toBeLessThanOrEqual(3);
        expect(ulpsApart(atan2(y, x), Math.atan2(y, x)), `atan2(${y}, ${x})`).toBeLessThanOrEqual(3);
      }
    }
  });
});

describe("special arguments, as ECMAScript defines them", () => {
  const special = [0, -0, 1, -1, 0.5, -0.5, 2, -3, Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY, Number.NaN];
  it("one argument", () => {
    for (const name of ["exp", "expm1", "log", "log1p", "cbrt", "sin", "tan", "asin", "atan", "acos", "cos"] as const) {
      for (const x of special) {
        const own = elementary[name](x);
        const built = Math[name](x);
        if (Number.isFinite(built) && built !== 0)
          expect(ulpsApart(own, built), `${name}(${x})`).toBeLessThanOrEqual(2);
        else expect(own, `${name}(${x})`).toBe(built);
      }
    }
  });
  it("two arguments", () => {
    for (const x of special) {
      for (const y of special) {
        for (const name of ["pow", "atan2"] as const) {
          const own = elementary[name](x, y);
          const built = Math[name](x, y);
          if (Number.isFinite(built) && built !== 0) {
            expect(ulpsApart(own, built), `${name}(${x}, ${y})`).toBeLessThanOrEqual(2);
          } else expect(own, `${name}(${x}, ${y})`).toBe(built);
        }
      }
    }
  });
  it("hypot of an infinity is infinite and of zeros is zero", () => {
    expect(hypot(Number.NEGATIVE_INFINITY, 3)).toBe(Number.POSITIVE_INFINITY);
    expect(hypot(0, -0)).toBe(0);
    expect(hypot(3, Number.NaN)).toBeNaN();
  });
});

describe("exact values", () => {
  it("perfect powers, roots and Pythagorean triples come out exact", () => {
    expect(pow(2, 10)).toBe(1024);
    expect(pow(3, 4)).toBe(81);
    expect(pow(-2, 3)).toBe(-8);
    expect(pow(9, 1.5)).toBe(27);
    expect(cbrt(-27)).toBe(-3);
    expect(cbrt(1e-300)).toBe(1e-100);
    expect(hypot(3, 4)).toBe(5);
    expect(hypot(3 * 2 ** 1000, -4 * 2 ** 1000)).toBe(5 * 2 ** 1000);
    expect(hypot(3 * 2 ** -1000, 4 * 2 ** -1000)).toBe(5 * 2 ** -1000);
  });
  it("the ends of the range", () => {
    expect(exp(709.7827128933841)).toBe(Number.POSITIVE_INFINITY);
    expect(exp(-745.2)).toBe(0);
    expect(exp(-744)).toBeCloseTo(Math.exp(-744), 320);
    expect(pow(2, 1024)).toBe(Number.POSITIVE_INFINITY);
    expect(pow(2, 1023)).toBe(2 ** 1023);
    expect(pow(2, -1074)).toBe(Number.MIN_VALUE);
    expect(pow(2, -1076)).toBe(0);
    expect(log(Number.MIN_VALUE)).toBe(-744.4400719213812);
    expect(log(Number.MAX_VALUE)).toBe(709.782712893384);
  });
  it("inverses", () => {
    expect(atan(1) * 4).toBe(Math.PI);
    expect(acos(-1)).toBe(Math.PI);
    expect(asin(1) * 2).toBe(Math.PI);
    expect(atan2(-0, -1)).toBe(-Math.PI);
    expect(tan(atan(0.3))).toBeCloseTo(0.3, 15);
    expect(sin(Math.PI)).toBe(1.2246467991473532e-16);
    expect(cos(Math.PI / 2)).toBe(6.123233995736766e-17);
    expect(expm1(log1p(1e-12))).toBeCloseTo(1e-12, 27);
  });
});
