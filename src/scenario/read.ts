import { isMap, isScalar, isSeq, LineCounter, type Node, parseDocument } from "yaml";
import { InputError } from "../errors.ts";

/** A scenario is a page of text; anything far beyond is not one. */
export const LARGEST_SCENARIO_CHARACTERS = 1_000_000;

/** How often anchors may be repeated in all, so that a few lines cannot swell to gigabytes. */
const LARGEST_ALIAS_COUNT = 100;

/** Scenario text taken apart, with a way back to the line a value stands in. */
export interface ScenarioSource {
  readonly fileName: string;
  /** Plain objects, arrays, strings, numbers, booleans and null; not yet checked. */
  readonly content: unknown;
  /** 1-based line of an address such as `bearings.a.clearance`, or of the nearest thing around it. */
  readonly locate: (path: string) => number | undefined;
}

/**
 * Takes YAML (1.2) or JSON text apart. Nothing of it is trusted: size, repeated anchors and depth are limited.
 *
 * @throws InputError `too-large` or `syntax`, with the line
 */
export function readScenarioText(text: string, fileName: string): ScenarioSource {
  if (text.length > LARGEST_SCENARIO_CHARACTERS) {
    throw new InputError({
      code: "too-large",
      path: "",
      expected: `a scenario of at most ${LARGEST_SCENARIO_CHARACTERS / 1e6} MB`,
      got: `${(text.length / 1e6).toPrecision(3)} MB`,
      file: fileName,
      hint: "Is this a scenario file?",
    });
  }
  const lineCounter = new LineCounter();
  const document = attempt(fileName, () =>
    parseDocument(text, { lineCounter, uniqueKeys: true, prettyErrors: false, strict: true, version: "1.2" }),
  );
  const wrong = [...document.errors, ...document.warnings];
  if (wrong.length > 0) {
    throw new InputError(
      wrong.slice(0, 20).map((error) => ({
        code: "syntax" as const,
        path: "",
        expected: "well-formed YAML or JSON",
        got: plain(error.message),
        file: fileName,
        line: lineCounter.linePos(error.pos[0]).line,
        hint: syntaxHint(error.code, error.message),
      })),
    );
  }
  const content: unknown = attempt(fileName, () => document.toJS({ maxAliasCount: LARGEST_ALIAS_COUNT }));
  if (content === null || typeof content !== "object" || Array.isArray(content)) {
    throw new InputError({
      code: "wrong-type",
      path: "",
      expected: "a scenario: keys such as seatspread, arrangement, bearings, chain, seats",
      got: content === null ? "an empty file" : Array.isArray(content) ? "a list" : String(content),
      file: fileName,
    });
  }
  const root = document.contents as Node;
  return { fileName, content, locate: (path) => lineOf(root, path, lineCounter) };
}

function attempt<T>(fileName: string, action: () => T): T {
  try {
    return action();
  } catch (error) {
    const message = error instanceof Error ? error.message : String(error);
    const aliases = /alias/i.test(message);
    throw new InputError({
      code: aliases ? "too-large" : "syntax",
      path: "",
      expected: aliases ? `anchors that are repeated at most ${LARGEST_ALIAS_COUNT} times in all` : "readable YAML",
      got: error instanceof RangeError ? "values nested too deep" : plain(message),
      file: fileName,
      hint: aliases ? "Write the values out." : undefined,
    });
  }
}

function plain(message: string): string {
  return message.replace(/\s+/g, " ").trim();
}

function syntaxHint(code: string, message: string): string | undefined {
  if (code === "DUPLICATE_KEY") return "Each key may stand only once; remove one of the two";
  if (/tab/i.test(message)) return "Indent with spaces";
  if (/Nested mappings|implicit map|compact map/i.test(message)) return "Put text with a colon in quotes";
  return undefined;
}

/** Line of the deepest part of an address that exists; list elements go by their number or by their `name`. */
function lineOf(root: Node, path: string, lineCounter: LineCounter): number | undefined {
  let node: unknown = root;
  let offset: number | undefined;
  for (const part of path === "" ? [] : path.split(".")) {
    if (isMap(node)) {
      const pair = node.items.find((item) => isScalar(item.key) && String(item.key.value) === part);
      if (pair === undefined) break;
      offset = (pair.key as Node).range?.[0] ?? offset;
      node = pair.value;
    } else if (isSeq(node)) {
      const element: unknown = /^\d+$/.test(part)
        ? node.items[Number(part)]
        : node.items.find((item) => isMap(item) && String(item.get("name")) === part);
      if (element === undefined || element === null) break;
      offset = (element as Node).range?.[0] ?? offset;
      node = element;
    } else break;
  }
  return offset === undefined ? undefined : lineCounter.linePos(offset).line;
}
