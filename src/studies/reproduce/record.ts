import { InputError, type Problem } from "../../errors.ts";
import { type Provenance, RESULT_VERSION, type RunResult } from "../result.ts";
import { ASKED, type StudyName } from "./asked.ts";

/** A result that can be made again: what stands in `result.json`, checked for what it takes. */
export interface ResultRecord {
  readonly study: StudyName;
  readonly provenance: Pick<Provenance, "scenario" | "samples">;
  readonly asked: unknown;
  /** The content of its scenario; undefined for a fit, which has none. */
  readonly scenario: unknown;
  /** Of a run: what it went on for and how far it came. */
  readonly target: RunResult["target"];
  readonly integration: RunResult["integration"];
  /** The whole file. */
  readonly content: unknown;
}

type Written = Partial<Record<keyof RunResult, unknown>> & { readonly provenance?: Record<string, unknown> };

/**
 * Takes the text of `result.json` for what it is.
 *
 * @throws InputError for anything but a whole result of a known study, in the form that this program reads
 */
export function readRecord(text: string, fileName: string): ResultRecord {
  const refuse = (problem: Partial<Problem>): never => {
    throw new InputError({ code: "file", path: "", expected: "a result.json", file: fileName, ...problem });
  };
  let content: unknown;
  try {
    content = JSON.parse(text);
  } catch {
    return refuse({ got: "a text that is no JSON, or that was cut short" });
  }
  const isGroup = (value: unknown): value is object => typeof value === "object" && value !== null;
  const written = (isGroup(content) ? content : {}) as Written;
  if (written.provenance?.program !== "seatspread") return refuse({ got: "JSON of another kind" });
  const other = otherForm(written.provenance);
  if (other !== null) return refuse(other);
  const { study, provenance, asked, scenario, target, integration } = written;
  if (typeof study !== "string" || !Object.hasOwn(ASKED, study)) {
    return refuse({ expected: `the result of ${Object.keys(ASKED).join(", ")}`, got: String(study) });
  }
  const again = "Give the command again";
  if (study !== "fit" && !isGroup(scenario)) return refuse({ got: "a result without its scenario", hint: again });
  if (!ASKED[study as StudyName](asked) || (study === "run" && (target === undefined || integration === undefined))) {
    return refuse({ got: `a result of ${study} that does not say what was asked for`, hint: again });
  }
  return {
    study: study as StudyName,
    provenance: { scenario: String(provenance.scenario), samples: Number(provenance.samples) },
    asked,
    scenario,
    target: target as RunResult["target"],
    integration: integration as RunResult["integration"],
    content,
  };
}

/** What to say of a result that another version of the program wrote in another form; null for one of this form. */
function otherForm({ resultVersion, version }: Record<string, unknown>): Partial<Problem> | null {
  if (resultVersion === RESULT_VERSION) return null;
  const isNewer = typeof resultVersion === "number" && resultVersion > RESULT_VERSION;
  return {
    code: "not-supported",
    path: "provenance.resultVersion",
    expected: `the result version ${RESULT_VERSION}`,
    got: resultVersion === undefined ? "none" : String(resultVersion),
    hint: isNewer
      ? `It belongs to a newer program: reproduce it with version ${String(version)} or later`
      : `It is of an earlier program (${String(version)}): run its scenario again with this one, or reproduce it with that one`,
  };
}

/** When a run that went on towards a target, or for a time, is to end: where the earlier one did. */
export function endOfRun({ provenance, integration }: ResultRecord): (done: number) => boolean {
  const goal = integration === null ? provenance.samples : integration.replicates * integration.pointsPerReplicate;
  return (done) => done >= goal;
}
