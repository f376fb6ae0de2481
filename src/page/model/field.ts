import { readDrawingText } from "./drawing-text.ts";

/** One control: where its value stands in the scenario and how it is given. */
export interface Field {
  readonly path: string;
  readonly label: string;
  /** `limits`: nominal and tolerance by slider, and the text; `text`: as in the file; `choice`: one of some. */
  readonly kind: "limits" | "text" | "choice";
  readonly hint?: string;
  readonly choices?: readonly Choice[];
  /** What holds where the scenario says nothing. */
  readonly absent?: string;
}

export interface Choice {
  readonly value: unknown;
  readonly words: string;
}

export type Content = Readonly<Record<string, unknown>>;

/** The value at an address; undefined where there is none. */
export function valueAt(content: unknown, path: string): unknown {
  let node: unknown = content;
  for (const part of path.split(".")) {
    if (node === null || typeof node !== "object") return undefined;
    node = Object.hasOwn(node, part) ? (node as Content)[part] : undefined;
  }
  return node;
}

/** A drawn quantity: sliders where it is a nominal with limits, also inside a process with a capability; else its text. */
export function drawnField(content: unknown, path: string, label: string): Field[] {
  const value = valueAt(content, path);
  if (readDrawingText(value) !== null) return [{ path, label, kind: "limits" }];
  const limits = valueAt(value, "limits");
  if (readDrawingText(limits) !== null) return [{ path: `${path}.limits`, label, kind: "limits" }];
  if (typeof value === "string" || value === undefined) return [{ path, label, kind: "text" }];
  return Object.entries(value as Content).flatMap(([family, parameters]) =>
    parameters !== null && typeof parameters === "object" && !Array.isArray(parameters)
      ? Object.entries(parameters)
          .filter(([, part]) => typeof part === "string" || typeof part === "number")
          .map(([name]) => ({ path: `${path}.${family}.${name}`, label: `${label}, ${name}`, kind: "text" as const }))
      : [],
  );
}
