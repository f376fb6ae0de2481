import { type CompiledThermalNetwork, factoriseConductances, settleRises } from "../../src/physics/thermal-network.ts";

/** Temperatures that heats make over ambient, as the model finds them: factorised once, then solved. */
export function steadyTemperaturesC(
  network: CompiledThermalNetwork,
  heatsW: readonly number[],
  ambientC: number,
): number[] {
  // Room that was used before.
  const factor = new Float64Array(network.nodeCount ** 2).fill(7);
  const rises = Float64Array.from(heatsW);
  factoriseConductances(network, factor);
  settleRises(network, factor, rises);
  return Array.from(rises, (rise) => ambientC + rise);
}
