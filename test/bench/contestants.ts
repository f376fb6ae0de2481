/** Who is compared: each runs in a process of its own, so that its processor time and peak memory are its own. */
import { execFileSync } from "node:child_process";
import { join } from "node:path";
import { fileURLToPath } from "node:url";

/** What one process reports of its sampling alone: start-up, compilation and set-up are left out. */
export interface Measured {
  readonly samples: number;
  readonly wallS: number;
  readonly cpuS: number;
  readonly peakMemoryMB: number;
  /** Units in the target window in every state. */
  readonly good: number;
  /** One row a state: how many units are reversed, play, light, target, heavy, bind. */
  readonly outcomes: readonly (readonly number[])[];
  readonly meanPreloadN: readonly number[];
  readonly sdPreloadN: readonly number[];
  /** Resident memory while it ran, where it was looked at. */
  readonly memory?: { readonly wallS: number; readonly samples: number; readonly memoryMB: number }[];
  /** Wall time of the engine's own way to the precision asked for, and the half-width it reached; null for plain sampling. */
  readonly precision?: { readonly wallS: number; readonly halfWidthRatio: number; readonly points: number } | null;
}

/** Half the 95 % interval of the yield that everybody has to reach: 0.05 points. */
export const PRECISION_RATIO = 0.0005;

/** Wall time that a contestant needs for that precision: its own way, or as many plain samples as a binomial asks for. */
export function timeToPrecisionS(run: Measured, perSecond: number, goodRatio: number): number {
  if (run.precision) return run.precision.wallS;
  const z = 1.959963984540054;
  return (goodRatio * (1 - goodRatio) * (z / PRECISION_RATIO) ** 2) / perSecond;
}

export interface Contestant {
  readonly name: string;
  /** @param memoryEveryMs how often the engine's memory is looked at while it runs; null: only its peak is told */
  readonly run: (samples: number, seed: number, memoryEveryMs?: number | null) => Measured;
}

const SOURCES = fileURLToPath(new URL("../test/bench/", import.meta.url));

/** The engine on this bundle's own worker threads. */
export function engineContestant(scenarioPath: string, workers: number, kernel: string): Contestant {
  const script = process.argv[1];
  return {
    name: `engine, ${kernel} kernel, ${workers === 1 ? "1 worker" : `${workers} workers`}`,
    run: (samples, seed, memoryEveryMs = null) => {
      const request = { scenarioPath, workers, kernel, samples, seed, memoryEveryMs };
      return report(process.execPath, [script, "--measure", JSON.stringify(request)]);
    },
  };
}

/** The same model in numpy, on one thread. */
export function numpyContestant(numbersPath: string): Contestant {
  return {
    name: "numpy, 1 thread",
    run: (samples, seed) =>
      report("/usr/bin/python3", [join(SOURCES, "model_numpy.py"), numbersPath, String(samples), String(seed)]),
  };
}

/** The same model in C, compiled into a folder that the caller removes. */
export function compiledContestant(numbersPath: string, folder: string): Contestant {
  const binary = join(folder, "model");
  execFileSync("cc", ["-O3", "-march=native", "-o", binary, join(SOURCES, "model.c"), "-lm"], { stdio: "inherit" });
  return {
    name: "C, -O3 -march=native, 1 thread",
    run: (samples, seed) => report(binary, [numbersPath, String(samples), String(seed)]),
  };
}

function report(command: string, args: readonly string[]): Measured {
  const text = execFileSync(command, args, {
    encoding: "utf8",
    stdio: ["ignore", "pipe", "inherit"],
    env: { ...process.env, OPENBLAS_NUM_THREADS: "1", OMP_NUM_THREADS: "1" },
  });
  return JSON.parse(text.trim().split("\n").at(-1)!) as Measured;
}
