import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { InputError, InternalError } from "../../../src/errors.ts";
import { frictionFactors, frictionHeatW, viscousTorqueNmm } from "../../../src/physics/friction-torque.ts";
import {
  ballLoadLifeMrev,
  ballRatings,
  basicRatingLifeMrev,
  lifeHours,
  reliabilityFactor,
  systemLifeMrev,
} from "../../../src/physics/life.ts";
import { compileThermalNetwork } from "../../../src/physics/thermal-network.ts";
import { shoulderAngleRad, shoulderRoomRad } from "../../../src/physics/truncation.ts";
import { steadyTemperaturesC } from "../../support/steady-temperatures.ts";

describe("steady thermal network", () => {
  const chain = compileThermalNetwork({
    nodes: ["shaft", "housing"],
    links: [
      { from: "shaft", to: "housing", conductanceWPerK: 2 },
      { from: "housing", to: null, conductanceWPerK: 5 },
    ],
  });

  test("a chain heated at its far end: ambient + Q/G₂, and Q/G₁ more behind it (closed form)", () => {
    const temperatures = steadyTemperaturesC(chain, [10, 0], 25);
    expect(temperatures[1]).toBeCloseTo(25 + 10 / 5, 12);
    expect(temperatures[0]).toBeCloseTo(25 + 10 / 5 + 10 / 2, 12);
  });

  test("two nodes with their own ways to ambient: closed form by determinants", () => {
    fc.assert(
      fc.property(
        fc.tuple(...Array.from({ length: 3 }, () => fc.double({ min: 0.01, max: 100, noNaN: true }))),
        fc.tuple(...Array.from({ length: 2 }, () => fc.double({ min: -50, max: 200, noNaN: true }))),
        ([between, first, second], [heatA, heatB]) => {
          const network = compileThermalNetwork({
            nodes: ["a", "b"],
            links: [
              { from: "a", to: "b", conductanceWPerK: between },
              { from: "a", to: null, conductanceWPerK: first },
              { from: "b", to: null, conductanceWPerK: second },
            ],
          });
          const determinant = first * second + between * (first + second);
          const [a, b] = steadyTemperaturesC(network, [heatA, heatB], 20);
          const scale = 1e-10 * (Math.abs(heatA) + Math.abs(heatB) + 1) * ((between + first + second) / determinant);
          expect(Math.abs(a - 20 - ((second + between) * heatA + between * heatB) / determinant)).toBeLessThan(scale);
          expect(Math.abs(b - 20 - ((first + between) * heatB + between * heatA) / determinant)).toBeLessThan(scale);
        },
      ),
    );
  });

  test("all heat put in goes to ambient", () => {
    const network = compileThermalNetwork({
      nodes: ["shaft", "inner", "balls", "outer", "housing"],
      links: [
        { from: "shaft", to: "inner", conductanceWPerK: 3 },
        { from: "inner", to: "balls", conductanceWPerK: 0.4 },
        { from: "balls", to: "outer", conductanceWPerK: 0.6 },
        { from: "outer", to: "housing", conductanceWPerK: 4 },
        { from: "housing", to: null, conductanceWPerK: 1.5 },
        { from: "shaft", to: null, conductanceWPerK: 0.2 },
      ],
    });
    const temperatures = steadyTemperaturesC(network, [1, 2, 3, 2, 0], 20);
    expect(1.5 * (temperatures[4] - 20) + 0.2 * (temperatures[0] - 20)).toBeCloseTo(8, 11);
    expect([...steadyTemperaturesC(network, [0, 0, 0, 0, 0], 37)]).toEqual([37, 37, 37, 37, 37]);
  });

  test("a network that is cut off after it was checked is a fault of the program", () => {
    const cut = compileThermalNetwork({ nodes: ["a"], links: [{ from: "a", to: null, conductanceWPerK: 1 }] });
    cut.conductancesWPerK[0] = 0;
    expect(() => steadyTemperaturesC(cut, [1], 20)).toThrow(InternalError);
  });

  test("a node without a way to ambient, an unknown node, a doubled name and a conductance of zero are refused", () => {
    const links = [{ from: "a", to: null, conductanceWPerK: 1 }];
    expect(() => compileThermalNetwork({ nodes: ["a", "b"], links })).toThrow(/none from b/);
    expect(() => compileThermalNetwork({ nodes: ["a", "a"], links })).toThrow(InputError);
    expect(() => compileThermalNetwork({ nodes: ["a"], links: [{ ...links[0], to: "c" }] })).toThrow(InputError);
    expect(() => compileThermalNetwork({ nodes: ["a"], links: [{ ...links[0], conductanceWPerK: 0 }] })).toThrow(
      InputError,
    );
    expect(() => compileThermalNetwork({ nodes: [], links: [] })).toThrow(InputError);
  });
});

