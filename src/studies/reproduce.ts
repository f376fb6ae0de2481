import { InputError } from "../errors.ts";
import type { RunResult } from "./result.ts";

/** One place in which two results are not the same. */
export interface Difference {
  /** Address in result.json, such as `states.2.preloadN.mean`. */
  readonly path: string;
  /** As it stands in the file and as it came out now; undefined where it is missing. */
  readonly before: unknown;
  readonly now: unknown;
}

/** What came of doing a run again. */
export interface Reproduction {
  readonly isSame: boolean;
  /** Numbers that were compared. */
  readonly numbers: number;
  /** Versions, hash and the like that are others now. Where the platform alone is another one, results may still be the same. */
  readonly provenance: readonly Difference[];
  /** Everything else that differs, in the order of the file. */
  readonly differences: readonly Difference[];
}

/** The record of a run that can be done again: `result.json` as data, checked for what it takes. */
export type RunRecord = Pick<RunResult, "provenance" | "target" | "integration" | "scenario">;

/**
 * Takes the text of `result.json` for what it is.
 *
 * @throws InputError for anything but the result of a run, whole and with its scenario
 */
export function readRunRecord(text: string, fileName: string): { record: RunRecord; content: unknown } {
  const refuse = (got: string, hint?: string): never => {
    throw new InputError({ code: "file", path: "", expected: "the result.json of a run", got, hint, file: fileName });
  };
  let content: unknown;
  try {
    content = JSON.parse(text);
  } catch {
    return refuse("a text that is no JSON, or that was cut short");
  }
  const record = content as Partial<RunRecord & { study: unknown }> | null;
  const isGroup = (value: unknown): value is object => typeof value === "object" && value !== null;
  if (!isGroup(record) || record.provenance?.program !== "seatspread") return refuse("JSON of another kind");
  if (record.study !== undefined) {
    return refuse(
      `the result of ${String(record.study)}`,
      "Give that command again; its scenario stands in the result",
    );
  }
  if (!isGroup(record.scenario) || record.target === undefined || record.integration === undefined) {
    return refuse("a result without its scenario");
  }
  return { record: record as RunRecord, content };
}

/** When a run that went on towards a target, or for a time, is to end: where the earlier one did. */
export function endOfRun({ provenance, integration }: RunRecord): (done: number) => boolean {
  const goal = integration === null ? provenance.samples : integration.replicates * integration.pointsPerReplicate;
  return (done) => done >= goal;
}

/**
 * Compares a result with an earlier one, number by number, to the last bit.
 *
 * @param before content of the earlier result.json
 * @param now the new result; it goes through JSON like the other
 */
export function compareResults(before: unknown, now: RunResult): Reproduction {
  const found: Difference[] = [];
  const counted = { numbers: 0 };
  collect(before, JSON.parse(JSON.stringify(now)), "", found, counted);
  const isOfProvenance = ({ path }: Difference) => path.startsWith("provenance.");
  const provenance = found.filter(isOfProvenance);
  const differences = found.filter((difference) => !isOfProvenance(difference));
  const isSame = differences.length === 0 && provenance.every(({ path }) => path === "provenance.platform");
  return { isSame, numbers: counted.numbers, provenance, differences };
}

function collect(before: unknown, now: unknown, path: string, found: Difference[], counted: { numbers: number }): void {
  if (typeof before === "number") counted.numbers += 1;
  const isGroup = (value: unknown): value is Record<string, unknown> => typeof value === "object" && value !== null;
  if (isGroup(before) && isGroup(now) && Array.isArray(before) === Array.isArray(now)) {
    for (const key of new Set([...Object.keys(before), ...Object.keys(now)])) {
      collect(before[key], now[key], path === "" ? key : `${path}.${key}`, found, counted);
    }
  } else if (!Object.is(before, now)) {
    found.push({ path, before, now });
  }
}
