import { OUTCOMES, type Outcome } from "../model/outcome.ts";
import { type Markup, raw } from "./html.ts";

/**
 * How a class is drawn: a colour and a hatch, so that no meaning hangs on colour alone. Colours are names of style
 * properties (see style.ts), which is what lets one picture serve light, dark and paper.
 */
export interface Look {
  readonly fill: string;
  readonly ink: string;
  readonly hatch: string | null;
}

export const LOOKS: Readonly<Record<Outcome | "service" | "scrap", Look>> = {
  reversed: { fill: "var(--reversed)", ink: "var(--on-dark)", hatch: "url(#hatch-cross-pale)" },
  play: { fill: "var(--play)", ink: "var(--on-light)", hatch: "url(#hatch-dots)" },
  light: { fill: "var(--light)", ink: "var(--on-light)", hatch: "url(#hatch-fall)" },
  target: { fill: "var(--target)", ink: "var(--on-dark)", hatch: null },
  heavy: { fill: "var(--heavy)", ink: "var(--on-light)", hatch: "url(#hatch-rise)" },
  bind: { fill: "var(--bind)", ink: "var(--on-dark)", hatch: "url(#hatch-upright-pale)" },
  scrap: { fill: "var(--scrap)", ink: "var(--on-dark)", hatch: "url(#hatch-rise-pale)" },
  service: { fill: "var(--service)", ink: "var(--on-dark)", hatch: "url(#hatch-dots-pale)" },
};

/** In the order of rising offset, which is the order of the bars. */
export const OUTCOME_ORDER: readonly Outcome[] = OUTCOMES;

/** The hatches, once a page; the figures refer to them. */
export function hatches(): Markup {
  const line = (path: string, ink: string) => `<path d="${path}" stroke="${ink}" stroke-width="1.2" fill="none"/>`;
  const pattern = (id: string, body: string) =>
    `<pattern id="${id}" width="8" height="8" patternUnits="userSpaceOnUse">${body}</pattern>`;
  const set = (suffix: string, ink: string) => [
    pattern(`hatch-rise${suffix}`, line("M-2,2 l4,-4 M0,8 l8,-8 M6,10 l4,-4", ink)),
    pattern(`hatch-fall${suffix}`, line("M-2,6 l4,4 M0,0 l8,8 M6,-2 l4,4", ink)),
    pattern(`hatch-cross${suffix}`, line("M0,8 l8,-8 M0,0 l8,8", ink)),
    pattern(`hatch-upright${suffix}`, line("M4,0 v8", ink)),
    pattern(`hatch-dots${suffix}`, `<circle cx="4" cy="4" r="1.3" fill="${ink}"/>`),
  ];
  const patterns = [...set("", "var(--hatch)"), ...set("-pale", "var(--hatch-pale)")].join("");
  return raw(
    `<svg class="hatches" width="0" height="0" aria-hidden="true" focusable="false"><defs>${patterns}</defs></svg>`,
  );
}

/** A sample of a look for a legend; the words stand beside it. */
export function swatch(look: Look): Markup {
  const box = (fill: string) => `<rect width="22" height="14" rx="2" fill="${fill}"/>`;
  return raw(
    `<svg class="swatch" width="22" height="14" viewBox="0 0 22 14" aria-hidden="true">${box(look.fill)}${
      look.hatch === null ? "" : box(look.hatch)
    }</svg>`,
  );
}

/** A sample of a line for a legend. */
export function lineSwatch(stroke: string, dashes: string): Markup {
  const line = `<path d="M1,7 H25" stroke="${stroke}" stroke-width="2.5" stroke-dasharray="${dashes}"/>`;
  return raw(`<svg class="swatch" width="26" height="14" viewBox="0 0 26 14" aria-hidden="true">${line}</svg>`);
}
