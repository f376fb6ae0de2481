import { describe, expect, test } from "vitest";
import {
  axisRatioFromCurvatureDifferenceComplement,
  completeEllipticIntegrals,
} from "../../../src/physics/elliptic.ts";
import { groovedContact, type Race } from "../../../src/physics/hertz.ts";
import { readCsv } from "../../support/csv.ts";

const steel = { youngsModulusMPa: 207_000, poissonRatio: 0.3 };

function relative(got: number, wanted: number): number {
  return Math.abs(got / wanted - 1);
}

describe("ball-in-groove contacts against exact elliptic integrals (contacts.csv)", () => {
  for (const row of readCsv(new URL("contacts.csv", import.meta.url))) {
    test(`${row.case}, race ${row.ring}`, () => {
      const material = { youngsModulusMPa: Number(row.E_MPa), poissonRatio: Number(row.nu) };
      const contact = groovedContact({
        ballDiameterMm: Number(row.D_mm),
        pitchDiameterMm: Number(row.D_mm) / Number(row.gamma),
        conformityRatio: Number(row.f),
        contactAngleRad: 0,
        race: row.ring === "i" ? "inner" : "outer",
        ball: material,
        ring: material,
      });
      const load = Number(row.Q_N);
      const root = Math.cbrt(load);
      // The table prints eight digits from the γ of seven.
      expect(relative(contact.curvatureSumPerMm, Number(row["sum_rho_1/mm"]))).toBeLessThan(3e-7);
      expect(relative(contact.curvatureDifferenceRatio, Number(row.F_rho))).toBeLessThan(3e-7);
      expect(relative(contact.axisRatio, Number(row.kappa))).toBeLessThan(1e-6);
      expect(relative(contact.semiMajorRatio, Number(row.astar))).toBeLessThan(1e-6);
      expect(relative(contact.semiMinorRatio, Number(row.bstar))).toBeLessThan(1e-6);
      expect(relative(contact.approachRatio, Number(row.dstar))).toBeLessThan(1e-6);
      expect(relative(contact.semiMajorCoefficientMm * root, Number(row.a_mm))).toBeLessThan(1e-6);
      expect(relative(contact.semiMinorCoefficientMm * root, Number(row.b_mm))).toBeLessThan(1e-6);
      expect(relative((load / contact.stiffnessNPerMm15) ** (2 / 3), Number(row.delta_mm))).toBeLessThan(1e-6);
      expect(relative(contact.pressureCoefficientMPa * root, Number(row.pmax_MPa))).toBeLessThan(1e-6);
      expect(relative(contact.stiffnessNPerMm15, Number(row["Kp_N/mm^1.5"]))).toBeLessThan(1e-6);
    });
  }
});

test("axis ratio and integrals over the curvature difference (elliptic-factors.csv, printed to six or seven digits)", () => {
  const rows = readCsv(new URL("elliptic-factors.csv", import.meta.url));
  expect(rows.length).toBe(19);
  for (const row of rows) {
    const printed = Number(row.Frho);
    // F(ρ) = (Ry − Rx)/(Ry + Rx) of the radius ratio, which the table prints exactly.
    const ratio = Number(row["alpha_r=Ry/Rx"]);
    const complement = 2 / (ratio + 1);
    expect(Math.abs(1 - complement - printed)).toBeLessThan(6e-7);
    const kappa = axisRatioFromCurvatureDifferenceComplement(complement);
    const { first, second } = completeEllipticIntegrals(1 / (kappa * kappa));
    expect(relative(kappa, Number(row.kappa_exact))).toBeLessThan(6e-7);
    expect(relative(first, Number(row.K_exact))).toBeLessThan(6e-7);
    expect(relative(second, Number(row.E_exact))).toBeLessThan(6e-7);
  }
});

test("ISO 76:2006 Table 1: all 41 f0 follow from Hertz contacts at 4200 MPa within the table's rounding of 0.45 %", () => {
  const rows = readCsv(new URL("../ratings/factors.csv", import.meta.url));
  expect(rows.length).toBe(41);
  for (const row of rows) {
    const gamma = Number(row.gamma);
    const factors = (["inner", "outer"] as Race[]).map((race) => {
      const contact = groovedContact({
        ballDiameterMm: 1,
        pitchDiameterMm: gamma === 0 ? 1e12 : 1 / gamma,
        conformityRatio: race === "inner" ? 0.52 : 0.53,
        contactAngleRad: 0,
        race,
        ball: steel,
        ring: steel,
      });
      return (4200 / contact.pressureCoefficientMPa) ** 3 / 5;
    });
    expect(relative(Math.min(...factors), Number(row.f0_iso76))).toBeLessThan(0.0045);
  }
});

test("bearing 209 (Harris, Rolling Bearing Analysis; from memory): curvature sums and differences to four digits", () => {
  const race = (name: Race) =>
    groovedContact({
      ballDiameterMm: 12.7,
      pitchDiameterMm: 65,
      conformityRatio: 0.52,
      contactAngleRad: 0,
      race: name,
      ball: steel,
      ring: steel,
    });
  expect(race("inner").curvatureSumPerMm).toBeCloseTo(0.2018, 4);
  expect(race("inner").curvatureDifferenceRatio).toBeCloseTo(0.94, 4);
  expect(race("outer").curvatureSumPerMm).toBeCloseTo(0.1378, 4);
  expect(race("outer").curvatureDifferenceRatio).toBeCloseTo(0.9121, 4);
});

test("complete elliptic integrals at published arguments (Abramowitz and Stegun 1964, Table 17.1, 15 decimals; from memory)", () => {
  // K(m = 0.5) = 1.854074677301372, E(0.5) = 1.350643881047675; K(0) = E(0) = π/2.
  const half = completeEllipticIntegrals(0.5);
  expect(relative(half.first, 1.854074677301372)).toBeLessThan(1e-15);
  expect(relative(half.second, 1.350643881047675)).toBeLessThan(1e-15);
  expect(completeEllipticIntegrals(1).first).toBe(Math.PI / 2);
  expect(completeEllipticIntegrals(1).second).toBe(Math.PI / 2);
});

test("Legendre's relation E·K′ + E′·K − K·K′ = π/2 holds from a circle to a needle", () => {
  for (const n of [1e-9, 1e-6, 1e-3, 0.1, 0.3, 0.5]) {
    const one = completeEllipticIntegrals(n);
    const other = completeEllipticIntegrals(1 - n);
    const sum = one.second * other.first + other.second * one.first - one.first * other.first;
    // The terms reach 18, so each may carry 2e-15 of rounding.
    expect(Math.abs(sum - Math.PI / 2)).toBeLessThan(1e-14);
  }
});
