import { describe, expect, it } from "vitest";
import { studentTQuantile } from "../../../src/numeric/special.ts";
import { axialPlayMm, grooveCentreDistanceMm } from "../../../src/physics/axial-contact.ts";
import { auditVerdict } from "../../../src/report/audit/verdict.ts";
import { weightedQuantiles } from "../../../src/stats/weighted.ts";
import { auditUnit } from "../../../src/studies/audit/audit.ts";
import { gatherEvidence } from "../../../src/studies/audit/evidence.ts";
import { drawPosterior } from "../../../src/studies/audit/posterior.ts";
import { problemsOf, resolved } from "../../support/scenario.ts";

const MAKER = { version: "0", platform: "test" };
const READINGS = [
  { name: "housing spacing", values: ["40.130 mm", "40.132 mm", "40.131 mm", "40.129 mm"] },
  { name: "spacer", values: ["40.000 mm", "40.001 mm", "40.002 mm", "40.001 mm"] },
];
const unit = (audit: Record<string, unknown>, more: Record<string, unknown> = {}) =>
  resolved({ audit, samples: 60_000, ...more });

describe("readings of a dimension", () => {
  it("are drawn by Student's t: the 95 % interval of a difference with one exact length (JCGM 101:2008, 6.4.9)", () => {
    const scenario = unit({ readings: [READINGS[0], { name: "spacer", values: ["40 mm"] }] }, { samples: 200_000 });
    const { posterior } = auditUnit(scenario, MAKER);
    const [low, high] = weightedQuantiles(posterior.machinedMm, posterior.weights, [0.025, 0.975]);
    const sd = Math.sqrt(5 / 3) * 1e-3;
    const half = (-studentTQuantile(0.025, 3) * sd) / 2;
    expect(Math.abs(low - (0.1305 - half))).toBeLessThan(0.03e-3);
    expect(Math.abs(high - (0.1305 + half))).toBeLessThan(0.03e-3);
  });

  it("may be two, whose Student's t has no mean: everything stays a number", () => {
    const readings = READINGS.map((entry) => ({ ...entry, values: entry.values.slice(0, 2) }));
    const carrying = { "chain.spacer.area": "200 mm2", "chain.housing spacing.area": "400 mm2" };
    const { finding } = auditUnit(unit({ readings, temperature: "22 ±1 degC" }, carrying), MAKER);
    expect(finding.offset.estimateMm).toBeGreaterThan(0.1);
    expect(finding.offset.combined.expanded).toBeGreaterThan(0);
    expect(finding.window.lowMm.every(Number.isFinite)).toBe(true);
    expect(JSON.stringify(finding.offset)).not.toContain("null,null");
    expect(finding.good.shareRatio).toBeGreaterThan(0);
  });

  it("put their own terms in the budget: scatter, instrument, resolution", () => {
    const scenario = unit({ readings: [{ ...READINGS[0], limits: "±3 um", resolution: "1 um" }] });
    const { budget } = auditUnit(scenario, MAKER).finding.offset;
    const of = (label: string) => budget.find((row) => row.label.startsWith(label))!;
    expect(of("readings, housing").contributionMm).toBeCloseTo((Math.sqrt(5 / 3) * 1e-3) / 2, 6);
    expect(of("readings, housing").degreesOfFreedom).toBe(3);
    expect(of("instrument error, housing").contributionMm).toBeCloseTo(3e-3 / Math.sqrt(3), 6);
    expect(of("resolution, housing").contributionMm).toBeCloseTo(1e-3 / Math.sqrt(12), 6);
    expect(of("spacer").kind).toBe("not measured");
  });

  it("share the error of one instrument, which cancels in the difference", () => {
    const offsetOf = (names: readonly (string | undefined)[]) => {
      const readings = READINGS.map((entry, i) => ({
        ...entry,
        values: [entry.values[0]],
        limits: "±4 um",
        ...(names[i] ? { instrument: names[i] } : {}),
      }));
      const rows = auditUnit(unit({ readings }), MAKER).finding.offset.budget.filter(({ kind }) => kind === "gauge");
      return Math.sqrt(rows.reduce((sum, { contributionMm }) => sum + contributionMm * contributionMm, 0));
    };
    expect(offsetOf([undefined, undefined])).toBeCloseTo(4e-3 * Math.sqrt(2 / 3), 6);
    expect(offsetOf(["gauge", "gauge"])).toBeLessThan(1e-5);
  });

  it("are brought from the temperature while measuring to the reference", () => {
    // 40 mm of carbon steel (11.6 µm/m/K) read 10 K warm are 4.64 µm too long; both lengths of one steel cancel.
    const one = {
      readings: [
        { name: "housing spacing", values: ["40.13 mm"] },
        { name: "spacer", values: ["40 mm"] },
      ],
    };
    const at = (more: Record<string, unknown>) => auditUnit(unit({ ...one, ...more }), MAKER).posterior.machinedMm[0];
    expect(at({})).toBeCloseTo(0.13, 9);
    expect(at({ temperature: "30 degC" })).toBeCloseTo(0.13 * (1 - 11.6e-6 * 10), 9);
    const steel = { "chain.housing spacing.material": "aluminium-6061" };
    const mixed = auditUnit(unit({ ...one, temperature: "30 degC" }, steel), MAKER).posterior.machinedMm[0];
    expect(mixed).toBeCloseTo(40.13 * (1 - 23.4e-6 * 10) - 40 * (1 - 11.6e-6 * 10), 8);
  });
});

