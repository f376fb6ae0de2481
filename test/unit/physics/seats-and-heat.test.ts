import { describe, expect, test } from "vitest";
import { InputError } from "../../../src/errors.ts";
import {
  pathEnergyNmm,
  pathForceN,
  pathStiffnessNPerMm,
  positionPath,
  springPath,
} from "../../../src/physics/preload-path.ts";
import { dynamicFactor, staticFactor } from "../../../src/physics/rating-factors.ts";
import { basicDynamicRatingN, basicStaticRatingN } from "../../../src/physics/ratings.ts";
import { innerFit, outerFit, retentionForceN, smoothingMm } from "../../../src/physics/ring-fit.ts";
import { lengthAtMm } from "../../../src/physics/thermal-growth.ts";
import { compileThermalNetwork } from "../../../src/physics/thermal-network.ts";
import { shoulderAngleRad } from "../../../src/physics/truncation.ts";
import { steadyTemperaturesC } from "../../support/steady-temperatures.ts";

const STEEL = { youngsModulusMPa: 208_000, poissonRatio: 0.3 };

describe("the path of the preload", () => {
  const paths = [
    positionPath(0.1, 2e-5),
    springPath({
      offsetMm: 1,
      complianceMmPerN: 1e-4,
      springComplianceMmPerN: 0.01,
      springSolidForceN: 150,
      slidingBearing: "b",
    }),
  ];

  test.each(paths.map((path, place) => [["by position", "by a spring"][place], path] as const))(
    "%s: the energy is the force over the way (trapezium rule, exact between kinks), the stiffness its slope",
    (_, path) => {
      // The spring is solid at 150 N, 1.515 mm: on both sides of it, and at the kink.
      for (const end of [0.4, 1.515, 1.6, 3]) {
        const cuts = [0, Math.min(end, 1.515), end];
        let work = 0;
        for (let i = 1; i < cuts.length; i++) {
          work += 0.5 * (pathForceN(path, cuts[i - 1]) + pathForceN(path, cuts[i])) * (cuts[i] - cuts[i - 1]);
        }
        expect(pathEnergyNmm(path, end) / work).toBeCloseTo(1, 12);
      }
      for (const giveMm of [0.4, 1.5, 1.53, 3]) {
        const slope = (pathForceN(path, giveMm + 1e-4) - pathForceN(path, giveMm - 1e-4)) / 2e-4;
        expect(pathStiffnessNPerMm(path, giveMm) / slope).toBeCloseTo(1, 9);
      }
    },
  );

  test("a spring that hangs free has neither force, stiffness nor energy; one solid at less than a newton is a spring too", () => {
    expect([pathForceN, pathStiffnessNPerMm, pathEnergyNmm].map((of) => of(paths[1], -0.2) + 0)).toEqual([0, 0, 0]);
    const weak = { offsetMm: 1, complianceMmPerN: 1e-4, springComplianceMmPerN: 1, slidingBearing: "a" as const };
    expect(pathForceN(springPath({ ...weak, springSolidForceN: 0.5 }), 0.25)).toBeCloseTo(0.25 / 1.0001, 12);
  });
});

describe("networks of bodies that exchange heat", () => {
  test("whichever end a link is written from, also to the first body: the same temperatures, in closed form", () => {
    for (const [from, to] of [
      ["a", "b"],
      ["b", "a"],
    ]) {
      const network = compileThermalNetwork({
        nodes: ["a", "b"],
        links: [
          { from, to, conductanceWPerK: 2 },
          { from: "a", to: null, conductanceWPerK: 5 },
        ],
      });
      const [a, b] = steadyTemperaturesC(network, [0, 10], 20);
      expect(a).toBeCloseTo(22, 12);
      expect(b).toBeCloseTo(27, 12);
    }
  });

  test("a long way to ambient is one, in whatever order and sense its links are written", () => {
    const nodes = ["a", "b", "c", "d", "e"];
    const links = nodes.slice(1).map((from, i) => ({ from, to: nodes[i], conductanceWPerK: 1 }));
    const ambient = { from: "a", to: null, conductanceWPerK: 1 };
    const backwards = links.map(({ from, to }) => ({ from: to, to: from, conductanceWPerK: 1 }));
    for (const order of [
      [...links, ambient],
      [ambient, ...links.toReversed()],
      [...backwards.toReversed(), ambient],
    ]) {
      const network = compileThermalNetwork({ nodes, links: order });
      const temperatures = steadyTemperaturesC(network, [0, 0, 0, 0, 1], 0);
      temperatures.forEach((value, node) => {
        expect(value).toBeCloseTo(node + 1, 11);
      });
    }
  });

  test("bodies linked to one another but not to ambient are named; so is a link to what is no body, or without end", () => {
    const links = [
      { from: "b", to: "a", conductanceWPerK: 1 },
      { from: "c", to: null, conductanceWPerK: 1 },
    ];
    expect(() => compileThermalNetwork({ nodes: ["c", "a", "b"], links })).toThrow(/none from a, b(\.|$)/);
    expect(() => compileThermalNetwork({ nodes: ["a", "b", "c"], links: links.toReversed() })).toThrow(
      /none from a, b(\.|$)/,
    );
    const one = { from: "a", to: null, conductanceWPerK: 1 };
    expect(() => compileThermalNetwork({ nodes: ["a"], links: [one, { ...one, to: "z" }] })).toThrow(
      /network \(a\), got z/,
    );
    const endless = { ...one, conductanceWPerK: Number.POSITIVE_INFINITY };
    expect(() => compileThermalNetwork({ nodes: ["a"], links: [endless] })).toThrow(InputError);
    expect(() => compileThermalNetwork({ nodes: ["a"], links: [one, { ...one, to: "a" }] })).toThrow(InputError);
  });
});

