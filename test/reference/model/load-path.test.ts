import { describe, expect, test } from "vitest";
import { compilePlan } from "../../../src/model/plan.ts";
import { fixedPair, NOMINAL_RINGS } from "../../support/fixed-pair.ts";
import { evaluateOne, flagsOf, outcomeOf } from "../../support/model.ts";

type Ring = "inner" | "outer";

/**
 * Axial force of the ball on a ring of bearing b (right), by statics alone: the ball presses each race along the contact
 * line, away from the ball's centre. Back-to-back the contact lines spread towards the shaft, so the inner contact of the
 * right-hand bearing lies further right than its outer one. Bearing a is its mirror image.
 *
 * @returns +1 outboard (away from the other bearing), −1 inboard
 */
function pushOnRing(arrangement: "back-to-back" | "face-to-face", ring: Ring): 1 | -1 {
  const angle = 0.4;
  const spreadsTowardsShaft = arrangement === "back-to-back";
  const ball = { axial: 0, radial: 10 };
  const inner = {
    axial: ball.axial + (spreadsTowardsShaft ? 1 : -1) * Math.sin(angle),
    radial: ball.radial - Math.cos(angle),
  };
  // Straight through the ball to the other race.
  const outer = { axial: 2 * ball.axial - inner.axial, radial: 2 * ball.radial - inner.radial };
  const contact = ring === "inner" ? inner : outer;
  return contact.axial - ball.axial > 0 ? 1 : -1;
}

const cases = (["back-to-back", "face-to-face"] as const).flatMap((arrangement) =>
  (["inboard", "outboard"] as const).flatMap((shaftSide) =>
    (["inboard", "outboard"] as const).map((housingSide) => ({ arrangement, shaftSide, housingSide })),
  ),
);

describe("which rings the preload pushes off their seats: balance of forces on each ring", () => {
  test.each(cases)("$arrangement, shaft seats $shaftSide, housing seats $housingSide", (each) => {
    const { arrangement, shaftSide, housingSide } = each;
    const scenario = fixedPair({
      arrangement,
      "seats.shaft.both.seatSide": shaftSide,
      "seats.housing.both.seatSide": housingSide,
      "seats.shaft.both.retained": false,
      "seats.housing.both.retained": false,
      // Keeps the nominal offset plausible whatever side the ring widths come in on (14 mm a bearing).
      "chain.spacer.length": shaftSide === housingSide ? "40 mm" : shaftSide === "inboard" ? "12 mm" : "68 mm",
    });
    const plan = compilePlan(scenario);
    const seatTakes = (ring: Ring, side: string) =>
      // A shoulder outboard of the ring stops it from moving outboard, one inboard from moving inboard.
      pushOnRing(arrangement, ring) === (side === "outboard" ? 1 : -1);
    for (const bearing of plan.bearings) {
      expect(bearing.inner.hold).toBe(seatTakes("inner", shaftSide) ? "seat" : "friction");
      expect(bearing.outer.hold).toBe(seatTakes("outer", housingSide) ? "seat" : "friction");
    }
    const anyLoose = !seatTakes("inner", shaftSide) || !seatTakes("outer", housingSide);
    expect(plan.canWalk).toBe(anyLoose);
  });

  test("a clamp holds the rings of its own side, a retaining ring those that have one", () => {
    const changes = { "seats.shaft.both.retained": false, "seats.housing.both.retained": false };
    const nut = compilePlan(fixedPair({ ...changes, clamp: { force: "2000 N" } }));
    expect(nut.bearings.map(({ inner, outer }) => [inner.hold, outer.hold])).toEqual([
      ["clamp", "seat"],
      ["clamp", "seat"],
    ]);
    const faceToFace = {
      ...changes,
      arrangement: "face-to-face",
      "chain.housing spacing.length": "39.85 mm",
      clamp: { force: "2000 N" },
    };
    const wrongSide = compilePlan(fixedPair(faceToFace));
    expect(wrongSide.bearings[0].outer.hold).toBe("friction");
    const held = compilePlan(fixedPair({ ...faceToFace, "seats.housing.a.retained": true }));
    expect(held.bearings.map(({ outer }) => outer.hold)).toEqual(["seat", "friction"]);
    expect(held.canWalk).toBe(true);
  });
});

