import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { InputError } from "../../../src/errors.ts";
import { axialForceN, axialStiffnessNPerMm } from "../../../src/physics/axial-contact.ts";
import { createBallRow, evaluateBallRow, fillBallLoads } from "../../../src/physics/ball-row.ts";

const options = {
  ballCount: 9,
  ballStiffnessNPerMm15: 265_000,
  grooveDistanceMm: 0.254,
  clearanceMm: 0.0125,
  grooveRadiusMm: 16.2,
};
const share = fc.double({ min: -1, max: 1, noNaN: true });

function evaluate(row: ReturnType<typeof createBallRow>, displacement: Float64Array) {
  const force = new Float64Array(5);
  const stiffness = new Float64Array(25);
  const energyNmm = evaluateBallRow(row, displacement, force, stiffness);
  return { force, stiffness, energyNmm };
}

/** Displacements around a loaded axial position, in all five directions. */
const displacements = fc
  .tuple(share, share, share, share, share)
  .map(([x, y, z, tiltY, tiltZ]) =>
    Float64Array.of(0.08 + 0.02 * x, 0.01 * y, 0.01 * z, 0.0005 * tiltY, 0.0005 * tiltZ),
  );

describe("one ball row in five degrees of freedom", () => {
  test("a purely axial displacement gives the force and stiffness of the axial model, and nothing across", () => {
    const row = createBallRow({ ...options, azimuthRad: 0.3 });
    for (const x of [-0.09, 0, 0.04, 0.07, 0.1]) {
      const { force, stiffness } = evaluate(row, Float64Array.of(x, 0, 0, 0, 0));
      const set = 9 * options.ballStiffnessNPerMm15;
      expect(force[0]).toBeCloseTo(axialForceN(x, set, 0.254, 0.0125), 8);
      expect(stiffness[0]).toBeCloseTo(axialStiffnessNPerMm(x, set, 0.254, 0.0125), 6);
      for (const i of [1, 2, 3, 4]) expect(Math.abs(force[i])).toBeLessThan(1e-9);
    }
  });

  test("forces are the gradient of the energy and the stiffness is their derivative (central differences, 1e-6)", () => {
    const steps = [1e-6, 1e-6, 1e-6, 1e-7, 1e-7];
    fc.assert(
      fc.property(displacements, fc.double({ min: 0, max: 6, noNaN: true }), (at, azimuthRad) => {
        const row = createBallRow({ ...options, azimuthRad });
        const middle = evaluate(row, at);
        const forceScale = Math.hypot(...middle.force);
        for (let direction = 0; direction < 5; direction++) {
          const shifted = (sense: number) => {
            const moved = Float64Array.from(at);
            moved[direction] += sense * steps[direction];
            return evaluate(row, moved);
          };
          const up = shifted(1);
          const down = shifted(-1);
          const gradient = (up.energyNmm - down.energyNmm) / (2 * steps[direction]);
          expect(Math.abs(gradient - middle.force[direction])).toBeLessThan(1e-6 * forceScale);
          const columnScale = Math.sqrt(middle.stiffness[direction * 6]);
          for (let component = 0; component < 5; component++) {
            const difference = (up.force[component] - down.force[component]) / (2 * steps[direction]);
            const scale = columnScale * Math.sqrt(middle.stiffness[component * 6]);
            expect(Math.abs(difference - middle.stiffness[component * 5 + direction])).toBeLessThan(1e-6 * scale);
          }
        }
      }),
      { numRuns: 200 },
    );
  });

  test("the work of the forces along a path is the energy stored (10-point Gauss quadrature, 1e-9), and 0.4·ΣQδ", () => {
    // Nodes and weights of 10-point Gauss–Legendre quadrature on (−1, 1): Abramowitz and Stegun 1964, Table 25.4.
    const nodes = [0.1488743389816312, 0.4333953941292472, 0.6794095682990244, 0.8650633666889845, 0.9739065285171717];
    const weights = [0.2955242247147529, 0.2692667193099963, 0.219086362515982, 0.1494513491505806, 0.0666713443086881];
    // Interference keeps every ball in contact along the whole way, so that the integrand is smooth.
    const row = createBallRow({ ...options, clearanceMm: -0.03 });
    fc.assert(
      fc.property(share, share, share, share, share, (x, y, z, tiltY, tiltZ) => {
        const end = [0.01 * x, 0.004 * y, 0.004 * z, 0.0003 * tiltY, 0.0003 * tiltZ];
        let work = 0;
        nodes.forEach((node, i) => {
          for (const t of [0.5 * (1 + node), 0.5 * (1 - node)]) {
            const { force } = evaluate(
              row,
              Float64Array.from(end, (value) => t * value),
            );
            work += 0.5 * weights[i] * force.reduce((sum, value, k) => sum + value * end[k], 0);
          }
        });
        const last = evaluate(row, Float64Array.from(end));
        const stored = last.energyNmm - evaluate(row, new Float64Array(5)).energyNmm;
        expect(Math.abs(work - stored)).toBeLessThan(1e-9 * last.energyNmm);
        const loads = new Float64Array(9);
        fillBallLoads(row, Float64Array.from(end), loads, null);
        const fromBalls = loads.reduce((sum, load) => sum + 0.4 * load * (load / 265_000) ** (2 / 3), 0);
        expect(Math.abs(fromBalls / last.energyNmm - 1)).toBeLessThan(1e-12);
      }),
      { numRuns: 200 },
    );
  });

  test("forces and moments are the sum over the balls of load times direction (1e-12)", () => {
    fc.assert(
      fc.property(displacements, (at) => {
        const row = createBallRow(options);
        const { force } = evaluate(row, at);
        const loads = new Float64Array(9);
        const angles = new Float64Array(9);
        fillBallLoads(row, at, loads, angles);
        const sum = [0, 0, 0, 0, 0];
        for (let ball = 0; ball < 9; ball++) {
          const [c, s] = [row.cosines[ball], row.sines[ball]];
          const axial = loads[ball] * Math.sin(angles[ball]);
          const radial = loads[ball] * Math.cos(angles[ball]);
          sum[0] += axial;
          sum[1] += radial * c;
          sum[2] += radial * s;
          sum[3] += 16.2 * s * axial;
          sum[4] -= 16.2 * c * axial;
        }
        const total = loads.reduce((all, load) => all + load, 1);
        for (let i = 0; i < 5; i++)
          expect(Math.abs(sum[i] - force[i])).toBeLessThan(1e-12 * total * (i < 3 ? 1 : 16.2));
      }),
    );
  });

  test("inside the play nothing pushes, and no ball carries", () => {
    const row = createBallRow(options);
    const { force, stiffness, energyNmm } = evaluate(row, Float64Array.of(0.02, 0.002, -0.001, 1e-5, 0));
    expect([...force, ...stiffness, energyNmm].every((value) => Math.abs(value) === 0)).toBe(true);
  });

  test("impossible rows are refused", () => {
    expect(() => createBallRow({ ...options, ballCount: 2 })).toThrow(InputError);
    expect(() => createBallRow({ ...options, ballStiffnessNPerMm15: 0 })).toThrow(InputError);
    expect(() => createBallRow({ ...options, clearanceMm: 0.508 })).toThrow(InputError);
    expect(() => createBallRow({ ...options, grooveDistanceMm: Number.NaN })).toThrow(InputError);
    expect(() => createBallRow({ ...options, azimuthRad: Number.POSITIVE_INFINITY })).toThrow(InputError);
  });
});
