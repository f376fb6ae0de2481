import type { QuantityOptions } from "../units/quantity.ts";
import { assumed } from "./assumptions.ts";
import { readDrawn } from "./drawn.ts";
import type { Ledger } from "./ledger.ts";
import type { ScenarioDocument, StateEntry } from "./schema.ts";
import type { Drawn } from "./schema-drawn.ts";
import type { InternalUnit, VariableGroup, VariableIndex } from "./types.ts";
import { addVariable, plainValue, unknownValue } from "./variables.ts";

/** Speed and viscosity of one state. */
export interface Running {
  readonly speed: VariableIndex;
  readonly viscosity: VariableIndex;
}

const SPEED: QuantityOptions = { low: 0, high: 1e6 };
const VISCOSITY: QuantityOptions = { low: 0, openLow: true, high: 1e5 };

/**
 * Speed and viscosity of every state, its own before the common one, where anything needs them: the extended section or a
 * heat balance. Null where nothing does.
 *
 * @param entries states in the order of the plan
 */
export function resolveRunning(
  ledger: Ledger,
  { extended }: Pick<ScenarioDocument, "extended">,
  entries: readonly StateEntry[],
): (Running | null)[] {
  const shared = new Map<string, VariableIndex>();
  const common = (key: "speed" | "viscosity"): VariableIndex => {
    const known = shared.get(key);
    if (known !== undefined) return known;
    const added = addCommon(ledger, key, extended?.[key], entries);
    shared.set(key, added);
    return added;
  };
  return entries.map((entry) => {
    const isNeeded = extended !== undefined || entry.network !== undefined;
    if (!isNeeded) {
      for (const key of ["speed", "viscosity"] as const) {
        if (entry[key] !== undefined) {
          ledger.problem({
            code: "conflict",
            path: `states.${entry.name}.${key}`,
            expected: `${key} only where a network or the extended section uses it`,
            got: String(typeof entry[key] === "object" ? key : entry[key]),
          });
        }
      }
      return null;
    }
    const own = (key: "speed" | "viscosity") =>
      entry[key] === undefined
        ? common(key)
        : add(ledger, key, `states.${entry.name}.${key}`, entry[key] as Drawn, `, ${entry.label ?? entry.name}`);
    return { speed: own("speed"), viscosity: own("viscosity") };
  });
}

function addCommon(
  ledger: Ledger,
  key: "speed" | "viscosity",
  written: Drawn | undefined,
  entries: readonly StateEntry[],
): VariableIndex {
  const path = `extended.${key}`;
  if (written !== undefined) return add(ledger, key, path, written, "");
  if (key === "speed") {
    const open = entries.find((entry) => entry.network !== undefined && entry.speed === undefined)?.name;
    ledger.problem({
      code: "missing",
      path: open === undefined ? path : `states.${open}.speed`,
      expected: 'the speed of the shaft, such as "3000 rpm"',
      got: "nothing",
    });
  }
  const value =
    key === "speed"
      ? unknownValue()
      : plainValue({ kind: "constant", value: assumed.viscosity.viscosityMm2PerS }, assumed.viscosity.why);
  return addVariable(ledger, { ...words(key, ""), name: path, value, origin: "assumption", source: value.how });
}

function words(
  key: "speed" | "viscosity",
  where: string,
): {
  label: string;
  group: VariableGroup;
  groupLabel: string;
  unit: InternalUnit;
} {
  return key === "speed"
    ? { label: `speed of the shaft${where}`, group: "heat", groupLabel: "the speed", unit: "1/min" }
    : {
        label: `viscosity of the oil${where}`,
        group: "lubricant",
        groupLabel: "the viscosity of the oil",
        unit: "mm2/s",
      };
}

function add(ledger: Ledger, key: "speed" | "viscosity", path: string, written: Drawn, where: string): VariableIndex {
  const options = key === "speed" ? SPEED : VISCOSITY;
  const value = ledger.attempt(() => readDrawn(written, { dimension: key, path, options }), unknownValue());
  return addVariable(ledger, { ...words(key, where), name: path, value, origin: "given", source: value.how });
}
