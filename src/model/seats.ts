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
  plan: BearingPlan,
  inputs: readonly Float64Array[],
  count: number,
  zoneRiseK: readonly Float64Array[],
  free: Float64Array,
  out: Float64Array,
  flags: Uint16Array,
): void {
  const innerRise = zoneRiseK[plan.inner.ringZone];
  const outerRise = zoneRiseK[plan.outer.ringZone];
  const ballRise = zoneRiseK[plan.ballsZone];
  const outerGrowth = plan.ringExpansionPerK * plan.outerRacewayMm;
  const innerGrowth = plan.ringExpansionPerK * plan.innerRacewayMm;
  const ballGrowth = 2 * plan.ballExpansionPerK * plan.ballDiameterMm;
  for (let i = 0; i < count; i += 1) {
    out[i] = free[i] + outerGrowth * outerRise[i] - innerGrowth * innerRise[i] - ballGrowth * ballRise[i];
  }
  const isA = plan.key === "a";
  takeFit(plan, plan.inner, 1, inputs, count, zoneRiseK, out, flags, isA ? INNER_SEAT_LOST_A : INNER_SEAT_LOST_B);
  takeFit(plan, plan.outer, -1, inputs, count, zoneRiseK, out, flags, isA ? OUTER_SEAT_LOST_A : OUTER_SEAT_LOST_B);
}

/** Takes what one seat costs off the clearance. `sense` is +1 where the mate is inside the ring, −1 where it is outside. */
function takeFit(
  bearing: BearingPlan,
  seat: SeatPlan,
  sense: 1 | -1,
  inputs: readonly Float64Array[],
  count: number,
  zoneRiseK: readonly Float64Array[],
  clearance: Float64Array,
  flags: Uint16Array,
  lostFlag: number,
): void {
  const ring = inputs[seat.ringDiameter];
  const mate = inputs[seat.mateDiameter];
  const smoothing = inputs[seat.smoothing];
  const ringRise = zoneRiseK[seat.ringZone];
  const mateRise = zoneRiseK[seat.mateZone];
  const ringExpansion = bearing.ringExpansionPerK;
  const { mateExpansionPerK, measuredFactor, racewayRatio } = seat;
  for (let i = 0; i < count; i += 1) {
    const mateMm = mate[i] * measuredFactor * (1 + mateExpansionPerK * mateRise[i]);
    const ringMm = ring[i] * (1 + ringExpansion * ringRise[i]);
    const interference = sense * (mateMm - ringMm) - smoothing[i];
    if (interference > 0) clearance[i] -= racewayRatio * interference;
    else flags[i] |= lostFlag;
  }
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
