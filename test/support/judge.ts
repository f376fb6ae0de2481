import { createLocalExecutor } from "../../src/engine/local.ts";
import { InputError } from "../../src/errors.ts";
import { summaryText } from "../../src/report/summary-text.ts";
import { verdict } from "../../src/report/verdict.ts";
import type { MeasuredFileReader } from "../../src/scenario/measured-files.ts";
import { parseScenario } from "../../src/scenario/parse.ts";
import type { RunResult } from "../../src/studies/result.ts";
import { runYield, yieldSetup } from "../../src/studies/yield.ts";
import { summaryRows } from "../../src/tables/summary-rows.ts";
import { compiledKernel } from "./kernel.ts";
import { TEST_MAKER } from "./variable.ts";

export type Judgement =
  | { readonly kind: "refused"; readonly message: string }
  | { readonly kind: "ran" }
  /** What must not happen. */
  | { readonly kind: "fault"; readonly why: string };

const SAMPLES = 64;
const KERNEL = compiledKernel();

/** Of the whole file, or of a key without a name: there is no line to tell. */
const WITHOUT_LINE: ReadonlySet<string> = new Set(["wrong-type", "file", "unknown-key", "too-large"]);

/** Seconds of processor time after which something is as good as hung. */
const LONGEST_SECONDS = 5;

export interface JudgeOptions {
  readonly reader: MeasuredFileReader;
  /** Integrate over the offset too, which takes most of the time. */
  readonly integrates: boolean;
  /** Look for rare outcomes too, which takes most of what is left. */
  readonly looksForRare: boolean;
}

/** Refused with the place, or run on 64 units to a whole result: anything else is a fault. */
export async function judge(text: string, options: JudgeOptions): Promise<Judgement> {
  const started = process.cpuUsage();
  const judgement = await judgeUntimed(text, options);
  const { user, system } = process.cpuUsage(started);
  const seconds = (user + system) / 1e6;
  return seconds > LONGEST_SECONDS && judgement.kind !== "fault"
    ? { kind: "fault", why: `took ${seconds.toFixed(1)} s` }
    : judgement;
}

async function judgeUntimed(text: string, { reader, integrates, looksForRare }: JudgeOptions): Promise<Judgement> {
  try {
    const scenario = parseScenario(text, "fuzzed.yaml", [{ path: "samples", value: SAMPLES }], reader);
    const whole = yieldSetup(scenario, KERNEL);
    const setup = integrates ? whole : { ...whole, offset: null, lines: null };
    const { finding, samples } = await runYield(setup, createLocalExecutor(setup), {
      maker: TEST_MAKER,
      target: null,
      rare: looksForRare,
      isOver: () => false,
      keepRows: 0,
      onRows: () => {},
      onProgress: () => {},
    });
    const result: RunResult = { ...finding, verdict: verdict(finding) };
    const wrong = [...nonFinite(result), ...nonFiniteColumns(samples.columns)];
    if (wrong.length > 0) return { kind: "fault", why: `not finite: ${wrong.slice(0, 3).join(", ")}` };
    const printed = `${summaryText(result, { color: false, width: 100 })}\n${result.verdict.join("\n")}`;
    if (/NaN|Infinity|undefined|\[object/.test(printed.replace(text, ""))) {
      const line = printed.split("\n").find((each) => /NaN|Infinity|undefined|\[object/.test(each));
      if (!/NaN|Infinity|undefined|\[object/.test(text)) return { kind: "fault", why: `printed: ${line}` };
    }
    if (summaryRows(result).length === 0) return { kind: "fault", why: "an empty table" };
    return { kind: "ran" };
  } catch (error) {
    if (!(error instanceof InputError)) {
      return { kind: "fault", why: error instanceof Error ? (error.stack ?? error.message) : String(error) };
    }
    const lost = error.problems.find(
      ({ path, file, line }) => path === "" && (file === undefined || line === undefined),
    );
    if (error.problems.length === 0 || (lost !== undefined && !WITHOUT_LINE.has(lost.code))) {
      return { kind: "fault", why: `refused without a place: ${error.message}` };
    }
    return { kind: "refused", message: error.message };
  }
}

/** Numbers that may be missing: of no units at all, or of a load that is never reached. */
const MAY_BE_MISSING =
  /\.housingC$|^integration\.worthRatio$|^nominal\.states\.\d+\.(?:lowMm|highMm|bindMm)$|^inputs\./;

/** Addresses of numbers in a result that are not finite though the result promises them. */
export function nonFinite(value: unknown, path = ""): string[] {
  if (typeof value === "number") return Number.isFinite(value) || MAY_BE_MISSING.test(path) ? [] : [`${path} ${value}`];
  if (value === null || typeof value !== "object") return [];
  const { count, quantiles, method } = value as { count?: unknown; quantiles?: unknown; method?: unknown };
  // A rare event that could not be sampled is said to be so.
  if (path.startsWith("rare.") && method === "unresolved") return [];
  // A summary of no units has no moments; of one unit no spread.
  if (Array.isArray(quantiles) && (count === 0 || count === 1)) return [];
  return Object.entries(value).flatMap(([key, part]) => nonFinite(part, path === "" ? key : `${path}.${key}`));
}

const COLUMNS_THAT_MAY_MISS = /(?:^|\.)(?:window\.|bind|onset|low|high)|(?:lowMm|highMm|onsetMm|bindMm)$/;

function nonFiniteColumns(columns: readonly { readonly name: string; readonly values: ArrayLike<number> }[]): string[] {
  return columns.flatMap(({ name, values }) => {
    if (COLUMNS_THAT_MAY_MISS.test(name)) return [];
    const at = Array.from(values).findIndex((value) => !Number.isFinite(value));
    return at < 0 ? [] : [`column ${name}[${at}] ${values[at]}`];
  });
}