describe("ring walk: face-to-face, inboard shoulders, outer rings held by their fit alone", () => {
  const states = [
    { name: "bench", housing: "20 degC" },
    { name: "hot", housing: "20 degC", shaft: "70 degC" },
  ];
  // The shaft grows by 40.15·12e-6·50 = 24 µm against the housing and presses the outer rings outward.
  const walking = (fit: string, changes: Record<string, unknown> = {}) =>
    fixedPair({
      arrangement: "face-to-face",
      "chain.housing spacing.length": "40 mm",
      "chain.spacer.length": "40.15 mm",
      "seats.housing.both.fit": fit,
      "seats.housing.both.retained": false,
      states,
      ...changes,
    });

  test("friction holds μ·p·π·D·B: 10 µm in a 70 mm steel housing are p = 5.225925 MPa (Lamé), μ = 0.12", () => {
    const { workspace } = evaluateOne(walking("46.99 mm"), NOMINAL_RINGS);
    const holdN = 0.12 * 5.225925 * Math.PI * 47 * 14;
    expect(Math.abs(workspace.frictionHoldN[0] / holdN - 1)).toBeLessThan(2e-7);
  });

  test("an inner ring on 10 µm holds 2402 N, 20 mm × 14 mm (NTN CAT 2202/E, 17.5: K = μ·p·π·d·B)", () => {
    const scenario = walking("47.01 mm", {
      "seats.housing.both.retained": true,
      "seats.shaft.both.retained": false,
      "seats.shaft.both.seatSide": "outboard",
      "seats.housing.both.seatSide": "outboard",
      "seats.shaft.both.fit": "20.01 mm",
    });
    const { plan, workspace } = evaluateOne(scenario, NOMINAL_RINGS);
    expect(plan.bearings[0].inner.hold).toBe("friction");
    expect(workspace.frictionHoldN[0]).toBeCloseTo(2402, 0);
  });

  const weak = evaluateOne(walking("46.999 mm"), NOMINAL_RINGS);
  const hot = weak.state("hot");
  const bench = weak.state("bench");
  const after = weak.workspace.afterService;

  test("a weak fit slides in the hot state until the preload is what friction holds", () => {
    // 1 µm of interference: a tenth of the pressure above. Housing and outer rings stay at 20 °C, so it does not change.
    const holdN = 0.12 * 0.5225925 * Math.PI * 47 * 14;
    expect(flagsOf(hot)).toContain("ring-walk");
    expect(Math.abs(hot.preloadN[0] / holdN - 1)).toBeLessThan(2e-7);
    expect(flagsOf(bench)).not.toContain("ring-walk");
    expect(bench.preloadN[0]).toBeLessThan(holdN);
    expect(bench.preloadN[0]).toBeGreaterThan(0);
  });

  test("cooled down, the bench has lost exactly what the rings slid, and the preload with it", () => {
    if (after === null) throw new Error("nothing was looked at after service");
    const slip = weak.workspace.slipMm[0];
    expect(slip).toBeGreaterThan(0.005);
    expect(after.offsetMm[0]).toBeCloseTo(bench.offsetMm[0] - slip, 14);
    expect(after.preloadN[0]).toBe(0);
    expect(outcomeOf(after)).toBe("play");
    expect(flagsOf(after)).not.toContain("ring-walk");
    // What is left of the offset in the hot state carries what friction holds.
    const held = evaluateOne(walking("46.999 mm", { "seats.housing.both.retained": true }), {
      ...NOMINAL_RINGS,
      "chain.spacer": 40.15 - slip / (1 + 12e-6 * 50),
    });
    expect(held.state("hot").preloadN[0]).toBeCloseTo(hot.preloadN[0], 6);
  });

  test("a strong fit stays, and the bench after service is the bench", () => {
    const strong = evaluateOne(walking("46.97 mm"), NOMINAL_RINGS);
    expect(strong.state("hot").preloadN[0]).toBeGreaterThan(hot.preloadN[0]);
    expect(flagsOf(strong.state("hot"))).not.toContain("ring-walk");
    expect(strong.workspace.slipMm[0]).toBe(0);
    expect(strong.workspace.afterService?.preloadN[0]).toBe(strong.state("bench").preloadN[0]);
    expect(strong.workspace.afterService?.offsetMm[0]).toBe(strong.state("bench").offsetMm[0]);
  });

  test("a loose fit holds nothing: no preload in any state", () => {
    const loose = evaluateOne(walking("47.001 mm"), NOMINAL_RINGS);
    expect(loose.state("bench").preloadN[0]).toBe(0);
    expect(outcomeOf(loose.state("bench"))).toBe("play");
    expect(flagsOf(loose.state("bench"))).toEqual(
      expect.arrayContaining(["ring-walk", "outer-seat-lost-a", "outer-seat-lost-b"]),
    );
  });

  test("retaining rings in the same assembly take the preload whatever the fit, and nothing is looked at again", () => {
    const held = evaluateOne(walking("46.999 mm", { "seats.housing.both.retained": true }), NOMINAL_RINGS);
    expect(held.state("hot").preloadN[0]).toBeGreaterThan(hot.preloadN[0]);
    expect(held.workspace.afterService).toBeNull();
  });
});
