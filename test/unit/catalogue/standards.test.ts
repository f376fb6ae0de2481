import { describe, expect, test } from "vitest";
import { clearanceLimitsMm, parseClearanceGroup } from "../../../src/catalogue/clearance-groups.ts";
import { iso286Limits } from "../../../src/catalogue/iso286.ts";
import {
  boreDeviationMm,
  parseRingToleranceClass,
  ringWidthDeviationMm,
} from "../../../src/catalogue/ring-tolerances.ts";
import { problemOf } from "./problem.ts";

describe("iso286Limits", () => {
  test("a range includes its upper edge and not its lower one", () => {
    // h6 is 11 µm to 18 mm, 13 µm beyond.
    expect(iso286Limits(18, "h6").lowMm).toBe(-0.011);
    expect(iso286Limits(18.001, "h6").lowMm).toBe(-0.013);
  });

  test("the case of the letter decides between shaft and hole, and zero is never minus zero", () => {
    expect(iso286Limits(20, "h7")).toMatchObject({ feature: "shaft", lowMm: -0.021, highMm: 0 });
    expect(iso286Limits(20, "H7")).toMatchObject({ feature: "hole", lowMm: 0, highMm: 0.021 });
    expect(Object.is(iso286Limits(20, "H7").lowMm, 0)).toBe(true);
    expect(iso286Limits(20, " js 6 ")).toMatchObject({ letter: "js", grade: 6, lowMm: -0.0065, highMm: 0.0065 });
  });

  test("a hole where a shaft is meant is refused with the shaft's code", () => {
    const problem = problemOf(() => iso286Limits(20, "K5", "seats.shaft.a.fit", "shaft"));
    expect(problem).toMatchObject({ code: "conflict", path: "seats.shaft.a.fit", got: "20 K5" });
    expect(problem.hint).toBe("20 K5 is a hole; a shaft is k5.");
    expect(problemOf(() => iso286Limits(42, "j7", "", "hole")).hint).toBe("42 j7 is a shaft; a hole is J7.");
    expect(problemOf(() => iso286Limits(42, "j5", "", "hole")).hint).toBe("42 j5 is a shaft; a hole is J6.");
  });

  test("a grade outside the standard is refused with the nearest valid one", () => {
    expect(problemOf(() => iso286Limits(20, "J9"))).toMatchObject({ code: "out-of-range", hint: "The nearest is J8." });
    expect(problemOf(() => iso286Limits(20, "k19")).hint).toBe("The nearest is k14.");
    expect(problemOf(() => iso286Limits(20, "h0")).hint).toBe("The nearest is h1.");
    expect(problemOf(() => iso286Limits(20, "K9")).hint).toBe("The nearest is K8.");
  });

  test("an unknown letter or no code at all is refused", () => {
    expect(problemOf(() => iso286Limits(20, "x6")).code).toBe("unknown-name");
    expect(problemOf(() => iso286Limits(20, "Js7")).hint).toContain('"JS7"');
    for (const code of ["", "k", "6", "k6k", "k5.5", "constructor", "kk6", "k999"]) {
      expect(problemOf(() => iso286Limits(20, code)).code, code).toBe("unknown-name");
    }
  });

  test("sizes below 1 mm, above 250 mm and not-a-number are refused", () => {
    for (const size of [0.999, 0, -20, 250.001, Number.NaN, Number.POSITIVE_INFINITY]) {
      expect(problemOf(() => iso286Limits(size, "h6")).code, String(size)).toBe("out-of-range");
    }
  });

  test("every class from 1 to 250 mm has a width that is its grade and limits in order", () => {
    const widths = { 5: 9, 6: 13, 7: 21, 8: 33 } as const;
    for (const letter of ["e", "f", "g", "h", "js", "k", "m", "n", "p", "r"]) {
      for (const [grade, widthUm] of Object.entries(widths)) {
        for (const code of [`${letter}${grade}`, `${letter.toUpperCase()}${grade}`]) {
          const { lowMm, highMm } = iso286Limits(25, code);
          expect(highMm - lowMm, code).toBeCloseTo(widthUm / 1000, 12);
        }
      }
    }
  });
});

describe("clearance groups", () => {
  test("the usual spellings are read", () => {
    expect(["cn", " C3 ", "normal", "C0", "c5"].map((text) => parseClearanceGroup(text))).toEqual([
      "CN",
      "C3",
      "CN",
      "CN",
      "C5",
    ]);
  });

  test("unknown groups and bores of 2.5 mm and below are refused", () => {
    expect(problemOf(() => clearanceLimitsMm(20, "C1", "a.b"))).toMatchObject({ code: "unknown-name", path: "a.b" });
    expect(problemOf(() => clearanceLimitsMm(20, "3C")).hint).toBe('Did you mean "C3"?');
    expect(problemOf(() => clearanceLimitsMm(2.5, "CN"))).toMatchObject({ code: "out-of-range", got: "2.5 mm" });
    expect(problemOf(() => clearanceLimitsMm(Number.NaN, "CN")).code).toBe("out-of-range");
  });
});

describe("ring tolerance classes", () => {
  test("the usual spellings are read", () => {
    expect([6, "P6", "class 5", "normal", "P0", 0, "p5"].map((text) => parseRingToleranceClass(text))).toEqual([
      "6",
      "6",
      "5",
      "Normal",
      "Normal",
      "Normal",
      "5",
    ]);
  });

  test("classes 4 and 2 are not supported, others are unknown", () => {
    expect(problemOf(() => boreDeviationMm(20, "P4")).code).toBe("not-supported");
    expect(problemOf(() => boreDeviationMm(20, "constructor")).code).toBe("unknown-name");
    expect(problemOf(() => boreDeviationMm(20, 7)).code).toBe("unknown-name");
  });

  test("sizes outside the tables are refused", () => {
    expect(problemOf(() => boreDeviationMm(0.6, "Normal")).code).toBe("out-of-range");
    expect(problemOf(() => ringWidthDeviationMm(2, "Normal", "", true)).code).toBe("out-of-range");
    expect(problemOf(() => boreDeviationMm(181, "Normal")).expected).toContain("over 0.6 to 180 mm");
  });
});
