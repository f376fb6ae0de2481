import { table } from "./compare.ts";
import { engineContestant, type Measured } from "./contestants.ts";

/** Points of the memory curve, about. */
const CURVE_POINTS = 60;
/** Rows of it that are printed. */
const PRINTED_POINTS = 20;
/** Where nobody says how far to go. */
const USUAL_LARGEST = 1e7;

interface ScalingRequest {
  readonly scenario: string;
  readonly kernel: string;
  readonly workers: number;
  /** Samples of the largest row; a million and less stand for the usual one. */
  readonly largest: number;
  readonly isJson: boolean;
}

/**
 * Time and memory over the number of samples, by powers of ten from 1e5 on, each row in a process of its own; of the largest
 * the memory as it was while it ran. Prints tables, and with `--json` the same as data on stdout, the tables on stderr.
 */
export function measureScaling({ scenario, kernel, workers, largest, isJson }: ScalingRequest): void {
  const last = largest > 1e6 ? largest : USUAL_LARGEST;
  const counts: number[] = [];
  for (let samples = 1e5; samples < last; samples *= 10) counts.push(samples);
  counts.push(last);
  const contestant = engineContestant(scenario, workers, kernel);
  const print = isJson ? console.error : console.log;
  const runs: Measured[] = [];
  for (const samples of counts) {
    const perUnitMs = runs.length === 0 ? 0 : (1000 * runs.at(-1)!.wallS) / runs.at(-1)!.samples;
    const everyMs = samples < last ? null : Math.max(20, (perUnitMs * samples) / CURVE_POINTS);
    runs.push(contestant.run(samples, 1, everyMs));
    // Row by row: the largest may take a quarter of an hour.
    print(`${samples.toExponential(0)} units: ${runs.at(-1)!.wallS.toFixed(2)} s`);
  }
  const curve = runs.at(-1)!.memory ?? [];
  print(
    `\n${contestant.name}\n\n${table([["units", "wall s", "ns/unit", "CPU ns/unit", "peak MB"], ...runs.map(rowOf)])}`,
  );
  const every = Math.max(1, Math.ceil((curve.length - 1) / PRINTED_POINTS));
  const printed = curve.filter((_, place) => place % every === 0 || place === curve.length - 1);
  const points = printed.map(({ samples, wallS, memoryMB }) => [
    samples.toExponential(2),
    wallS.toFixed(1),
    memoryMB.toFixed(1),
  ]);
  print(
    `\nmemory while it ran, ${last.toExponential(0)} units\n\n${table([["units done", "after s", "MB"], ...points])}`,
  );
  if (!isJson) return;
  const rows = runs.map(({ samples, wallS, cpuS, peakMemoryMB }) => ({ samples, wallS, cpuS, peakMemoryMB }));
  console.log(JSON.stringify({ contestant: contestant.name, platform: process.version, rows, curve }, null, 2));
}

function rowOf({ samples, wallS, cpuS, peakMemoryMB }: Measured): string[] {
  const perUnitNs = (seconds: number) => ((1e9 * seconds) / samples).toFixed(0);
  return [samples.toExponential(0), wallS.toFixed(2), perUnitNs(wallS), perUnitNs(cpuS), peakMemoryMB.toFixed(0)];
}
