import type { Workspace } from "./columns.ts";
import type { ModelPlan, StatePlan } from "./plan.ts";

/**
 * Fills the temperature rise over 20 °C of every zone in one state, K: the sum of its drawn terms. Zones of one temperature
 * share a column.
 *
 * @param columns scratch, as many as there are zones
 * @param out where each zone finds its column
 */
export function fillZoneRises(
  state: StatePlan,
  inputs: readonly Float64Array[],
  count: number,
  columns: readonly Float64Array[],
  out: Float64Array[],
): void {
  state.temperatures.forEach((terms, place) => {
    const rise = columns[place];
    rise.fill(-20, 0, count);
    for (const { variable, factor } of terms) {
      const column = inputs[variable];
      for (let i = 0; i < count; i += 1) rise[i] += factor * column[i];
    }
  });
  for (let zone = 0; zone < out.length; zone += 1) out[zone] = columns[state.zones[zone]];
}

/** Fills the machined offset: the signed sum of the drawn dimensions at 20 °C, without clamp and stand-out, mm. */
export function fillMachinedOffset(
  plan: ModelPlan,
  inputs: readonly Float64Array[],
  count: number,
  out: Float64Array,
): void {
  out.fill(0, 0, count);
  for (const member of plan.members) {
    const length = inputs[member.length];
    const factor = member.sign * member.measuredFactor;
    for (let i = 0; i < count; i += 1) out[i] += factor * length[i];
  }
}

/**
 * Fills the offset in one state: δ = Σ sign·L·(1 + α(T − 20) − P/(E·A)) + both stand-outs, mm. Only members in the clamp
 * path are shortened by the clamp force P.
 */
export function fillOffset(
  plan: ModelPlan,
  inputs: readonly Float64Array[],
  count: number,
  zoneRiseK: readonly Float64Array[],
  { bearings }: Pick<Workspace, "bearings">,
  out: Float64Array,
): void {
  const { standOutMm: standOutA } = bearings[0];
  const { standOutMm: standOutB } = bearings[1];
  for (let i = 0; i < count; i += 1) out[i] = standOutA[i] + standOutB[i];
  for (const member of plan.members) {
    const length = inputs[member.length];
    const rise = zoneRiseK[member.zone];
    const { expansionPerK, clampPerN } = member;
    const factor = member.sign * member.measuredFactor;
    if (plan.clampForce !== null && clampPerN > 0) {
      const clamp = inputs[plan.clampForce];
      for (let i = 0; i < count; i += 1) {
        out[i] += factor * length[i] * (1 + expansionPerK * rise[i] - clampPerN * clamp[i]);
      }
    } else {
      for (let i = 0; i < count; i += 1) out[i] += factor * length[i] * (1 + expansionPerK * rise[i]);
    }
  }
}
