import type { Measured } from "./contestants.ts";

/** The most that two runs differ by, in standard errors of the difference of two independent shares. */
export function largestDifference(a: Measured, b: Measured): number {
  const pairs: [number, number][] = [[a.good, b.good]];
  a.outcomes.forEach((row, state) => {
    row.forEach((count, outcome) => {
      pairs.push([count, b.outcomes[state][outcome]]);
    });
  });
  let largest = 0;
  for (const [countA, countB] of pairs) {
    const pooled = (countA + countB) / (a.samples + b.samples);
    const variance = pooled * (1 - pooled) * (1 / a.samples + 1 / b.samples);
    if (variance > 0) {
      largest = Math.max(largest, Math.abs(countA / a.samples - countB / b.samples) / Math.sqrt(variance));
    }
  }
  a.meanPreloadN.forEach((mean, state) => {
    const variance = a.sdPreloadN[state] ** 2 / a.samples + b.sdPreloadN[state] ** 2 / b.samples;
    if (variance > 0) largest = Math.max(largest, Math.abs(mean - b.meanPreloadN[state]) / Math.sqrt(variance));
  });
  return largest;
}

/** Of several runs of one contestant, the one that took least processor time: the least disturbed. */
export function best(runs: readonly Measured[], by: "wallS" | "cpuS"): Measured {
  return runs.reduce((least, run) => (run[by] / run.samples < least[by] / least.samples ? run : least));
}

/** Lays rows out in columns; every column but the first is set flush right. */
export function table(rows: readonly (readonly string[])[]): string {
  const widths = rows[0].map((_, column) => Math.max(...rows.map((row) => row[column].length)));
  return rows
    .map((row) =>
      row
        .map((cell, column) => (column === 0 ? cell.padEnd(widths[column]) : cell.padStart(widths[column])))
        .join("  ")
        .trimEnd(),
    )
    .join("\n");
}
