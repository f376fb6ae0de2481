import type { SampleTable } from "../studies/result.ts";

/**
 * Values of a column of the sample table, or null where the run has not kept it. The names that the figures ask for:
 * `machinedOffsetMm`, `window.lowMm`, `window.highMm`, `bearings.a.clearanceMm` (free), and for every state
 * `<state>.preloadN`, `<state>.clearanceAMm`, `<state>.clearanceBMm` (mounted, at temperature).
 */
export function columnValues(samples: SampleTable, name: string): Float64Array | null {
  const column = samples.columns.find((candidate) => candidate.name === name);
  return column?.values instanceof Float64Array ? column.values : null;
}

export function clearanceColumn(samples: SampleTable, state: string | null, bearing: "a" | "b"): Float64Array | null {
  return columnValues(
    samples,
    state === null ? `bearings.${bearing}.clearanceMm` : `${state}.clearance${bearing.toUpperCase()}Mm`,
  );
}
