import { expandMeasuredFiles, type MeasuredFileReader } from "./measured-files.ts";
import { applyOverrides, type Override } from "./overrides.ts";
import { resolveContent } from "./parse.ts";
import { readScenarioText } from "./read.ts";
import type { ResolvedScenario } from "./types.ts";

/** A scenario that a study changes over and over: its content is read once and resolved with each set of changes. */
export interface VariableScenario {
  readonly fileName: string;
  /** As it stands, with what the command line sets. */
  readonly base: ResolvedScenario;
  /** The same with some values set, checked like a file. */
  vary(changes: readonly Override[]): ResolvedScenario;
  /** Changes with the values of measured files in place of their names. */
  expand(changes: readonly Override[]): readonly Override[];
  /** What is written at an address, or undefined. */
  at(path: string): unknown;
}

/**
 * Opens a scenario for variants.
 *
 * @throws InputError as `parseScenario`
 */
export function openScenario(
  text: string,
  fileName: string,
  overrides: readonly Override[] = [],
  readMeasuredFile: MeasuredFileReader | null = null,
): VariableScenario {
  const { content, locate } = readScenarioText(text, fileName);
  return openContent(applyOverrides(content, overrides), fileName, locate, readMeasuredFile);
}

/** The same from content that was read already, such as that of an earlier result. */
export function openContent(
  content: unknown,
  fileName: string,
  locate?: (path: string) => number | undefined,
  readMeasuredFile: MeasuredFileReader | null = null,
): VariableScenario {
  const expanded = expandMeasuredFiles(content, readMeasuredFile);
  return {
    fileName,
    base: resolveContent(expanded, fileName, locate),
    vary: (changes) =>
      resolveContent(expandMeasuredFiles(applyOverrides(expanded, changes), readMeasuredFile), fileName, locate),
    expand: (changes) =>
      changes.map(({ path, value }) => {
        const { value: expandedValue } = expandMeasuredFiles({ value }, readMeasuredFile) as { value: unknown };
        return { path, value: expandedValue };
      }),
    at: (path) => valueAt(expanded, path),
  };
}

function valueAt(root: unknown, path: string): unknown {
  let node = root;
  for (const part of path.split(".")) {
    if (Array.isArray(node)) {
      node = /^\d+$/.test(part) ? node[Number(part)] : node.find((item) => item?.name === part);
    } else if (node !== null && typeof node === "object" && Object.hasOwn(node, part)) {
      node = (node as Record<string, unknown>)[part];
    } else return undefined;
  }
  return node;
}
