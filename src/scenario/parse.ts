import { InputError } from "../errors.ts";
import { expandMeasuredFiles, type MeasuredFileReader } from "./measured-files.ts";
import { applyOverrides, type Override } from "./overrides.ts";
import { readScenarioText, type ScenarioSource } from "./read.ts";
import { placed, resolveScenario } from "./resolve.ts";
import type { ResolvedScenario } from "./types.ts";
import { validateShape } from "./validate.ts";

/**
 * Scenario text, YAML or JSON, to everything a run uses. Overrides are set before anything is checked.
 *
 * @param fileName as the user named it: it stands in front of every problem and gives the scenario its name
 * @param readMeasuredFile gives the values of a `measuredFile`; without it such a scenario is refused
 * @throws InputError with every problem found, each with its line
 */
export function parseScenario(
  text: string,
  fileName: string,
  overrides: readonly Override[] = [],
  readMeasuredFile: MeasuredFileReader | null = null,
): ResolvedScenario {
  return resolveSource(readScenarioText(text, fileName), overrides, readMeasuredFile);
}

/** The same from text that was taken apart already, such as one that a page sets other values in over and over. */
export function resolveSource(
  { content, fileName, locate }: ScenarioSource,
  overrides: readonly Override[],
  readMeasuredFile: MeasuredFileReader | null,
): ResolvedScenario {
  const changed = applyOverrides(content, overrides);
  return resolveContent(expandMeasuredFiles(changed, readMeasuredFile), fileName, locate);
}

/** The same from content that was read already, such as one that a study changes over and over. */
export function resolveContent(
  content: unknown,
  fileName: string,
  locate?: (path: string) => number | undefined,
): ResolvedScenario {
  const { document, problems } = validateShape(content);
  if (document === null) {
    throw new InputError(problems.map((problem) => placed(problem, fileName, locate)));
  }
  const resolved = resolveScenario(document, { fileName, locate, problems });
  return Object.freeze({ ...resolved, content: structuredClone(content) });
}