test("100 mm of steel at 12·10⁻⁶/K are 100.12 mm at 120 °C and 99.904 mm at −60 °C", () => {
  expect(lengthAtMm(100, 12e-6, 120)).toBeCloseTo(100.12, 12);
  expect(lengthAtMm(100, 12e-6, -60)).toBeCloseTo(99.904, 12);
});

describe("what cannot be made is refused", () => {
  const inner = { seatDiameterMm: 20, racewayDiameterMm: 26, shaftBoreMm: 0, ring: STEEL, shaft: STEEL };
  const outer = {
    seatDiameterMm: 47,
    racewayDiameterMm: 40,
    housingOutsideDiameterMm: 70,
    ring: STEEL,
    housing: STEEL,
  };
  const rubber = { youngsModulusMPa: 10, poissonRatio: 0.6 };

  test("seats", () => {
    for (const change of [
      { seatDiameterMm: -20, shaftBoreMm: -30 },
      { shaftBoreMm: 20 },
      { ring: rubber },
      { shaft: rubber },
    ]) {
      expect(() => innerFit({ ...inner, ...change }), JSON.stringify(change)).toThrow(InputError);
    }
    for (const change of [{ racewayDiameterMm: 0 }, { racewayDiameterMm: -1 }, { ring: rubber }, { housing: rubber }]) {
      expect(() => outerFit({ ...outer, ...change }), JSON.stringify(change)).toThrow(InputError);
    }
    expect(() => smoothingMm(0, -0.001)).toThrow(InputError);
    expect(() => smoothingMm(-0.001, 0)).toThrow(InputError);
    expect(smoothingMm(0, 1)).toBeCloseTo(0.8, 12);
  });

  test("shoulders: above 0 and up to half the ball", () => {
    for (const [height, ball] of [
      [0, 4],
      [2.001, 4],
      [1, 0],
    ]) {
      expect(() => shoulderAngleRad(height, ball)).toThrow(InputError);
    }
    // cos θ = 1 − 2·0.5/4 = 0.75.
    expect(shoulderAngleRad(0.5, 4)).toBeCloseTo(Math.acos(0.75), 12);
  });

  test("ratios beyond the tables of load ratings, but for rounding; sets of balls at their limits", () => {
    for (const gamma of [-0.0000005, 0.4000005]) expect(() => staticFactor(gamma)).toThrow(InputError);
    for (const gamma of [0.0099995, 0.4000005]) expect(() => dynamicFactor(gamma)).toThrow(InputError);
    expect(staticFactor(0.4 + 1e-13)).toBeCloseTo(staticFactor(0.4), 9);
    const set = { ballCount: 3, ballDiameterMm: 6, pitchDiameterMm: 31, contactAngleRad: Math.PI / 4, rows: 1 };
    expect(basicStaticRatingN(set)).toBeGreaterThan(0);
    expect(() => basicStaticRatingN({ ...set, contactAngleRad: 0.7858 })).toThrow(InputError);
  });
});

test("a seat holds by friction from the least pressure on: 0.12·0.5·π·20·14 = 52.779 N", () => {
  expect(retentionForceN(0.12, 0.5, 20, 14)).toBeCloseTo(52.7788, 4);
  expect(retentionForceN(0.12, -0.5, 20, 14)).toBe(0);
});

test("balls over 25.4 mm: C follows 3.647·Dw^1.4 instead of Dw^1.8 (ISO 281:2007, 5.1), which meet within 0.2 % at 25.4 mm", () => {
  const rating = (ballDiameterMm: number) =>
    basicDynamicRatingN({
      ballCount: 8,
      ballDiameterMm,
      pitchDiameterMm: 5 * ballDiameterMm,
      contactAngleRad: 0,
      rows: 1,
    });
  // Everything else is the same at one ratio of ball to pitch diameter.
  expect(rating(25.4) / rating(10)).toBeCloseTo((25.4 / 10) ** 1.8, 10);
  expect(rating(25.41) / rating(10)).toBeCloseTo((3.647 * 25.41 ** 1.4) / 10 ** 1.8, 10);
});
