import type { QuantityOptions } from "../units/quantity.ts";
import { type DrawnValue, readDrawn } from "./drawn.ts";
import type { Ledger } from "./ledger.ts";
import type { Drawn } from "./schema-drawn.ts";
import type { VariableIndex } from "./types.ts";
import { addVariable, unknownValue } from "./variables.ts";

export interface DeviceValue {
  readonly written: Drawn | undefined;
  readonly dimension: "length" | "torque" | "stiffness";
  readonly options: QuantityOptions;
  readonly isAssumed?: boolean;
}

/** Adds a variable of the preload device. */
export function addDevice(
  ledger: Ledger,
  key: string,
  label: string,
  unit: "mm" | "N.mm" | "N/mm",
  { written, dimension, options, isAssumed = false }: DeviceValue,
): VariableIndex {
  const path = `preload.${key}`;
  const value: DrawnValue =
    written === undefined
      ? unknownValue()
      : ledger.attempt(() => readDrawn(written, { dimension, path, options }), unknownValue());
  return addVariable(ledger, {
    name: path,
    label,
    group: "preload device",
    groupLabel: `the ${label}`,
    unit,
    value,
    origin: isAssumed ? "assumption" : "given",
    source: isAssumed ? "not given" : value.how,
  });
}
