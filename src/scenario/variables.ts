import type { DrawnValue } from "./drawn.ts";
import type { Ledger } from "./ledger.ts";
import type { InternalUnit, Origin, VariableGroup, VariableIndex } from "./types.ts";
import { distributionWords } from "./words.ts";

export interface VariableRequest {
  readonly name: string;
  readonly label: string;
  readonly group: VariableGroup;
  readonly groupLabel: string;
  readonly unit: InternalUnit;
  readonly value: DrawnValue;
  readonly origin: Origin;
  readonly source: string;
}

/** Adds a variable to the plan and a line to the table of inputs. */
export function addVariable(ledger: Ledger, request: VariableRequest): VariableIndex {
  const { name, label, group, groupLabel, unit, value, origin, source } = request;
  const { distribution, batchShare } = value;
  const batch = batchShare === 0 ? "" : `, ${Number((100 * batchShare).toFixed(2))} % of the variance between batches`;
  ledger.note({ path: name, label, value: `${distributionWords(distribution, unit)}${batch}`, origin, source });
  return ledger.add({ name, label, group, groupLabel, unit, distribution, batchShare, origin });
}

/** Stands for a value that could not be read; its problem is told already. */
export function unknownValue(): DrawnValue {
  return plainValue({ kind: "constant", value: Number.NaN }, "");
}

/** A value of the program's own: nothing was written for it. */
export function plainValue(distribution: DrawnValue["distribution"], how: string): DrawnValue {
  return { distribution, batchShare: 0, how, nominal: null, code: null };
}
