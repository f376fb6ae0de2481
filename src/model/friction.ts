import { pow } from "../numeric/elementary.ts";
import type { TorquePlan } from "./device-plan.ts";

/** Load part of the friction torque of one bearing under an axial load, s·F^p, N·mm. */
export function torqueOfLoad(torque: TorquePlan, forceN: number): number {
  if (!(forceN > 0)) return 0;
  // Deep-groove bearings have p = 1.5, which a root does exactly and fast.
  return torque.exponent === 1.5
    ? torque.loadScale * forceN * Math.sqrt(forceN)
    : torque.loadScale * pow(forceN, torque.exponent);
}
