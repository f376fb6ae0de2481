import { describe, expect, test } from "vitest";
import {
  axialDisplacementMm,
  axialForceN,
  axialPlayMm,
  axialStiffnessNPerMm,
  ballLoadN,
  clearanceForFreeAngleMm,
  contactAngleRad,
  freeContactAngleRad,
  grooveCentreDistanceMm,
  halfAxialPlayMm,
} from "../../../src/physics/axial-contact.ts";
import { groovedContact, type Race, seriesStiffness } from "../../../src/physics/hertz.ts";
import { readCsv } from "../../support/csv.ts";

const DEGREE = Math.PI / 180;
const steel = { youngsModulusMPa: 207_000, poissonRatio: 0.3 };

describe("free contact angle and end-to-end axial play (free-angle.csv)", () => {
  for (const row of readCsv(new URL("free-angle.csv", import.meta.url))) {
    test(`${row.bearing} at ${row.Gr_um} µm`, () => {
      const distance = grooveCentreDistanceMm(Number(row.fi), Number(row.fo), Number(row.Dw));
      // A is printed to five digits.
      expect(distance).toBeCloseTo(Number(row.A_mm), 5);
      const clearance = Number(row.Gr_um) / 1000;
      expect(freeContactAngleRad(distance, clearance) / DEGREE).toBeCloseTo(Number(row.alpha0_deg), 3);
      expect(axialPlayMm(distance, clearance) * 1000).toBeCloseTo(Number(row.Pe_um), 2);
    });
  }
});

test("bearing 209, f 0.52, 15 µm: 9° 52′ and 0.174 mm end play (Harris, Rolling Bearing Analysis; from memory)", () => {
  const distance = grooveCentreDistanceMm(0.52, 0.52, 12.7);
  expect(freeContactAngleRad(distance, 0.015) / DEGREE).toBeCloseTo(9 + 52 / 60, 1);
  expect(freeContactAngleRad(distance, 0.015) / DEGREE).toBeCloseTo(9.857622, 6);
  expect(axialPlayMm(distance, 0.015)).toBeCloseTo(0.1739396, 7);
});

test("bearing 218 with the printed axial constant 896.7 N/mm²: 41.6°, 1676 N (Harris, Rolling Bearing Analysis; from memory)", () => {
  const ball = 22.23;
  const distance = 0.0464 * ball;
  // F/(Z·Dw²·K) = sin α·(cos α₀/cos α − 1)^1.5 defines the constant, so K·Dw² = stiffness·A^1.5.
  const stiffness = (896.7 * ball * ball) / distance ** 1.5;
  const clearance = clearanceForFreeAngleMm(distance, 40 * DEGREE);
  const x = axialDisplacementMm(17_800, 16 * stiffness, distance, clearance);
  expect(contactAngleRad(x, distance, clearance) / DEGREE).toBeCloseTo(41.59208, 4);
  expect(ballLoadN(x, stiffness, distance, clearance)).toBeCloseTo(1675.9, 1);
  expect(x - halfAxialPlayMm(distance, clearance)).toBeCloseTo(0.038318, 5);
});

describe("load, angle, displacement and stiffness (thrust.csv)", () => {
  for (const row of readCsv(new URL("thrust.csv", import.meta.url))) {
    test(`${row.case}, ${row.Fa_N} N`, () => {
      const distance = grooveCentreDistanceMm(Number(row.fi), Number(row.fo), Number(row.D_mm));
      const angular = row.Pd_mm === "";
      const clearance = angular
        ? clearanceForFreeAngleMm(distance, Number(row.alpha0_deg) * DEGREE)
        : Number(row.Pd_mm);
      // The curvatures are taken at the free contact angle.
      const free = freeContactAngleRad(distance, clearance);
      const contact = (race: Race, angle = free) =>
        groovedContact({
          ballDiameterMm: Number(row.D_mm),
          pitchDiameterMm: Number(row.dm_mm),
          conformityRatio: Number(race === "inner" ? row.fi : row.fo),
          contactAngleRad: angle,
          race,
          ball: steel,
          ring: steel,
        });
      const stiffness = seriesStiffness(contact("inner").stiffnessNPerMm15, contact("outer").stiffnessNPerMm15);
      expect(Math.abs(stiffness / Number(row["Kn_N/mm^1.5"]) - 1)).toBeLessThan(1e-9);
      const set = Number(row.Z) * stiffness;
      const x = axialDisplacementMm(Number(row.Fa_N), set, distance, clearance);
      expect(Math.abs(axialForceN(x, set, distance, clearance) / Number(row.Fa_N) - 1)).toBeLessThan(1e-12);
      expect(contactAngleRad(x, distance, clearance) / DEGREE).toBeCloseTo(Number(row.alpha_deg), 5);
      const load = ballLoadN(x, stiffness, distance, clearance);
      expect(Math.abs(load / Number(row.Q_N) - 1)).toBeLessThan(3e-7);
      expect(x - halfAxialPlayMm(distance, clearance)).toBeCloseTo(Number(row.delta_a_mm), 7);
      expect(axialStiffnessNPerMm(x, set, distance, clearance) / 1000).toBeCloseTo(Number(row["dFa/ddelta_N_um"]), 4);
      // The table takes the curvatures for the pressures at the angle under load.
      const cubeRoot = Math.cbrt(load);
      const loaded = contactAngleRad(x, distance, clearance);
      expect(contact("inner", loaded).pressureCoefficientMPa * cubeRoot).toBeCloseTo(Number(row.pmax_i), 2);
      expect(contact("outer", loaded).pressureCoefficientMPa * cubeRoot).toBeCloseTo(Number(row.pmax_o), 2);
    });
  }
});