describe("a measured play of a bearing", () => {
  const limits = { low: 0.005, high: 0.02 };
  const scenario = (reading: string) =>
    unit(
      { readings: [{ name: "spacer", values: ["40 mm"] }], play: { a: { values: [reading], limits: "±8 um" } } },
      {
        "bearings.both.clearance": "12 um",
        "bearings.a.clearance": { uniform: { low: "5 um", high: "20 um" } },
        "bearings.both.conformityInner": 0.515,
        "bearings.both.conformityOuter": 0.52,
        "bearings.both.standOut": "0 um",
        "chain.housing spacing.length": 40.13,
        "seats.shaft.both.fit": 19.9,
        "seats.housing.both.fit": 42.1,
        samples: 100_000,
      },
    );

  it("gives the clearance by Bayes: mean onset against a quadrature over the group", () => {
    const distance = grooveCentreDistanceMm(0.515, 0.52, scenario("100 um").bearings.a.ballDiameterMm);
    const middle = axialPlayMm(distance, 0.0125);
    const reading = `${(middle * 1000).toFixed(3)} um`;
    const { posterior } = auditUnit(scenario(reading), MAKER);
    let total = 0;
    let sum = 0;
    posterior.weights.forEach((weight, i) => {
      total += weight;
      sum += weight * posterior.onsetMm[i];
    });
    // Uniform group, uniform error: the clearance is uniform where its play lies within ±8 µm of the reading.
    let plays = 0;
    let count = 0;
    for (let i = 0; i < 20_000; i += 1) {
      const clearance = limits.low + ((i + 0.5) / 20_000) * (limits.high - limits.low);
      const play = axialPlayMm(distance, clearance);
      if (Math.abs(play - middle) > 0.008) continue;
      plays += play;
      count += 1;
    }
    const expected = plays / count / 2 + axialPlayMm(distance, 0.012) / 2;
    // The state's own shift (20 °C, no clamp) is nothing.
    expect(Math.abs(sum / total - expected)).toBeLessThan(0.03e-3);
  });

  it("stands for itself where it contradicts the group, and the result says so", () => {
    const { finding } = auditUnit(scenario("250 um"), MAKER);
    expect(finding.warnings.map(({ message }) => message).join()).toContain("does not agree with the clearance group");
    expect(finding.states[0].outcomes.target.shareRatio).toBeLessThan(1);
  });

  it("is refused of a bearing whose clearance is one value", () => {
    const fixed = unit(
      { play: { a: { values: ["100 um"], limits: "±2 um" } } },
      { "bearings.both.clearance": "12 um" },
    );
    expect(problemsOf(() => auditUnit(fixed, MAKER))[0]).toMatchObject({ code: "conflict", path: "audit.play.a" });
  });
});

