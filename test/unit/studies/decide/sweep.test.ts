import { describe, expect, it } from "vitest";
import { sweepVerdict, sweepView } from "../../../../src/report/decide/sweep.ts";
import { decisionPage } from "../../../../src/report/decide/view.ts";
import { parseAxis } from "../../../../src/scenario/axis.ts";
import { createAssessor } from "../../../../src/studies/decide/assess.ts";
import { crossingsOf } from "../../../../src/studies/decide/crossing.ts";
import { sweepScenario } from "../../../../src/studies/decide/sweep.ts";
import { finish } from "../../../../src/studies/steps.ts";
import { sweepRows } from "../../../../src/tables/decide.ts";
import { problemsOf } from "../../../support/scenario.ts";
import { shippedVariable, TEST_MAKER } from "../../../support/variable.ts";

const source = shippedVariable("press-roller-variants.yaml");
const size = { points: 256, samples: 4096 };

describe("an axis", () => {
  it("goes in equal steps from end to end and keeps the tolerance that the scenario has", () => {
    const axis = parseAxis("states.hot.housing=60..140 degC/5", "--over", source);
    expect(axis.values.map(({ text }) => text)).toEqual([60, 80, 100, 120, 140].map((at) => `${at} ±6 degC`));
    expect(axis.kept).toBe("±6 degC");
  });

  it("takes a tolerance of its own, or none", () => {
    expect(parseAxis("states.hot.housing=60..80 ±2 degC/2", "--over", source).values[1].text).toBe("80 ±2 degC");
    expect(parseAxis("states.hot.housing=60..80 ±0 degC/2", "--over", source).values[1].text).toBe("80 degC");
  });

  it("lists numbers of one unit as numbers and names as names", () => {
    expect(parseAxis("clamp.force=1000,2000,4000 N", "--over", source).unit).toBeNull();
    expect(parseAxis("clamp.force=1000 N,2000 N", "--over", source).values[1]).toEqual({
      text: "2000 ±800 N",
      number: 2000,
    });
    expect(parseAxis("bearings.both.clearanceGroup=CN,C3", "--and", source).values[1]).toEqual({
      text: "C3",
      number: null,
    });
  });

  it("is refused without an address, without values and with one step", () => {
    for (const text of ["60..140 degC/5", "a=", "a=60..140 degC/1", "a=60..60 N/3"]) {
      expect(problemsOf(() => parseAxis(text, "--over", source))[0].code, text).toBe("usage");
    }
  });
});

describe("where a curve passes a target", () => {
  const at = (ratio: number) => ({ ratio, lowRatio: ratio - 0.01, highRatio: ratio + 0.01 });

  it("is found on curves whose crossing is known: a line exactly, 1/(1 + x²) = 1/2 at x = ±1 within 1e-3", () => {
    const line = (x: number) => at(1 - x / 4);
    const [only] = crossingsOf(
      [0, 1, 2, 3, 4].map((x) => ({ x, good: line(x) })),
      0.4,
      line,
    );
    expect(only.at).toBeCloseTo(2.4, 12);
    expect(only.high - only.low).toBeCloseTo(0.08, 12);
    expect(only.direction).toBe("falls below");
    const bell = (x: number) => at(1 / (1 + x * x));
    const both = crossingsOf(
      [-3, -1.7, -0.4, 0.8, 2.1].map((x) => ({ x, good: bell(x) })),
      0.5,
      bell,
    );
    expect(both.map(({ direction }) => direction)).toEqual(["rises above", "falls below"]);
    expect(Math.abs(both[0].at + 1)).toBeLessThan(1e-3);
    expect(Math.abs(both[1].at - 1)).toBeLessThan(1e-3);
  });
});

describe("a sweep", () => {
  const over = parseAxis("states.hot.housing=80..200 degC/4", "--over", source);
  const and = parseAxis("seats.housing.material=aluminium-6061,grey-iron", "--and", source);
  const finding = finish(sweepScenario(source, { over, and, targetRatio: 0.85, size, maker: TEST_MAKER }));

  it("has in every cell what the scenario with these values gives on its own", () => {
    const alone = createAssessor(size).assess(
      source.vary([
        { path: "seats.housing.material", value: "grey-iron" },
        { path: "states.hot.housing", value: "120 ±6 degC" },
      ]),
    );
    expect(finding.series[1].cells[1].shares).toEqual(alone.shares);
  });

  it("finds the temperature at which the yield falls below the target: there it is the target", () => {
    const [crossing] = finding.series[1].crossings;
    expect(crossing.direction).toBe("falls below");
    const there = createAssessor({ points: 1024, samples: 4096 }).assess(
      shippedVariable("press-roller-variants.yaml", {
        "states.hot.housing": `${crossing.at} ±6 degC`,
        seed: "another",
      }).base,
    );
    expect(Math.abs(there.shares.good.ratio - 0.85)).toBeLessThan(0.01);
    expect(crossing.low).toBeLessThan(crossing.at);
    expect(crossing.high - crossing.low).toBeLessThan(5);
  });

  it("says it in words, on a page with curves and a map, and as rows", () => {
    const result = { ...finding, verdict: sweepVerdict(finding) };
    expect(result.verdict[1]).toMatch(/grey-iron: the yield falls below 85\u00a0% at 1\d\d\.\d\u00a0°C/);
    const page = decisionPage(result, sweepView(result));
    expect(page.match(/<figure>/g)).toHaveLength(2);
    expect(page).not.toContain("NaN");
    expect(sweepRows(result).some(({ item }) => item === "120 ±6 degC | grey-iron")).toBe(true);
  });

  it("of too many cells is refused", () => {
    const wide = parseAxis("states.hot.housing=60..140 degC/1000", "--over", source);
    const [problem] = problemsOf(() =>
      finish(
        sweepScenario(source, {
          over: wide,
          and: parseAxis("clamp.force=100..4000 N/11", "--and", source),
          targetRatio: null,
          size,
          maker: TEST_MAKER,
        }),
      ),
    );
    expect(problem.code).toBe("too-large");
  });
});
