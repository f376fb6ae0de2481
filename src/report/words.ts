import type { Flag, Outcome } from "../model/outcome.ts";
import type { InternalUnit, Origin, PreloadMethod } from "../scenario/types.ts";
import type { Share, StateResult } from "../studies/result.ts";
import {
  formatFixed,
  formatForce,
  formatMicrometres,
  formatPercent,
  formatPercentEnds,
  formatSignificant,
  formatTemperature,
} from "../units/format.ts";

/** Where a figure does not exist. Never "NaN". */
export const NOTHING = "–";

/** A figure must not part from its unit at the end of a line. */
function held(text: string): string {
  return text.replaceAll(" ", "\u00a0");
}

/** A number with so many decimals, a real minus sign and thousands set apart. */
export function decimal(value: number, decimals: number): string {
  return Number.isFinite(value) ? formatFixed(value, decimals) : NOTHING;
}

/** Rounded to significant digits. */
export function significant(value: number, digits = 3): string {
  return Number.isFinite(value) ? formatSignificant(value, digits) : NOTHING;
}

export function count(value: number): string {
  return decimal(Math.round(value), 0);
}

/** `1 unit`, `400 units`. */
export function units(value: number): string {
  return `${count(value)} ${Math.round(value) === 1 ? "unit" : "units"}`;
}

/** A number on an axis: as short as it can be told apart from its neighbours. */
export function tick(value: number): string {
  const [, fraction = ""] = String(Number(value.toPrecision(6))).split(".");
  return decimal(value, Math.min(fraction.length, 6));
}

/** Micrometres from mm. */
export function micrometres(mm: number): string {
  return Number.isFinite(mm) ? held(formatMicrometres(mm, Math.abs(mm) >= 0.09995 ? 0 : 1)) : NOTHING;
}

export function newtons(value: number): string {
  return Number.isFinite(value) ? held(formatForce(value)) : NOTHING;
}

/** A limit as it was set: 40 N, not 40.0 N. */
export function tidyNewtons(value: number): string {
  return newtons(value).replace(/\.0+(?=\D)/, "");
}

export function celsius(value: number): string {
  return Number.isFinite(value) ? held(formatTemperature(value)) : NOTHING;
}

/** A ratio in per cent; below 0.1 % in parts per million. */
export function percent(ratio: number): string {
  return Number.isFinite(ratio) ? held(formatPercent(ratio)) : NOTHING;
}

/** Without a decimal that says nothing: 90 %, but 99.5 %. */
export function tidyPercent(ratio: number): string {
  return percent(ratio).replace(/\.0+(?=\D)/, "");
}

/** Percent in running text: no decimal that nobody needs. */
export function roundPercent(ratio: number): string {
  return ratio >= 0.1 && ratio <= 0.995 ? `${decimal(ratio * 100, 0)}\u00a0%` : percent(ratio);
}

export function points(ratio: number): string {
  const value = ratio * 100;
  const decimals = Math.abs(value) >= 9.95 ? 0 : 1;
  const text = decimal(value, decimals);
  return `${text} ${text === "1.0" || text === "1" ? "point" : "points"}`;
}

/** `27.4 % to 27.8 %`, with as many decimals as tell the ends apart. */
export function interval({ lowRatio, highRatio }: { readonly lowRatio: number; readonly highRatio: number }): string {
  const [low, high] = formatPercentEnds(lowRatio, highRatio).map(held);
  return `${low} to ${high}`;
}

/** Whether a share says no more than that nothing was seen. */
export function isNothing({ count, method }: Share): boolean {
  return count === 0 && method !== "importance" && method !== "subset";
}

/** The share alone, for a table that has its interval beside it. */
export function shareValue(share: Share): string {
  return isNothing(share) ? "none" : percent(share.shareRatio);
}

/** The interval of a share; of a count of nothing, the bound it leaves. */
export function shareInterval(share: Share): string {
  if (!isNothing(share)) return interval(share);
  return Number.isFinite(share.highRatio) ? `below ${percent(share.highRatio)}` : NOTHING;
}

/** The share, or the bound that a count of nothing leaves. */
export function shareText(share: Share): string {
  if (isNothing(share)) return Number.isFinite(share.highRatio) ? `none (below ${percent(share.highRatio)})` : "none";
  return percent(share.shareRatio);
}

export function quantity(value: number, unit: InternalUnit): string {
  if (!Number.isFinite(value)) return NOTHING;
  if (unit === "mm") return micrometres(value);
  if (unit === "N") return newtons(value);
  if (unit === "degC") return celsius(value);
  if (unit === "rad") return Number.isFinite(value) ? `${decimal((value * 180) / Math.PI, 1)}°` : NOTHING;
  if (unit === "N/mm" && Math.abs(value) >= 1000) return `${significant(value / 1000, 3)}\u00a0N/µm`;
  if (unit === "N.mm/rad") return `${significant(value / 1e6, 3)}\u00a0N·m/mrad`;
  if (unit === "MPa" || unit === "h" || unit === "N/mm") return `${significant(value, 3)}\u00a0${unit}`;
  if (unit === "N.mm") return `${significant(value, 3)}\u00a0N·mm`;
  return Number.isFinite(value) ? `${significant(value)}${unit === "1" ? "" : `\u00a0${unit}`}` : NOTHING;
}

