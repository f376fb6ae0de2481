import type { ThermalNetwork } from "../physics/thermal-network.ts";
import { type HeatPath, ZONES } from "./types.ts";

/** The paths as a network of all zones; what each conducts is drawn from unit to unit. */
export function networkOf(paths: readonly HeatPath[]): ThermalNetwork {
  const links = paths.map(({ from, to }) => ({ from, to: to === "ambient" ? null : to, conductanceWPerK: 1 }));
  return { nodes: ZONES, links };
}
