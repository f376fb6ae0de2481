import { describe, expect, it } from "vitest";
import { normalCdf, normalPdf } from "../../../src/numeric/special.ts";
import { batchVerdict } from "../../../src/report/batch/verdict.ts";
import { binomialProbability } from "../../../src/stats/batch-counts.ts";
import { studyBatch } from "../../../src/studies/batch/batch.ts";
import { checkRisks } from "../../../src/studies/batch/check.ts";
import { fitBetaBinomial } from "../../../src/studies/batch/counts.ts";
import { drawBatches } from "../../../src/studies/batch/draw.ts";
import { openUnit } from "../../../src/studies/unit.ts";
import { problemsOf, resolved } from "../../support/scenario.ts";

const MAKER = { version: "0", platform: "test" };

/** One length alone varies, so that a unit is good exactly while it lies in a window that does not vary. */
const STRAIGHT = {
  "bearings.both.clearance": "12 um",
  "bearings.both.conformityInner": 0.515,
  "bearings.both.conformityOuter": 0.52,
  "bearings.both.standOut": "0 um",
  "chain.spacer.length": 40,
  "seats.shaft.both.fit": 19.9,
  "seats.shaft.both.retained": true,
  "seats.housing.both.fit": 42.1,
};
const SD = 0.006;
const scenario = (batchShare: number, more: Record<string, unknown> = {}) =>
  resolved({
    ...STRAIGHT,
    "chain.housing spacing.length": { normal: { mean: "40.12 mm", sd: "6 um" }, batchShare },
    batch: { size: 100 },
    samples: 100_000,
    ...more,
  });

/** The window of the machined offset, the same for every unit. */
function shareOfFailures(): { low: number; high: number } {
  const { window } = openUnit(scenario(0), 0);
  return { low: window.lowMm, high: window.highMm };
}

describe("counts of batches that share a part of their spread", () => {
  const { low, high } = shareOfFailures();
  const goodGiven = (z: number, r: number) => {
    const middle = 0.12 + SD * Math.sqrt(r) * z;
    const own = SD * Math.sqrt(1 - r);
    return normalCdf((high - middle) / own) - normalCdf((low - middle) / own);
  };
  const integrate = (f: (z: number) => number) => {
    let sum = 0;
    for (let z = -8; z <= 8; z += 0.01) sum += 0.01 * normalPdf(z) * f(z);
    return sum;
  };

  it.each([0.3, 0.7])("have the mean, spread and tail of the closed mixture, shared part %d", (r) => {
    const n = 100;
    const mean = integrate((z) => n * goodGiven(z, r));
    const second = integrate((z) => {
      const p = goodGiven(z, r);
      return n * p * (1 - p) + n * n * p * p;
    });
    const sd = Math.sqrt(second - mean * mean);
    const found = studyBatch(scenario(r), MAKER);
    expect(found.isShared).toBe(true);
    expect(found.batches).toBe(1000);
    // Five standard errors of a mean, and of a standard deviation of such a skewed count (kurtosis below 10).
    expect(Math.abs(found.good.expected - mean)).toBeLessThan((5 * sd) / Math.sqrt(1000));
    expect(Math.abs(found.good.sd / sd - 1)).toBeLessThan(0.25);
    for (const { count, chanceRatio } of found.benchFailures.more) {
      const chance = integrate((z) => {
        const q = 1 - goodGiven(z, r);
        let sum = 0;
        for (let k = 0; k <= count; k += 1) sum += binomialProbability(k, n, q);
        return 1 - sum;
      });
      expect(Math.abs(chanceRatio - chance)).toBeLessThan(5 * Math.sqrt((chance * (1 - chance)) / 1000) + 1e-3);
    }
  });

  it("are binomial where nothing is shared", () => {
    const found = studyBatch(scenario(0), MAKER);
    const p = goodGiven(0, 0);
    expect(found.isShared).toBe(false);
    expect(Math.abs(found.good.expected - 100 * p)).toBeLessThan(5 * 100 * Math.sqrt((p * (1 - p)) / 100_000));
    expect(Math.abs(found.good.sd / Math.sqrt(100 * p * (1 - p)) - 1)).toBeLessThan(0.08);
    const most = found.benchFailures.more.find(({ count }) => count === 0)!;
    expect(Math.abs(most.chanceRatio - (1 - p ** 100))).toBeLessThan(0.01);
    expect(batchVerdict(found).join(" ")).toContain("No spread is stated as shared");
  });

  it("fit a beta-binomial by its moments: n·p·q·(1 + (n − 1)·ρ)", () => {
    const [n, p, rho] = [50, 0.2, 0.1];
    const found = fitBetaBinomial(n * p, n * p * (1 - p) * (1 + (n - 1) * rho), n);
    expect(found.meanRatio).toBeCloseTo(p, 12);
    expect(found.correlationRatio).toBeCloseTo(rho, 12);
    expect(fitBetaBinomial(10, 1, 50).correlationRatio).toBe(0);
  });
});

