import type { Kernel } from "../kernel/kernel.ts";
import { cos } from "../numeric/elementary.ts";
import type { BearingColumns } from "./columns.ts";
import type { BearingPlan } from "./plan.ts";

/**
 * Fills what one bearing keeps in every state: groove-centre distance A = (f_i + f_o − 1)·D_w, the load–deflection
 * constant of both races in series times the ball count, Z·(K_i^(−2/3) + K_o^(−2/3))^(−3/2), and the contact deflection at
 * which the first race reaches the pressure limit.
 *
 * @param inputs one column a variable of the plan
 */
export function fillBearingConstants(
  kernel: Kernel,
  plan: BearingPlan,
  inputs: readonly Float64Array[],
  count: number,
  pressureLimited: boolean,
  out: BearingColumns,
): void {
  kernel.bearingConstants(
    plan,
    inputs[plan.conformityInner],
    inputs[plan.conformityOuter],
    out.grooveDistanceMm,
    out.stiffness,
    pressureLimited ? out.limitDeflectionMm : null,
    count,
  );
  if (plan.isAngularContact) fillFromAngle(plan, inputs, count, out);
  else {
    out.freeClearanceMm = inputs[plan.clearance];
    out.standOutMm = inputs[plan.standOut];
  }
}

/**
 * What an angular-contact bearing's drawn angle α makes of it: the free clearance G = 2A(1 − cos α), and its stand-out. Its faces
 * are ground with the balls in contact, so that the drawn offset counts from there: A·sin α beyond the middle of the grooves.
 */
function fillFromAngle(plan: BearingPlan, inputs: readonly Float64Array[], count: number, out: BearingColumns): void {
  const angle = inputs[plan.clearance];
  const ground = inputs[plan.standOut];
  const clearance = out.ownClearanceMm;
  const standOut = out.ownStandOutMm;
  for (let i = 0; i < count; i += 1) {
    const distance = out.grooveDistanceMm[i];
    const cosine = cos(angle[i]);
    clearance[i] = 2 * distance * (1 - cosine);
    standOut[i] = ground[i] + distance * Math.sqrt(1 - cosine * cosine);
  }
  out.freeClearanceMm = clearance;
  out.standOutMm = standOut;
}
