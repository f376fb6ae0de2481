import type { Kernel } from "../kernel/kernel.ts";
import { INNER_SEAT_LOST_A, INNER_SEAT_LOST_B, OUTER_SEAT_LOST_A, OUTER_SEAT_LOST_B } from "./outcome.ts";
import type { BearingPlan, ModelPlan, SeatPlan } from "./plan.ts";

/**
 * Fills the operating radial clearance of one bearing in one state and what its seats hold:
 * G = G_free − Δ_i − Δ_o + α_r·[D₁(T_or − 20) − d₁(T_ir − 20)] − 2·α_b·D_w·(T_b − 20), mm. A seat whose interference at
 * temperature is not above zero transmits nothing and raises its flag.
 *
 * @param free G_free, mm
 */
export function fillClearance(
  kernel: Kernel,
  plan: BearingPlan,
  inputs: readonly Float64Array[],
  count: number,
  zoneRiseK: readonly Float64Array[],
  free: Float64Array,
  out: Float64Array,
  flags: Uint16Array,
): void {
  kernel.startClearance(
    out,
    free,
    plan.ringExpansionPerK * plan.outerRacewayMm,
    zoneRiseK[plan.outer.ringZone],
    plan.ringExpansionPerK * plan.innerRacewayMm,
    zoneRiseK[plan.inner.ringZone],
    2 * plan.ballExpansionPerK * plan.ballDiameterMm,
    zoneRiseK[plan.ballsZone],
    count,
  );
  const isA = plan.key === "a";
  const take = (seat: SeatPlan, sense: 1 | -1, lostFlag: number) => {
    const { ringExpansionPerK } = plan;
    const { mateExpansionPerK, measuredFactor, racewayRatio } = seat;
    kernel.takeFit(
      { sense, ringExpansionPerK, mateExpansionPerK, measuredFactor, racewayRatio, lostFlag },
      inputs[seat.ringDiameter],
      zoneRiseK[seat.ringZone],
      inputs[seat.mateDiameter],
      zoneRiseK[seat.mateZone],
      inputs[seat.smoothing],
      out,
      flags,
      count,
    );
  };
  take(plan.inner, 1, isA ? INNER_SEAT_LOST_A : INNER_SEAT_LOST_B);
  take(plan.outer, -1, isA ? OUTER_SEAT_LOST_A : OUTER_SEAT_LOST_B);
}

/**
 * Fills the largest preload that friction holds in one state, N: the least of μ·p·π·d·B over the rings that nothing else
 * holds; Infinity where every ring has a seat, a retaining ring or the clamp behind it.
 */
export function fillFrictionHold(
  plan: ModelPlan,
  inputs: readonly Float64Array[],
  count: number,
  zoneRiseK: readonly Float64Array[],
  out: Float64Array,
): void {
  out.fill(Number.POSITIVE_INFINITY, 0, count);
  if (!plan.canWalk) return;
  const friction = inputs[plan.seatFriction];
  for (const bearing of plan.bearings) {
    for (const [seat, sense] of [
      [bearing.inner, 1],
      [bearing.outer, -1],
    ] as const) {
      if (seat.hold !== "friction") continue;
      const ring = inputs[seat.ringDiameter];
      const mate = inputs[seat.mateDiameter];
      const smoothing = inputs[seat.smoothing];
      const ringRise = zoneRiseK[seat.ringZone];
      const mateRise = zoneRiseK[seat.mateZone];
      const perMm = seat.pressurePerMm * seat.frictionAreaMm2;
      for (let i = 0; i < count; i += 1) {
        const mateMm = mate[i] * seat.measuredFactor * (1 + seat.mateExpansionPerK * mateRise[i]);
        const ringMm = ring[i] * (1 + bearing.ringExpansionPerK * ringRise[i]);
        const interference = sense * (mateMm - ringMm) - smoothing[i];
        const hold = interference > 0 ? friction[i] * perMm * interference : 0;
        if (hold < out[i]) out[i] = hold;
      }
    }
  }
}

/** Fills the largest preload that the clamp holds, N: the clamp force where a ring depends on it, else Infinity. */
export function fillClampHold(
  plan: ModelPlan,
  inputs: readonly Float64Array[],
  count: number,
  out: Float64Array,
): void {
  if (plan.clampHolds && plan.clampForce !== null) {
    const clamp = inputs[plan.clampForce];
    for (let i = 0; i < count; i += 1) out[i] = clamp[i];
  } else {
    out.fill(Number.POSITIVE_INFINITY, 0, count);
  }
}
