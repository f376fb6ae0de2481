import type { Kernel } from "../kernel/kernel.ts";
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
}
