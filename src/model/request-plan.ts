import { type CompiledThermalNetwork, compileThermalNetwork } from "../physics/thermal-network.ts";
import { networkOf } from "../scenario/heat-network.ts";
import {
  type DutyState,
  type GapChain,
  type NetworkState,
  REQUIREMENT_QUANTITIES,
  type ResolvedScenario,
  type VariableIndex,
  ZONES,
} from "../scenario/types.ts";

/** A gap as the kernel sums it: members with their sign, and which bearing moves the shaft which way. */
export interface GapPlan {
  readonly locating: 0 | 1;
  /** Change of the gap per axial displacement of the inner ring in the locating bearing, +1 or −1. */
  readonly displacementSign: number;
  readonly members: readonly {
    readonly length: VariableIndex;
    readonly sign: number;
    readonly zone: number;
    readonly expansionPerK: number;
    readonly measuredFactor: number;
  }[];
}

export type RequiredColumn = "preloadN" | "movementMm" | "gapMm";

/** A requirement on something that is known of every unit. */
export interface RequirementPlan {
  /** Its bit among the requirements of a state. */
  readonly bit: number;
  readonly column: RequiredColumn;
  /** Whether it holds in each state. */
  readonly holds: readonly boolean[];
  readonly low: number;
  readonly high: number;
}

const COLUMNS: Readonly<Record<(typeof REQUIREMENT_QUANTITIES)[number], RequiredColumn>> = {
  preload: "preloadN",
  "rotor movement": "movementMm",
  "air gap": "gapMm",
};

/** Requirements that are known of every unit, by their place in the scenario. */
export function planRequirements({ requirements, states }: ResolvedScenario): RequirementPlan[] {
  return requirements.flatMap((requirement, place) => {
    const known = REQUIREMENT_QUANTITIES.find((name) => name === requirement.quantity);
    if (known === undefined) return [];
    const { low, high } = requirement;
    const holds = states.map((state) => requirement.states.includes(state.name));
    return [{ bit: 1 << place, column: COLUMNS[known], holds, low, high }];
  });
}

/**
 * Back-to-back the preload moves the inner ring of a bearing inboard against its outer ring, face-to-face outboard; the shaft
 * goes with the inner ring of the bearing that locates it.
 */
export function planGap(gap: GapChain | null, arrangementSign: number, measuredAtC: number): GapPlan | null {
  if (gap === null) return null;
  return {
    locating: gap.locating === "a" ? 0 : 1,
    displacementSign: arrangementSign * gap.opensSign,
    members: gap.members.map((member) => ({
      length: member.length,
      sign: (member.side === "housing" ? 1 : -1) * member.factor,
      zone: ZONES.indexOf(member.zone),
      expansionPerK: member.material.expansionPerK,
      measuredFactor: 1 / (1 + member.material.expansionPerK * (measuredAtC - 20)),
    })),
  };
}

/** A heat balance with bodies by number, in the order of the zones. */
export interface NetworkPlan {
  /** Its conductances are those of the unit at work. */
  readonly paths: CompiledThermalNetwork;
  /** One a path. */
  readonly conductances: readonly VariableIndex[];
  readonly heats: readonly { readonly node: number; readonly heat: VariableIndex }[];
  readonly ambient: VariableIndex;
  readonly speed: VariableIndex;
  readonly viscosity: VariableIndex;
  readonly isOilBath: boolean;
}

/** The heat balance of a state in the form the model reads; null where its temperatures are given. */
export function planNetwork(scenario: ResolvedScenario, { network }: DutyState): NetworkPlan | null {
  if (network === null) return null;
  const { ambient, heats, speed, viscosity }: NetworkState = network;
  return {
    paths: compileThermalNetwork(networkOf(scenario.heatPaths)),
    conductances: scenario.heatPaths.map(({ conductance }) => conductance),
    heats: heats.map(({ zone, heat }) => ({ node: ZONES.indexOf(zone), heat })),
    ambient,
    speed,
    viscosity,
    isOilBath: scenario.lubrication === "oil bath",
  };
}