/** `a`, `a and b`, `a, b and c`. */
export function listing(items: readonly string[]): string {
  if (items.length < 2) return items.join("");
  return `${items.slice(0, -1).join(", ")} and ${items.at(-1)}`;
}

export function capital(text: string): string {
  return text.charAt(0).toUpperCase() + text.slice(1);
}

/** No longer than fits where it stands; a bracket at the end, which tells like labels apart, is kept where it can be. */
export function clip(text: string, most: number): string {
  if (text.length <= most) return text;
  const ending = / \([^()]*\)$/.exec(text)?.[0] ?? "";
  const kept = ending.length <= 0.6 * most ? ending : "";
  return `${text.slice(0, Math.max(most - 1 - kept.length, 1)).trimEnd()}…${kept}`;
}

/** Names of the classes, as a heading or a label. */
export const OUTCOME_NAMES: Readonly<Record<Outcome, string>> = {
  reversed: "wrong way round",
  play: "no preload",
  light: "too light",
  target: "in the window",
  heavy: "too heavy",
  bind: "binds",
};

/** What units of a class do, after "they". */
export const OUTCOME_DEEDS: Readonly<Record<Outcome, string>> = {
  reversed: "load the bearings the wrong way round",
  play: "lose their preload",
  light: "are preloaded too lightly",
  target: "are in the window",
  heavy: "are preloaded too heavily",
  bind: "bind",
};

/** Where a unit fails although its preload is in the window: it misses a requirement. */
const MISS_NAME = "misses a requirement";

/** Name of what a unit fails by. */
export function causeName(outcome: Outcome): string {
  return outcome === "target" ? MISS_NAME : OUTCOME_NAMES[outcome];
}

/** What units that fail do, after "they". */
export function causeDeed(outcome: Outcome): string {
  return outcome === "target" ? "miss a requirement" : OUTCOME_DEEDS[outcome];
}

/** The window of the preload; without one any preload short of binding will do. */
export function windowWords({ lowN, bindN, highN }: { lowN: number; highN: number; bindN: number }): string {
  return lowN === 0 && highN === bindN ? "any preload" : `${tidyNewtons(lowN)} to ${tidyNewtons(highN)}`;
}

export const OUTCOME_MEANINGS: Readonly<Record<Outcome, string>> = {
  reversed: "the rings are so far out that the other faces of the grooves carry",
  play: "axial play is left; nothing loads the balls",
  light: "preloaded, below the window",
  target: "preload inside the window, both ends included",
  heavy: "above the window, below the bind limit",
  bind: "at or past the bind limit",
};

/** Whether the offset is set on each unit by a device, whatever its parts measure. */
export function isSetByDevice(method: PreloadMethod["kind"]): boolean {
  return method === "adjuster" || method === "shim";
}

/** Completes "in 3 % of the units …". */
export const FLAG_SENTENCES: Readonly<Record<Flag, string>> = {
  "inner-seat-lost-a": "the inner ring of bearing a is loose on the shaft",
  "inner-seat-lost-b": "the inner ring of bearing b is loose on the shaft",
  "outer-seat-lost-a": "the outer ring of bearing a is loose in the housing",
  "outer-seat-lost-b": "the outer ring of bearing b is loose in the housing",
  "ring-walk": "the preload pushes a ring off its shoulder, because the fit cannot hold it",
  "clamp-exceeded": "the preload would be more than the clamp can hold, and a ring lifts off its seat",
  "bind-by-pressure": "a ball is pressed past the limit of Hertz pressure",
  "spring-solid": "the spring is pressed solid, and the stiff parts set the preload",
  "spring-stuck": "the ring that the spring must slide is held by its fit, and the spring is bypassed",
  "thermal-runaway": "friction heat tightens the pair faster than it can leave, until it binds (thermal runaway)",
};

export const ORIGIN_NAMES: Readonly<Record<Origin, string>> = {
  given: "given",
  catalogue: "catalogue",
  standard: "standard",
  assumption: "assumption",
  derived: "derived",
};

/** Label of a state by its name, for figures and sentences. */
export function stateLabel(states: readonly StateResult[], name: string): string {
  return states.find((state) => state.name === name)?.label ?? name;
}

/** `at the bench`, `at hot`: where a state stands in a sentence. */
export function inState(states: readonly StateResult[], name: string): string {
  const state = states.find((candidate) => candidate.name === name);
  if (state === undefined) return `at ${name}`;
  if (state.isAfterService) return "back at the bench after service";
  return state.isBench ? "at the bench" : `in the state “${state.label}”`;
}
