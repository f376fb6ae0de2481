import type { SampleTable } from "../../studies/result.ts";
import type { WindowColumns } from "../protocol.ts";

/** The columns that the view of the acceptance window draws, or null where the run has not kept them. */
export function windowColumns(samples: SampleTable): WindowColumns | null {
  const column = (name: string) => {
    const values = samples.columns.find((candidate) => candidate.name === name)?.values;
    return values instanceof Float64Array ? values.slice() : null;
  };
  const machinedMm = column("machinedOffsetMm");
  const lowMm = column("window.lowMm");
  const highMm = column("window.highMm");
  if (machinedMm === null || lowMm === null || highMm === null) return null;
  return { machinedMm, lowMm, highMm };
}
