import type { Kernel } from "../kernel/kernel.ts";
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
  kernel: Kernel,
  state: StatePlan,
  inputs: readonly Float64Array[],
  count: number,
  columns: readonly Float64Array[],
  out: Float64Array[],
): void {
  state.temperatures.forEach((terms, place) => {
    const rise = columns[place];
    rise.fill(-20, 0, count);
    for (const { variable, factor } of terms) kernel.addScaled(rise, inputs[variable], factor, count);
  });
  for (let zone = 0; zone < out.length; zone += 1) out[zone] = columns[state.zones[zone]];
}

/** Fills the machined offset: the signed sum of the drawn dimensions at 20 °C, without clamp and stand-out, mm. */
export function fillMachinedOffset(
  kernel: Kernel,
  plan: ModelPlan,
  inputs: readonly Float64Array[],
  count: number,
  out: Float64Array,
): void {
  out.fill(0, 0, count);
  for (const member of plan.members) {
    kernel.addScaled(out, inputs[member.length], member.sign * member.measuredFactor, count);
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
  { bearings, kernel }: Pick<Workspace, "bearings" | "kernel">,
  out: Float64Array,
): void {
  kernel.addColumns(out, bearings[0].standOutMm, bearings[1].standOutMm, count);
  for (const member of plan.members) {
    const length = inputs[member.length];
    const rise = zoneRiseK[member.zone];
    const { expansionPerK, clampPerN } = member;
    const factor = member.sign * member.measuredFactor;
    if (plan.clampForce !== null && clampPerN > 0) {
      const clamp = inputs[plan.clampForce];
      kernel.addClampedMember(out, length, factor, expansionPerK, rise, clampPerN, clamp, count);
    } else {
      kernel.addMember(out, length, factor, expansionPerK, rise, count);
    }
  }
}
