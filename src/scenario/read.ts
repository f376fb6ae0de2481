import { isMap, isScalar, isSeq, LineCounter, type Node, parseDocument } from "yaml";
import { InputError } from "../errors.ts";

/** A scenario is a page of text; anything far beyond is not one. */
export const LARGEST_SCENARIO_CHARACTERS = 1_000_000;

/** How often anchors may be repeated in all, so that a few lines cannot swell to gigabytes. */
const LARGEST_ALIAS_COUNT = 100;

/** A scenario is at most six levels deep; the parser itself falls over at some thousands. */
const DEEPEST_NESTING = 50;

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
  refuseDeepNesting(text, fileName);
  const lineCounter = new LineCounter();
  const document = attempt(fileName, text, () =>
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
  const content: unknown = attempt(fileName, text, () => document.toJS({ maxAliasCount: LARGEST_ALIAS_COUNT }));
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

/** Counts brackets, and list or key marks at the front of a line, before the parser sees them; both nest without indentation. */
function refuseDeepNesting(text: string, fileName: string): void {
  let depth = 0;
  let deepest = 0;
  for (const character of text) {
    if (character === "[" || character === "{") depth++;
    else if ((character === "]" || character === "}") && depth > 0) depth--;
    deepest = Math.max(deepest, depth);
  }
  const marks = new RegExp(`^[ ]*(?:[-?:][ \\t]+){${DEEPEST_NESTING}}`, "m");
  if (deepest <= DEEPEST_NESTING && !marks.test(text)) return;
  throw new InputError({
    code: "syntax",
    path: "",
    expected: `values nested at most ${DEEPEST_NESTING} deep`,
    got: "more",
    file: fileName,
  });
}

function attempt<T>(fileName: string, text: string, action: () => T): T {
  try {
    return action();
  } catch (error) {
    const message = error instanceof Error ? error.message : String(error);
    if (/Excessive alias/i.test(message)) {
      throw new InputError({
        code: "too-large",
        path: "",
        expected: `anchors that are repeated at most ${LARGEST_ALIAS_COUNT} times in all`,
        got: "more",
        file: fileName,
        hint: "Write the values out.",
      });
    }
    const alias = /Unresolved alias.*: (\S+)$/.exec(message)?.[1];
    const offset = alias === undefined ? -1 : text.indexOf(`*${alias}`);
    throw new InputError({
      code: "syntax",
      path: "",
      expected: "readable YAML",
      got: plain(message),
      file: fileName,
      line: offset < 0 ? undefined : text.slice(0, offset).split("\n").length,
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