describe("a measured play of the assembled shaft", () => {
  it("weighs the draws: the play on the bench is then that of the reading", () => {
    const audit = { play: { pair: { values: ["30 um", "31 um", "29 um"], limits: "±2 um" } } };
    const scenario = unit(audit, { "chain.housing spacing.length": "40.06 ±0.01" });
    const evidence = gatherEvidence(scenario, scenario.audit!);
    const posterior = drawPosterior(scenario, evidence, 60_000, true);
    let total = 0;
    let sum = 0;
    // The play end to end is the way to the onset: the shaft moves from where bearing a stops it to where bearing b does.
    posterior.weights.forEach((weight, i) => {
      total += weight;
      sum += weight * (posterior.onsetMm[i] - posterior.machinedMm[i]);
    });
    expect(Math.abs(sum / total - 0.03)).toBeLessThan(0.4e-3);
    const { finding } = auditUnit(scenario, MAKER);
    expect(finding.states[0].outcomes.play.shareRatio).toBeGreaterThan(0.999);
    expect(finding.decision).toBe("no-go");
    expect(auditVerdict(finding)[0]).toContain("No-go");
  });
});

describe("the recommended shim", () => {
  it("does what it promises when the unit is judged again with it (brute force)", () => {
    const readings = [
      { name: "housing spacing", values: ["40.150 mm", "40.151 mm", "40.150 mm", "40.151 mm"] },
      { name: "spacer", values: ["40.000 mm", "40.001 mm", "40.000 mm", "40.001 mm"] },
    ];
    const play = { a: { values: ["98 um"], limits: "±2 um" }, b: { values: ["98 um"], limits: "±2 um" } };
    const { finding } = auditUnit(unit({ readings, play }), MAKER);
    const { best, now, stepMm } = finding.change!;
    expect(now.goodRatio).toBeCloseTo(finding.good.shareRatio, 3);
    expect(Math.abs(best.changeMm / stepMm - Math.round(best.changeMm / stepMm))).toBeLessThan(1e-9);
    expect(best.goodRatio).toBeGreaterThan(now.goodRatio);
    const mended = readings.map((entry) =>
      entry.name === "spacer"
        ? { ...entry, values: entry.values.map((text) => `${(Number.parseFloat(text) - best.changeMm).toFixed(4)} mm`) }
        : entry,
    );
    const again = auditUnit(unit({ readings: mended, play }, { seed: "another" }), MAKER).finding.good;
    expect(Math.abs(again.shareRatio - best.goodRatio)).toBeLessThan(5 * again.standardErrorRatio + 0.003);
  });
});

describe("what is refused", () => {
  it("an audit without readings, of unknown names, of other than lengths, twice the same", () => {
    expect(problemsOf(() => unit({}))[0].path).toBe("audit");
    expect(problemsOf(() => unit({ readings: [{ name: "spacr", values: ["1 mm"] }] }))[0].hint).toBe(
      'Did you mean "spacer"?',
    );
    expect(problemsOf(() => unit({ readings: [{ name: "seatFriction", values: [1] }] }))[0].code).toBe("not-supported");
    expect(problemsOf(() => unit({ readings: [READINGS[1], READINGS[1]] }))[0].code).toBe("conflict");
    expect(problemsOf(() => unit({ readings: [{ name: "spacer" }] }))[0].path).toBe("audit.readings.spacer.values");
    expect(problemsOf(() => auditUnit(resolved(), MAKER))[0].hint).toContain("--readings");
  });

  it("changes no run: the hash of a scenario is that without the audit", () => {
    expect(resolved({ audit: { readings: READINGS } }).hash).toBe(resolved().hash);
    const hashOf = (readings: unknown) =>
      auditUnit(unit({ readings }, { samples: 4096 }), MAKER).finding.provenance.scenarioHash;
    expect(hashOf(READINGS)).toBe(hashOf(READINGS));
    expect(hashOf(READINGS)).not.toBe(hashOf([READINGS[0]]));
  });
});
