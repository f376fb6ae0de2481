import { median, practicalRange } from "../distributions/moments.ts";
import type { Variation } from "../engine/tasks.ts";
import type { Origin, ResolvedScenario, Variable, VariableGroup } from "../scenario/types.ts";

/** Quantities that are one cause to an engineer: the same quantity of both bearings, one dimension of the chain. */
export interface CauseGroup {
  readonly group: VariableGroup;
  readonly groupLabel: string;
  readonly origin: Origin;
  readonly variables: readonly number[];
}

/** Whether a variable acts on the window or on what is known of all units: loads and oil act on the extended outputs only. */
function acts({ states }: ResolvedScenario, { group }: Variable): boolean {
  if (group === "external load") return false;
  return states.some(({ network }) => network !== null) || (group !== "lubricant" && group !== "heat");
}

/** The drawn quantities by cause, in the order of the plan. A group is an assumption when any of its members is. */
export function causeGroups(scenario: ResolvedScenario): CauseGroup[] {
  const groups = new Map<string, { group: VariableGroup; groupLabel: string; origin: Origin; variables: number[] }>();
  scenario.variables.forEach((variable, index) => {
    if (variable.distribution.kind === "constant" || !acts(scenario, variable)) return;
    const known = groups.get(variable.groupLabel);
    if (known === undefined) {
      const { group, groupLabel, origin } = variable;
      groups.set(groupLabel, { group, groupLabel, origin, variables: [index] });
    } else {
      known.variables.push(index);
      if (variable.origin === "assumption") known.origin = "assumption";
    }
  });
  return [...groups.values()];
}

/** One variation a cause: all its quantities exactly at their medians. */
export function freezeVariations(scenario: ResolvedScenario, groups: readonly CauseGroup[]): Variation[] {
  return groups.map((cause) => ({
    label: cause.groupLabel,
    replacements: cause.variables.map((index) => ({
      variable: index,
      value: median(scenario.variables[index].distribution),
    })),
  }));
}

/** An assumed quantity whose range is gone through: all its members at the low end, then at the high end. */
export interface AssumptionRange {
  readonly label: string;
  readonly source: string;
  readonly low: Variation;
  readonly high: Variation;
  readonly lowValue: number;
  readonly highValue: number;
  readonly unit: Variable["unit"];
}

/**
 * The assumed quantities with the ends of their ranges: the practical limits of a drawn one; half and twice the value of a
 * constant above zero, since a finish is rarely off by more.
 */
export function assumptionRanges(scenario: ResolvedScenario): AssumptionRange[] {
  const members = new Map<string, number[]>();
  scenario.variables.forEach((variable, index) => {
    if (variable.origin !== "assumption" || !acts(scenario, variable)) return;
    const list = members.get(variable.groupLabel) ?? [];
    list.push(index);
    members.set(variable.groupLabel, list);
  });
  const ranges: AssumptionRange[] = [];
  for (const [label, indices] of members) {
    const ends = indices.map((index) => {
      const { distribution } = scenario.variables[index];
      if (distribution.kind !== "constant") return practicalRange(distribution);
      return { low: 0.5 * distribution.value, high: 2 * distribution.value };
    });
    if (ends.every(({ low, high }) => low === high)) continue;
    const side = (pick: "low" | "high"): Variation => ({
      label,
      replacements: indices.map((index, place) => ({ variable: index, value: ends[place][pick] })),
    });
    const first = scenario.variables[indices[0]];
    ranges.push({
      label,
      source: scenario.inputs.find((input) => input.path === first.name)?.source ?? "",
      low: side("low"),
      high: side("high"),
      lowValue: ends[0].low,
      highValue: ends[0].high,
      unit: first.unit,
    });
  }
  return ranges;
}
