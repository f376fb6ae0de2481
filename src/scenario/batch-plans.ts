import { InputError } from "../errors.ts";
import { didYouMean } from "../units/nearest.ts";
import { parseQuantity } from "../units/quantity.ts";
import { readDrawn } from "./drawn.ts";
import type { Ledger } from "./ledger.ts";
import type { ScenarioDocument } from "./schema.ts";
import type { BatchEntry, BenchCheckEntry, CostsEntry } from "./schema-batch.ts";
import type { DutyState, ResolvedBatchPlans, ResolvedBenchCheck, ResolvedCosts } from "./types.ts";
import { distributionWords, rangeWords } from "./words.ts";

type Written = Pick<ScenarioDocument, "batch" | "costs" | "sampling" | "benchCheck">;

/** What is asked about a batch beside its yield: costs, warranty, sampling plans and a check on the bench. */
export function resolveBatchPlans(
  ledger: Ledger,
  { batch, costs, sampling, benchCheck }: Written,
  states: readonly DutyState[],
  batchSize: number,
): ResolvedBatchPlans {
  const plans = (sampling ?? []).map(({ sample, accept }, place) => {
    const path = `sampling.${place}`;
    const isWhole = Number.isInteger(sample) && Number.isInteger(accept);
    if (!(isWhole && sample >= 1 && sample <= batchSize && accept >= 0 && accept < sample)) {
      ledger.problem({
        code: "out-of-range",
        path,
        expected: `a sample of 1 to ${batchSize} units and an acceptance number below it`,
        got: `sample ${sample}, accept ${accept}`,
      });
    }
    ledger.note({
      path,
      label: "sampling plan",
      value: `${sample} units, accepted with up to ${accept} failing`,
      origin: "given",
      source: "",
    });
    return { sample, accept };
  });
  return {
    warrantyYears: resolveYears(ledger, batch),
    seenPerYearRatio: resolveSeen(ledger, batch, states),
    costs: costs === undefined ? null : resolveCosts(ledger, costs),
    sampling: plans,
    benchCheck: benchCheck === undefined ? null : ledger.attempt(() => resolveCheck(ledger, benchCheck), null),
  };
}

function resolveYears(ledger: Ledger, batch: BatchEntry | undefined): number {
  const years = batch?.warrantyYears ?? 1;
  if (!(years > 0 && years <= 100)) {
    ledger.problem({
      code: "out-of-range",
      path: "batch.warrantyYears",
      expected: "a number of years up to 100",
      got: String(years),
    });
  }
  const left = batch?.warrantyYears === undefined;
  ledger.note({
    path: "batch.warrantyYears",
    label: "length of the warranty",
    value: `${years} ${years === 1 ? "year" : "years"}`,
    origin: left ? "assumption" : "given",
    source: left ? "not given" : "",
  });
  return years;
}

/** One entry a state: share of units that see it in a year. */
function resolveSeen(ledger: Ledger, batch: BatchEntry | undefined, states: readonly DutyState[]): number[] {
  const written = batch?.seenPerYear ?? {};
  const names = states.map(({ name }) => name);
  for (const name of Object.keys(written)) {
    if (names.includes(name)) continue;
    const hint = didYouMean(name, names);
    ledger.problem({
      code: "unknown-name",
      path: `batch.seenPerYear.${name}`,
      expected: `a state: ${names.join(", ")}`,
      got: name,
      hint,
    });
  }
  return states.map(({ name, label, isBench }) => {
    const value = Object.hasOwn(written, name) ? written[name] : undefined;
    if (value === undefined) return 1;
    const path = `batch.seenPerYear.${name}`;
    const ratio = ledger.attempt(() => parseQuantity(value, "ratio", path, { low: 0, high: 1 }), Number.NaN);
    if (isBench) {
      ledger.problem({
        code: "conflict",
        path,
        expected: "a state in service",
        got: "the bench, which every unit sees",
      });
    }
    ledger.note({
      path,
      label: `units that see the state ${label} in a year`,
      value: `${Number((100 * ratio).toPrecision(6))} %`,
      origin: "given",
      source: "",
    });
    return ratio;
  });
}

