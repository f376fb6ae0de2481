import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import {
  addToMoments,
  emptyMoments,
  excessKurtosis,
  type Moments,
  momentsOf,
  skewness,
  standardDeviation,
} from "../../../src/stats/moments.ts";

interface Dataset {
  readonly name: string;
  readonly values: readonly number[];
  readonly mean: number;
  readonly sd: number;
  /** Least log10 relative error of the standard deviation; see SOURCE.md. */
  readonly sdDigits: number;
}

function measured(name: string, sdDigits: number): Dataset {
  const text = readFileSync(new URL(`./${name}.dat`, import.meta.url), "utf8");
  const certified = (label: string) => Number(new RegExp(`${label}.*:\\s*(\\S+)`).exec(text)?.[1]);
  const values = (text.split(/^-{5,}$/m)[1] ?? "").trim().split(/\s+/).map(Number);
  return { name, values, mean: certified("Sample Mean"), sd: certified("Sample Standard Deviation"), sdDigits };
}

/** 5000 digits of π by Machin's formula, with the one digit that NIST's file has otherwise. */
function piDigits(): number[] {
  const unit = 10n ** 5010n;
  const arctanOfInverse = (x: bigint): bigint => {
    let term = unit / x;
    let sum = term;
    for (let n = 1n; term !== 0n; n += 1n) {
      term /= -x * x;
      sum += term / (2n * n + 1n);
    }
    return sum;
  };
  const pi = 4n * (4n * arctanOfInverse(5n) - arctanOfInverse(239n));
  const digits = pi.toString().slice(0, 5000).split("").map(Number);
  digits[956] = 3;
  return digits;
}

const alternating = (whole: number): number[] => [
  whole + 0.2,
  ...Array.from({ length: 1000 }, (_, index) => whole + (index % 2 === 0 ? 0.1 : 0.3)),
];

const DATASETS: readonly Dataset[] = [
  { name: "PiDigits", values: piDigits(), mean: 4.5348, sd: 2.86733906028871, sdDigits: 12 },
  measured("Lottery", 12),
  measured("Lew", 12),
  measured("Mavro", 12),
  measured("Michelso", 12),
  { name: "NumAcc1", values: [10000001, 10000003, 10000002], mean: 10000002, sd: 1, sdDigits: 15 },
  { name: "NumAcc2", values: alternating(1), mean: 1.2, sd: 0.1, sdDigits: 12 },
  { name: "NumAcc3", values: alternating(1000000), mean: 1000000.2, sd: 0.1, sdDigits: 9 },
  { name: "NumAcc4", values: alternating(10000000), mean: 10000000.2, sd: 0.1, sdDigits: 8 },
];

/** Digits that agree with the certified value. */
function logRelativeError(value: number, certified: number): number {
  return value === certified ? 15 : Math.min(15, -Math.log10(Math.abs(value - certified) / Math.abs(certified)));
}

function inBlocks(values: readonly number[], size: number): Moments {
  const moments = emptyMoments();
  for (let start = 0; start < values.length; start += size) addToMoments(moments, values.slice(start, start + size));
  return moments;
}

describe("NIST StRD univariate sets (source: SOURCE.md)", () => {
  for (const { name, values, mean, sd, sdDigits } of DATASETS) {
    it(`${name}: mean to 14 digits, standard deviation with n - 1 to ${sdDigits}, whole and in blocks of 8`, () => {
      for (const moments of [momentsOf(values), inBlocks(values, 8)]) {
        expect(moments.count).toBe(values.length);
        expect(logRelativeError(moments.mean, mean)).toBeGreaterThanOrEqual(14);
        expect(logRelativeError(standardDeviation(moments), sd)).toBeGreaterThanOrEqual(sdDigits);
      }
    });
  }
  it("population skewness and excess kurtosis, recomputed at 60 digits with mpmath (not certified by NIST)", () => {
    const rows: [string, number, number][] = [
      ["Lew", -0.050226295458213, -1.48876017381403],
      ["Lottery", -0.0926882314503555, -1.19278094175795],
      ["Mavro", 0.625418070142952, -0.858384027819303],
      ["Michelso", -0.018259613963113, 0.263530532311392],
    ];
    for (const [name, g1, g2] of rows) {
      const values = DATASETS.find((dataset) => dataset.name === name)?.values ?? [];
      for (const moments of [momentsOf(values), inBlocks(values, 37)]) {
        expect(logRelativeError(skewness(moments), g1), `${name} g1`).toBeGreaterThan(10);
        expect(logRelativeError(excessKurtosis(moments), g2), `${name} g2`).toBeGreaterThan(10);
      }
    }
  });
});