describe("friction", () => {
  test("the two viscous branches meet at ν·n = 2000 within 1 %, and rest has the lower one", () => {
    const below = viscousTorqueNmm(1.3, 10, 199.9999, 33.5);
    expect(Math.abs(viscousTorqueNmm(1.3, 10, 200, 33.5) / below - 1)).toBeLessThan(0.01);
    expect(viscousTorqueNmm(1.3, 10, 0, 33.5)).toBe(below);
    expect(viscousTorqueNmm(1.3, 10, -3000, 33.5)).toBe(viscousTorqueNmm(1.3, 10, 3000, 33.5));
  });

  test("starting to turn: 1.3·160·33.5³·10⁻⁷ = 0.7819838 N·mm, worked out by hand", () => {
    expect(viscousTorqueNmm(1.3, 10, 0, 33.5)).toBeCloseTo(0.7819838, 12);
  });

  test("10 N·mm at 3000 1/min is 3.1416 W", () => {
    expect(frictionHeatW(10, 3000)).toBeCloseTo(Math.PI, 12);
    expect(frictionHeatW(10, -3000)).toBeCloseTo(Math.PI, 12);
  });

  test("an unknown series is refused with the known ones", () => {
    expect(() => frictionFactors("99")).toThrow(/618, ?/);
    expect(() => frictionFactors("toString")).toThrow(InputError);
  });
});

describe("life", () => {
  test("half the load lives eight times as long; none lives for ever; hours follow the speed", () => {
    expect(basicRatingLifeMrev(10_000, 500)).toBe(8000);
    expect(basicRatingLifeMrev(10_000, 1000)).toBe(1000);
    expect(basicRatingLifeMrev(10_000, 0)).toBe(Number.POSITIVE_INFINITY);
    expect(lifeHours(60, 1000)).toBe(1000);
    expect(() => basicRatingLifeMrev(0, 500)).toThrow(InputError);
    expect(() => lifeHours(60, 0)).toThrow(InputError);
  });

  test("two equal bearings live 2^(−9/10) as long as one; a bearing without load does not shorten it", () => {
    expect(systemLifeMrev([1000, 1000]) / 1000).toBeCloseTo(2 ** -0.9, 12);
    expect(systemLifeMrev([1000, Number.POSITIVE_INFINITY])).toBeCloseTo(1000, 9);
    expect(systemLifeMrev([])).toBe(Number.POSITIVE_INFINITY);
  });

  test("the ball-load-based life falls with the cube of all loads and never lies outside the numbers", () => {
    const ratings = ballRatings({
      dynamicRatingN: 12_800,
      ballCount: 3,
      ballDiameterMm: 7.938,
      pitchDiameterMm: 33.5,
      conformityInnerRatio: 0.52,
      conformityOuterRatio: 0.53,
      contactAngleRad: 0.2,
    });
    const life = (scale: number) => ballLoadLifeMrev(ratings, Float64Array.of(3 * scale, scale, 0));
    expect(life(1) / life(2)).toBeCloseTo(8, 9);
    // Balls that carry a tenth of a newton live long, but not for ever.
    expect(life(0.1) / life(1)).toBeCloseTo(1000, 6);
    expect(ballLoadLifeMrev(ratings, new Float64Array(3))).toBe(Number.POSITIVE_INFINITY);
    expect(Number.isNaN(life(1e-200))).toBe(false);
    expect(() => reliabilityFactor(0.93)).toThrow(InputError);
  });
});

describe("contact ellipse against the shoulder", () => {
  test("a shoulder of half the ball covers a right angle, one of a quarter 60°", () => {
    expect(shoulderAngleRad(2, 4)).toBeCloseTo(Math.PI / 2, 12);
    expect(shoulderAngleRad(1, 4)).toBeCloseTo(Math.PI / 3, 12);
    expect(() => shoulderAngleRad(2.1, 4)).toThrow(InputError);
  });

  test("room shrinks with contact angle and ellipse alike, for both signs of the angle", () => {
    const room = shoulderRoomRad(0.3, 0.5, 1, 4);
    expect(room).toBeCloseTo(Math.PI / 3 - 0.3 - Math.asin(0.25), 12);
    expect(shoulderRoomRad(-0.3, 0.5, 1, 4)).toBe(room);
    expect(shoulderRoomRad(1, 0.5, 1, 4)).toBeLessThan(0);
  });
});
