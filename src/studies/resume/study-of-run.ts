import { InputError } from "../../errors.ts";
import type { Target } from "../conditional.ts";
import { type Maker, provenanceOf, type YieldSetup } from "../yield.ts";

/** What decides every bit of a run: a record of one run is good for another only if all of it is the same. */
export interface StudyOfRun {
  readonly scenario: string;
  readonly version: string;
  readonly streamVersion: number;
  readonly catalogueVersion: string;
  readonly schemaVersion: number;
  readonly scenarioHash: string;
  readonly seed: string;
  readonly samples: number;
  readonly keepRows: number;
  readonly precision: string;
}

const WORDS: Readonly<Record<keyof StudyOfRun, string>> = {
  scenario: "scenario name",
  version: "program version",
  streamVersion: "stream version",
  catalogueVersion: "catalogue version",
  schemaVersion: "schema version",
  seed: "seed",
  samples: "number of samples",
  scenarioHash: "scenario hash",
  keepRows: "number of rows kept",
  precision: "precision asked for",
};

/** What two runs must have in common for one to go on with what the other has done. */
export function studyOfRun(
  { scenario }: YieldSetup,
  { maker, target, keepRows }: { maker: Maker; target: Target | null; keepRows: number },
): StudyOfRun {
  const { version, streamVersion, catalogueVersion, schemaVersion, ...made } = provenanceOf(scenario, maker);
  return {
    scenario: made.scenario,
    version,
    streamVersion,
    catalogueVersion,
    schemaVersion,
    seed: made.seed,
    samples: made.samples,
    scenarioHash: made.scenarioHash,
    keepRows,
    precision: target === null ? "none" : JSON.stringify(target),
  };
}

/** What a record has that the run has not, in words; null where both are the same study. */
export function differenceOf(
  recorded: StudyOfRun,
  own: StudyOfRun,
): { readonly expected: string; readonly got: string } | null {
  for (const key of Object.keys(WORDS) as (keyof StudyOfRun)[]) {
    if (recorded[key] === own[key]) continue;
    return { expected: `the ${WORDS[key]} of this run, ${own[key]}`, got: String(recorded[key]) };
  }
  return null;
}

/** The record that was found cannot be gone on from. */
export function refuseRecord(file: string, expected: string, got: string, hint: string): never {
  throw new InputError({ code: "conflict", path: "--resume", expected, got, hint, file });
}
