/**
 * The benchmark: the engine beside the same model in numpy and in C, in one run.
 *
 *     npm run bench -- [--samples 2e6] [--rounds 3] [--scenario FILE] [--only engine] [--scaling] [--extended] [--studies] [--page] [--worth] [--json]
 */
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { parseArgs } from "node:util";
import { parseScenario } from "../../src/scenario/parse.ts";
import { best, largestDifference, table } from "./compare.ts";
import {
  type Contestant,
  compiledContestant,
  engineContestant,
  type Measured,
  numpyContestant,
  timeToPrecisionS,
} from "./contestants.ts";
import { measureExtended } from "./extended.ts";
import { measureEngine } from "./measure.ts";
import { scenarioNumbers } from "./numbers.ts";
import { measurePage } from "./page.ts";
import { measureScaling } from "./scaling.ts";
import { measureStudies } from "./studies.ts";
import { measureWorth } from "./worth.ts";

const { values: options } = parseArgs({
  options: {
    samples: { type: "string", default: "1e6" },
    rounds: { type: "string", default: "3" },
    scenario: {
      type: "string",
      default: fileURLToPath(new URL("../scenarios/laminating-roller.yaml", import.meta.url)),
    },
    kernel: { type: "string", default: "fast" },
    only: { type: "string", default: "" },
    scaling: { type: "boolean", default: false },
    extended: { type: "boolean", default: false },
    studies: { type: "boolean", default: false },
    page: { type: "boolean", default: false },
    worth: { type: "boolean", default: false },
    json: { type: "boolean", default: false },
    measure: { type: "string" },
  },
});

/** Outcome shares of two contestants may differ by this many standard errors: false alarm below 1 in 1000 over 20 shares. */
const AGREEMENT_LIMIT = 4.5;

if (options.measure !== undefined) {
  console.log(JSON.stringify(await measureEngine(JSON.parse(options.measure))));
} else if (options.studies) {
  measureStudies(Number(options.rounds));
} else if (options.page) {
  await measurePage(options.scenario, options.rounds === "3" ? 60 : Number(options.rounds));
} else if (options.worth) {
  await measureWorth(Number(options.rounds));
} else if (options.extended) {
  const grinding = fileURLToPath(new URL("../scenarios/grinding-spindle.yaml", import.meta.url));
  await measureExtended(grinding, Number(options.samples) === 1e6 ? 1e5 : Number(options.samples));
} else if (options.scaling) {
  measureScaling({
    scenario: options.scenario,
    kernel: options.kernel,
    workers: 2,
    largest: Number(options.samples),
    isJson: options.json,
  });
} else {
  const folder = mkdtempSync(join(tmpdir(), "seatspread-bench-"));
  try {
    process.exitCode = compare(folder);
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}

function compare(folder: string): number {
  const scenario = parseScenario(readFileSync(options.scenario, "utf8"), options.scenario);
  const samples = Number(options.samples);
  const contestants: Contestant[] = options.kernel
    .split(",")
    .flatMap((kernel) => [1, 2].map((workers) => engineContestant(options.scenario, workers, kernel)));
  if (options.only !== "engine") {
    const numbers = join(folder, "numbers.json");
    writeFileSync(numbers, JSON.stringify(scenarioNumbers(scenario)));
    contestants.push(numpyContestant(numbers), compiledContestant(numbers, folder));
  }
  // Round by round, so that what else the machine does falls on all alike.
  const runs: Measured[][] = contestants.map(() => []);
  for (let round = 0; round < Number(options.rounds); round += 1) {
    contestants.forEach((contestant, place) => {
      runs[place].push(contestant.run(samples, 1 + round * contestants.length + place));
    });
  }
  const results = contestants.map(({ name }, place) => {
    const fastest = best(runs[place], "wallS");
    const leanest = best(runs[place], "cpuS");
    return {
      name,
      perSecond: fastest.samples / fastest.wallS,
      cpuNsPerSample: (1e9 * leanest.cpuS) / leanest.samples,
      peakMemoryMB: Math.max(...runs[place].map((run) => run.peakMemoryMB)),
      goodRatio: sum(runs[place], (run) => run.good) / sum(runs[place], (run) => run.samples),
      precisionS: Math.min(
        ...runs[place].map((run) =>
          timeToPrecisionS(
            run,
            fastest.samples / fastest.wallS,
            sum(runs[place], (each) => each.good) / sum(runs[place], (each) => each.samples),
          ),
        ),
      ),
      differenceInErrors: Math.max(
        0,
        ...runs.flatMap((others, other) => (other === place ? [] : [largestDifference(runs[place][0], others[0])])),
      ),
    };
  });
  const drawn = scenario.variables.filter((variable) => variable.distribution.kind !== "constant").length;
  if (options.json) console.log(JSON.stringify({ samples, drawn, states: scenario.states.length, results }, null, 2));
  else print(results, samples, drawn, scenario.states.length);
  const agree = results.every((result) => result.differenceInErrors <= AGREEMENT_LIMIT);
  if (!agree) console.error(`The contestants disagree by more than ${AGREEMENT_LIMIT} standard errors.`);
  return agree ? 0 : 1;
}

function print(
  results: readonly {
    name: string;
    perSecond: number;
    cpuNsPerSample: number;
    peakMemoryMB: number;
    goodRatio: number;
    precisionS: number;
    differenceInErrors: number;
  }[],
  samples: number,
  drawn: number,
  states: number,
): void {
  const reference = results.find((result) => result.name.startsWith("numpy")) ?? results[0];
  console.log(`${samples} units, ${drawn} drawn variables, ${states} states, best of ${options.rounds} rounds\n`);
  console.log(
    table([
      [
        "",
        "units/s",
        "times",
        "CPU ns/unit",
        "times",
        "peak MB",
        "good in every state",
        "largest difference",
        "s to ±0.05 points",
        "times",
      ],
      ...results.map((result) => [
        result.name,
        `${(result.perSecond / 1e6).toFixed(3)} M`,
        (result.perSecond / reference.perSecond).toFixed(2),
        result.cpuNsPerSample.toFixed(0),
        (reference.cpuNsPerSample / result.cpuNsPerSample).toFixed(2),
        result.peakMemoryMB.toFixed(0),
        `${(100 * result.goodRatio).toFixed(3)} %`,
        `${result.differenceInErrors.toFixed(1)} errors`,
        result.precisionS.toFixed(3),
        (reference.precisionS / result.precisionS).toFixed(1),
      ]),
    ]),
  );
  console.log(
    `\n"times" is against ${reference.name}. The engine also keeps moments and histograms of 5 quantities a state.`,
  );
}

function sum<T>(items: readonly T[], of: (item: T) => number): number {
  return items.reduce((total, item) => total + of(item), 0);
}
