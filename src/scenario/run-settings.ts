import { parseQuantity } from "../units/quantity.ts";
import { assumed } from "./assumptions.ts";
import type { Ledger } from "./ledger.ts";
import type { ScenarioDocument } from "./schema.ts";
import type { ResolvedScenario } from "./types.ts";

const MOST_SAMPLES = 1e10;
/** The counts of a batch are worked out one by one, and no lot of assembled units is larger. */
const LARGEST_BATCH = 1e6;
const LONGEST_SEED = 200;

const LOT = "Give the units of one production lot";

type RunSettings = Pick<ResolvedScenario, "requiredYieldRatio" | "batchSize" | "seed" | "samples">;

/** What is asked of the run: yield to reach, batch, seed and number of samples. */
export function resolveRun(
  ledger: Ledger,
  { requiredYield, batch, seed, samples }: Pick<ScenarioDocument, "requiredYield" | "batch" | "seed" | "samples">,
): RunSettings {
  const requiredYieldRatio =
    requiredYield === undefined
      ? null
      : ledger.attempt(
          () => parseQuantity(requiredYield, "ratio", "requiredYield", { low: 0, high: 1, openLow: true }),
          Number.NaN,
        );
  const batchSize = wholeNumber(ledger, "batch.size", batch?.size ?? assumed.batchSize.size, LARGEST_BATCH, LOT);
  const sampleCount = wholeNumber(ledger, "samples", samples ?? assumed.samples.samples, MOST_SAMPLES);
  const seedText = String(seed ?? assumed.seed.seed);
  if (seedText.trim() === "" || seedText.length > LONGEST_SEED) {
    ledger.problem({
      code: "wrong-type",
      path: "seed",
      expected: `a text of 1 to ${LONGEST_SEED} characters`,
      got: seedText === "" ? "an empty text" : seedText,
    });
  }
  ledger.note({
    path: "requiredYield",
    label: "yield that a batch must reach in every state together",
    value: requiredYieldRatio === null ? "none" : `${Number((100 * requiredYieldRatio).toPrecision(8))} %`,
    origin: requiredYield === undefined ? "assumption" : "given",
    source: requiredYield === undefined ? "not given" : "",
  });
  const lines = [
    ["batch.size", "units in a batch", String(batchSize), batch?.size, assumed.batchSize.why],
    ["seed", "seed of the random draws", seedText, seed, assumed.seed.why],
    ["samples", "units simulated", String(sampleCount), samples, assumed.samples.why],
  ] as const;
  for (const [path, label, value, written, why] of lines) {
    const left = written === undefined;
    ledger.note({ path, label, value, origin: left ? "assumption" : "given", source: left ? why : "" });
  }
  return { requiredYieldRatio, batchSize, seed: seedText, samples: sampleCount };
}

function wholeNumber(ledger: Ledger, path: string, value: number, most: number, hint?: string): number {
  if (!(Number.isInteger(value) && value >= 1 && value <= most)) {
    ledger.problem({
      code: "out-of-range",
      path,
      expected: `a whole number from 1 to ${most}`,
      got: String(value),
      hint: value > most ? hint : undefined,
    });
  }
  return value;
}
