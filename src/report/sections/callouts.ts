import type { ResolvedInput } from "../../scenario/types.ts";
import type { RunResult } from "../../studies/result.ts";
import { copyButton } from "../copy-button.ts";
import { html, type Markup } from "../html.ts";
import { drawingWords } from "../verdict/change.ts";
import { tidyPercent, windowWords } from "../words.ts";
import { alikeLines } from "./inputs.ts";

type Result = Omit<RunResult, "verdict">;

/** What the machine shop is told: one line each, to be copied onto the drawing. */
export function calloutSection(result: Result): Markup {
  const lines = calloutLines(result).map(({ label, value }) => `${label}: ${value}`);
  return html`<div class="callouts"><h3>Callouts for the drawing</h3>
<pre id="callouts" tabindex="0" aria-label="Callouts for the drawing">${lines.join("\n")}</pre>
${copyButton("callouts", "Copy the callouts")}</div>
`;
}

interface Callout {
  readonly label: string;
  readonly value: string;
}

/** Bearings, seats, spacings as drawn, clamp and what it is all for. */
export function calloutLines(result: Result): Callout[] {
  const { inputs, requiredYieldRatio } = result;
  const of = (pattern: RegExp) => alikeLines(inputs.filter(({ path }) => pattern.test(path)));
  const inputAt = (path: string) => inputs.find((input) => input.path === path);
  const bearings = alikeLines(
    inputs
      .filter(({ path }) => /^bearings\.[ab]\.boundary$/.test(path))
      .map((input) => ({ ...input, value: bearingWords(input, inputAt), source: "" })),
  );
  return [
    ...bearings.map(({ label, input }) => ({ label: label.replace(/^.* of /, ""), value: input.value })),
    ...of(/^seats\.(?:shaft|housing)\.[ab]\.diameter$/).map(({ label, input }) => ({
      label,
      value: withoutLaw(input.value),
    })),
    ...of(/^chain\.(?!.*\.(?:place|material)$)/).map(({ label, input }) => ({
      label,
      value: asDrawn(result.scenario, input.path) ?? withoutLaw(input.value),
    })),
    ...of(/^preload\.method$/).map(({ label, input }) => ({ label, value: input.value })),
    ...of(/^clamp\.force$/).map(({ label, input }) => ({ label, value: withoutLaw(input.value) })),
    { label: "preload wanted in every state", value: windowWords(result.limits) },
    ...(requiredYieldRatio === null ? [] : [{ label: "yield required", value: tidyPercent(requiredYieldRatio) }]),
    { label: "to be changed", value: drawingWords(result) },
  ];
}

/** Boundary dimensions, clearance group and tolerance class; what is no standard's is given in figures. */
function bearingWords(boundary: ResolvedInput, inputAt: (path: string) => ResolvedInput | undefined): string {
  const at = (name: string) => inputAt(boundary.path.replace(/boundary$/, name));
  const clearance = at("clearance") ?? at("contactAngle");
  const group = /\bgroup (\w+)/.exec(clearance?.source ?? "")?.[1];
  const classOf = /\bclass (\w+)/.exec(at("bore")?.source ?? "")?.[1];
  return [
    boundary.value,
    ...(group !== undefined
      ? [`clearance group ${group} (${withoutLaw(clearance!.value)})`]
      : clearance === undefined
        ? []
        : [`${clearance.label.replace(/ of bearings? .*$/, "")} ${withoutLaw(clearance.value)}`]),
    ...(classOf === undefined ? [] : [`tolerance class ${classOf}`]),
  ].join(", ");
}

/** `31.766 ±0.004 mm`, as it stands in the scenario; null where it is no text of a drawing. */
function asDrawn(content: unknown, path: string): string | null {
  const chain = (content as { chain?: unknown } | null)?.chain;
  if (!Array.isArray(chain)) return null;
  const member = chain.find(({ name }: { name?: unknown }) => `chain.${String(name)}` === path);
  const length: unknown = member?.length?.limits ?? member?.length;
  if (typeof length === "number") return `${length} mm`;
  if (typeof length !== "string") return null;
  return /[a-zµ]/i.test(length) ? length.replace(/\bum\b/, "µm") : `${length} mm`;
}

/** Limits alone: how units spread between them is no business of a drawing. */
function withoutLaw(value: string): string {
  return value.replace(/, (?:truncated )?[a-z][a-z -]*$/, "");
}