describe("warranty", () => {
  const states = [
    { name: "bench", housing: "20 degC" },
    { name: "hot", housing: "80 degC", shaft: "60 degC" },
  ];
  const drawn = (batch: Record<string, unknown>) => {
    const made = scenario(0.2, { states, batch: { size: 100, ...batch } });
    return drawBatches(made, 200, 100);
  };
  const sum = (column: Float64Array) => column.reduce((total, x) => total + x, 0);

  it("counts all service failures where every unit sees the state, and none where none does", () => {
    const all = drawn({});
    expect(sum(all.serviceFailures)).toBeGreaterThan(1000);
    expect(Array.from(all.warrantyFailures)).toEqual(Array.from(all.serviceFailures));
    expect(sum(drawn({ seenPerYear: { hot: 0 } }).warrantyFailures)).toBe(0);
  });

  it("counts a share 1 − (1 − q)^years of them: q = 0.4 over 2 years is 0.64", () => {
    const found = drawn({ seenPerYear: { hot: "40 %" }, warrantyYears: 2 });
    const failing = sum(found.serviceFailures);
    const ratio = sum(found.warrantyFailures) / failing;
    expect(Math.abs(ratio - 0.64)).toBeLessThan(5 * Math.sqrt((0.64 * 0.36) / failing));
  });

  it("adds every unit up to the batch", () => {
    const found = drawn({});
    found.good.forEach((good, i) => {
      expect(good + found.benchFailures[i] + found.serviceFailures[i]).toBe(100);
    });
  });
});

describe("costs of a batch", () => {
  it("are counts times prices: rework with its success, scrap of the rest, warranty", () => {
    const costs = { unit: "10 EUR", rework: "4 EUR", reworkShare: "75 %", warranty: "100 EUR" };
    const found = studyBatch(scenario(0.4, { costs }), MAKER);
    const failing = found.benchFailures.expected;
    expect(found.costs!.rework.expected).toBeCloseTo(4 * failing, 6);
    expect(found.costs!.scrap.expected).toBeCloseTo(10 * 0.25 * failing, 6);
    expect(found.costs!.loss.expected).toBeCloseTo((4 + 2.5) * failing, 6);
    const delivered = found.good.expected + 0.75 * failing;
    expect(found.costs!.perGoodUnit).toBeCloseTo((10 * 100 + 4 * failing) / delivered, 6);
    expect(found.costs!.settings.currency).toBe("EUR");
  });

  it("refuse two currencies and a share of rework without its cost", () => {
    expect(problemsOf(() => scenario(0, { costs: { unit: "1 EUR", scrap: "1 USD" } }))[0].code).toBe("conflict");
    expect(problemsOf(() => scenario(0, { costs: { reworkShare: 0.5 } }))[0].path).toBe("costs.rework");
    expect(problemsOf(() => scenario(0, { sampling: [{ sample: 101, accept: 0 }] }))[0].code).toBe("out-of-range");
    expect(problemsOf(() => scenario(0, { "batch.seenPerYear": { ht: 0.5 } }))[0].code).toBe("unknown-name");
  });
});

describe("a check of every unit", () => {
  const limits = resolved(STRAIGHT).limits;
  const check = (error: unknown, low = `${limits.lowN} N`, high = `${limits.highN} N`) =>
    scenario(0, { benchCheck: { gauge: "preload", low, high, error } });
  const risks = (error: unknown) => {
    const made = check(error);
    return checkRisks(made, made.batchPlans.benchCheck!);
  };

  it("without error and with the window as its limits lets nothing escape and rejects nothing good", () => {
    const { now } = risks("0 N");
    expect(now.escapesRatio).toBe(0);
    expect(now.falseRejectsRatio).toBe(0);
    expect(now.acceptedRatio).toBeGreaterThan(0.5);
  });

  it("keeps its books: accepted = good at the bench − rejected of them + escapes", () => {
    const found = studyBatch(check("0 ±12 N"), MAKER);
    const { now, guards } = found.check!;
    const good = 1 - found.benchFailures.expected / 100;
    expect(Math.abs(now.acceptedRatio - (good - now.rejectsAtBenchRatio + now.escapesRatio))).toBeLessThan(0.01);
    expect(now.escapesRatio).toBeGreaterThan(0);
    // JCGM 106: a guard band buys fewer escapes with more false rejects.
    for (let i = 1; i < guards.length; i += 1) {
      expect(guards[i].escapesRatio).toBeLessThan(guards[i - 1].escapesRatio);
      expect(guards[i].falseRejectsRatio).toBeGreaterThan(guards[i - 1].falseRejectsRatio);
    }
  });

  it("refuses a check without limits, or with a limit of another kind", () => {
    const bad = (benchCheck: unknown) => problemsOf(() => scenario(0, { benchCheck }))[0];
    expect(bad({ gauge: "play", error: "0 ±1 um" }).code).toBe("missing");
    expect(bad({ gauge: "play", high: "5 N", error: "0 ±1 um" }).code).toBe("wrong-unit");
    expect(bad({ gauge: "torque", low: "5 N.mm", high: "2 N.mm", error: "0 N.mm" }).code).toBe("reversed-limits");
  });
});

describe("a sampling plan over the batches that come", () => {
  it("lowers the failing share of what it passes only where batches differ", () => {
    const plan = { sampling: [{ sample: 20, accept: 2 }] };
    const shared = studyBatch(scenario(0.7, { ...plan, requiredYield: 0.8 }), MAKER).sampling[0];
    const alone = studyBatch(scenario(0, plan), MAKER).sampling[0];
    expect(shared.acceptedFailingRatio).toBeLessThan(0.8 * shared.allFailingRatio);
    expect(alone.acceptedFailingRatio).toBeGreaterThan(0.8 * alone.allFailingRatio);
    expect(shared.badAcceptedRatio).toBeGreaterThanOrEqual(0);
    expect(alone.badAcceptedRatio).toBeNull();
  });
});
