import type { Workspace } from "../model/columns.ts";
import type { ModelPlan } from "../model/plan.ts";
import type { WindowColumns } from "../model/window.ts";
import { type InternalUnit, type ResolvedScenario, ZONES } from "../scenario/types.ts";
import { countedColumns } from "./tally.ts";

/** One column of the kept samples: what it is called, what it means and how it is stored. */
export interface KeptColumnSpec {
  /** Unique, ends in its unit suffix: `bearings.a.clearanceMm`, `hot.preloadN`. */
  readonly name: string;
  readonly unit: InternalUnit | "class" | "bits" | "index";
  readonly description: string;
  readonly storage: "float64" | "uint8" | "uint16";
}

export type KeptValues = Float64Array | Uint8Array | Uint16Array;

/** Rows of consecutive samples, one array a column of the specification. */
export interface KeptRows {
  readonly first: number;
  readonly count: number;
  readonly values: readonly KeptValues[];
}

const UNIT_SUFFIX: Readonly<Record<InternalUnit, string>> = {
  mm: "Mm",
  N: "N",
  "N/mm": "NPerMm",
  degC: "C",
  K: "K",
  "1": "Ratio",
  MPa: "MPa",
  "N.mm": "NMm",
  W: "W",
  "W/K": "WPerK",
  "mm2/s": "Mm2PerS",
  "1/min": "PerMin",
  rad: "Rad",
  "N.mm/rad": "NMmPerRad",
  h: "H",
};

/** Name of the bench as it is looked at again after rings have walked. */
export const AFTER_SERVICE = "bench-after-service";

/** Names of the counted states in order. */
export function countedStateNames(plan: ModelPlan): string[] {
  const names = plan.states.map((state) => state.name);
  return plan.canWalk ? [...names, AFTER_SERVICE] : names;
}

function machinedWords({ adjuster, shim }: ModelPlan): string {
  const plain = "offset from the drawn dimensions at 20 °C, without clamp and stand-out";
  if (adjuster !== null) return `${plain}, as the adjuster leaves it`;
  return shim !== null ? `${plain}, with the shims chosen for the unit` : plain;
}

/** Whether a counted state has its temperatures from a heat balance; the bench after service is the bench. */
function hasNetwork(plan: ModelPlan, place: number): boolean {
  return (plan.states[place] ?? plan.states[0]).network !== null;
}

/** Columns that are kept of a sample: every drawn input, every result of every state, and the acceptance windows. */
export function keptColumns(scenario: ResolvedScenario, plan: ModelPlan): KeptColumnSpec[] {
  const specs: KeptColumnSpec[] = [];
  const float = (name: string, unit: KeptColumnSpec["unit"], description: string) =>
    specs.push({ name, unit, description, storage: "float64" });
  for (const variable of scenario.variables) {
    if (variable.distribution.kind === "constant") continue;
    float(`${variable.name}${UNIT_SUFFIX[variable.unit]}`, variable.unit, variable.label);
  }
  float("machinedOffsetMm", "mm", machinedWords(plan));
  for (const state of countedStateNames(plan)) {
    float(`${state}.offsetMm`, "mm", `offset in state ${state}, with heat, clamp and stand-outs`);
    float(`${state}.clearanceAMm`, "mm", `mounted radial clearance of bearing a in state ${state}`);
    float(`${state}.clearanceBMm`, "mm", `mounted radial clearance of bearing b in state ${state}`);
    float(`${state}.preloadN`, "N", `preload in state ${state}; negative when the pair is loaded the wrong way round`);
    float(`${state}.playMm`, "mm", `axial play of the shaft in state ${state}, end to end`);
    specs.push({
      name: `${state}.outcome`,
      unit: "class",
      description: `class in state ${state}, by number`,
      storage: "uint8",
    });
    specs.push({
      name: `${state}.flags`,
      unit: "bits",
      description: `flags in state ${state}, as bits`,
      storage: "uint16",
    });
  }
  const hasGap = plan.gap !== null;
  for (const [place, state] of countedStateNames(plan).entries()) {
    if (plan.requirements.length > 0) {
      const description = `1 where a unit is on target in state ${state} and meets its requirements`;
      specs.push({ name: `${state}.good`, unit: "index", description, storage: "uint8" });
    }
    if (hasGap) {
      float(`${state}.gapMm`, "mm", `gap between shaft and housing in state ${state}`);
      float(`${state}.movementMm`, "mm", `change of the gap from the bench to state ${state}`);
    }
    if (hasNetwork(plan, place)) {
      for (const zone of ZONES)
        float(`${state}.${zone}.temperatureC`, "degC", `temperature of ${zone} in state ${state}`);
      float(`${state}.frictionHeatW`, "W", `friction heat of both bearings in state ${state}`);
    }
  }
  float("window.lowMm", "mm", "least machined offset that is on target in every state");
  float("window.highMm", "mm", "greatest machined offset that is on target in every state");
  const index = (name: string, description: string) =>
    specs.push({ name, unit: "index", description, storage: "uint8" });
  index("window.lowState", "state that sets the lower end, by its place in the list of states");
  index("window.highState", "state that sets the upper end, by its place in the list of states");
  for (const state of countedStateNames(plan)) {
    float(`${state}.window.onsetMm`, "mm", `machined offset at which the pair starts to carry in state ${state}`);
    float(`${state}.window.lowMm`, "mm", `machined offset at which the target window begins in state ${state}`);
    float(`${state}.window.highMm`, "mm", `machined offset at which the target window ends in state ${state}`);
    float(`${state}.window.bindMm`, "mm", `machined offset at which the pair binds in state ${state}`);
  }
  return specs;
}

/** Copies the rows of an evaluated block, in the order of `keptColumns`. */
export function copyRows(
  scenario: ResolvedScenario,
  plan: ModelPlan,
  inputs: readonly Float64Array[],
  workspace: Workspace,
  windows: WindowColumns,
  first: number,
  count: number,
): KeptRows {
  const values: KeptValues[] = [];
  scenario.variables.forEach((variable, index) => {
    if (variable.distribution.kind !== "constant") values.push(inputs[index].slice(0, count));
  });
  values.push(workspace.machinedOffsetMm.slice(0, count));
  const states = countedColumns(workspace);
  for (const state of states) {
    values.push(
      state.offsetMm.slice(0, count),
      state.clearanceAMm.slice(0, count),
      state.clearanceBMm.slice(0, count),
      state.preloadN.slice(0, count),
      state.playMm.slice(0, count),
      state.outcome.slice(0, count),
      state.flags.slice(0, count),
    );
  }
  for (const state of states) {
    if (plan.requirements.length > 0) values.push(state.good.slice(0, count));
    if (state.gapMm.length > 0) values.push(state.gapMm.slice(0, count), state.movementMm.slice(0, count));
    for (const column of state.zoneC) values.push(column.slice(0, count));
    if (state.zoneC.length > 0) values.push(state.frictionHeatW.slice(0, count));
  }
  values.push(
    windows.lowMm.slice(0, count),
    windows.highMm.slice(0, count),
    windows.lowState.slice(0, count),
    windows.highState.slice(0, count),
  );
  for (const state of countedColumns(windows)) {
    values.push(
      state.onsetMm.slice(0, count),
      state.lowMm.slice(0, count),
      state.highMm.slice(0, count),
      state.bindMm.slice(0, count),
    );
  }
  return { first, count, values };
}