function resolveCosts(ledger: Ledger, costs: CostsEntry): ResolvedCosts {
  let currency: string | null = null;
  const read = (key: "unit" | "scrap" | "rework" | "warranty", label: string): number | null => {
    const value = costs[key];
    if (value === undefined) return null;
    return ledger.attempt(() => {
      const path = `costs.${key}`;
      const amount = parseQuantity(value, "money", path, { low: 0 });
      const word = typeof value === "number" ? "" : (/([^\d\s.,+-][^\d]*)\s*$/.exec(value.trim())?.[1] ?? "").trim();
      if (currency === null) currency = word;
      else if (word !== currency) {
        throw new InputError({
          code: "conflict",
          path,
          expected: currency === "" ? "no currency, as before" : `an amount in ${currency}, as before`,
          got: String(value),
        });
      }
      ledger.note({ path, label, value: `${amount}${word === "" ? "" : ` ${word}`}`, origin: "given", source: "" });
      return amount;
    }, 0);
  };
  const unit = read("unit", "cost of making a unit");
  const scrap = read("scrap", "cost of a scrapped unit");
  const rework = read("rework", "cost of reworking a unit");
  const warranty = read("warranty", "cost of a failure in service");
  const { reworkShare } = costs;
  const reworkRatio =
    reworkShare === undefined
      ? 1
      : ledger.attempt(() => parseQuantity(reworkShare, "ratio", "costs.reworkShare", { low: 0, high: 1 }), 1);
  if (reworkShare !== undefined && rework === null) {
    ledger.problem({
      code: "missing",
      path: "costs.rework",
      expected: "a cost of rework beside its share",
      got: "nothing",
    });
  }
  return {
    currency: currency ?? "",
    unit: unit ?? 0,
    scrap: scrap ?? unit ?? 0,
    rework,
    reworkRatio: rework === null ? 0 : reworkRatio,
    warranty: warranty ?? 0,
  };
}

const GAUGES = {
  play: { dimension: "length", unit: "mm", words: "axial play", low: 0 },
  preload: { dimension: "force", unit: "N", words: "preload", low: -1e6 },
  torque: { dimension: "torque", unit: "N.mm", words: "friction torque of the preload", low: -1e6 },
} as const;

function resolveCheck(ledger: Ledger, { gauge, low, high, error }: BenchCheckEntry): ResolvedBenchCheck {
  const { dimension, unit, words, low: least } = GAUGES[gauge];
  const path = "benchCheck";
  if (low === undefined && high === undefined) {
    throw new InputError({ code: "missing", path, expected: "a limit: low, high or both", got: "none" });
  }
  const read = (key: "low" | "high", value: typeof low, without: number) =>
    value === undefined ? without : parseQuantity(value, dimension, `${path}.${key}`, { low: least });
  const limits = {
    low: read("low", low, Number.NEGATIVE_INFINITY),
    high: read("high", high, Number.POSITIVE_INFINITY),
  };
  if (!(limits.low < limits.high)) {
    throw new InputError({
      code: "reversed-limits",
      path,
      expected: "low below high",
      got: `${String(low)} and ${String(high)}`,
    });
  }
  const value = readDrawn(error, { dimension, path: `${path}.error` });
  const sides = [
    Number.isFinite(limits.low) ? `from ${rangeWords(limits.low, limits.low, unit)}` : "",
    Number.isFinite(limits.high) ? `up to ${rangeWords(limits.high, limits.high, unit)}` : "",
  ];
  ledger.note({
    path,
    label: `check of every unit on the bench: ${words}`,
    value: `passes ${sides.filter((side) => side !== "").join(" ")}; error ${distributionWords(value.distribution, unit)}`,
    origin: "given",
    source: value.how,
  });
  return { gauge, unit, ...limits, error: value.distribution };
}
