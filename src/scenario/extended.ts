import type { Dimension } from "../units/dimension.ts";
import { parseQuantity, type QuantityOptions } from "../units/quantity.ts";
import { assumed } from "./assumptions.ts";
import { readDrawn } from "./drawn.ts";
import type { Ledger } from "./ledger.ts";
import { resolveStateNames } from "./requirements.ts";
import type { Running } from "./running.ts";
import type { ScenarioDocument } from "./schema.ts";
import type { Drawn, Quantity } from "./schema-drawn.ts";
import type { ExtendedEntry, LoadEntry } from "./schema-requests.ts";
import type { Bearing, ChainMember, ExtendedRequest, ExternalLoad, InternalUnit, VariableIndex } from "./types.ts";
import { addVariable, unknownValue } from "./variables.ts";
import { usualRange, valueWords } from "./words.ts";

type Widths = readonly Pick<Bearing, "widthMm" | "inner" | "outer">[];

/** What is asked beyond the preload; null when nothing is. */
export function resolveExtended(
  ledger: Ledger,
  document: Pick<ScenarioDocument, "extended" | "lubrication">,
  chain: readonly ChainMember[],
  bearings: Widths,
  running: readonly (Running | null)[],
  states: readonly string[],
): ExtendedRequest | null {
  const { extended } = document;
  if (extended === undefined) return null;
  const number = (
    key: string,
    written: Quantity | undefined,
    fallback: number,
    options: QuantityOptions,
    kind: Dimension,
  ) =>
    written === undefined
      ? fallback
      : ledger.attempt(() => parseQuantity(written, kind, `extended.${key}`, options), Number.NaN);
  const samples = extended.samples ?? assumed.extendedSamples.samples;
  if (!(Number.isInteger(samples) && samples >= 1 && samples <= 1e7)) {
    ledger.problem({
      code: "out-of-range",
      path: "extended.samples",
      expected: "a whole number from 1 to 10000000",
      got: String(samples),
    });
  }
  const spanMm = resolveSpan(ledger, extended, chain, bearings);
  const { probe } = extended;
  const length: QuantityOptions = { bareUnit: "mm", low: -10_000, high: 10_000 };
  const radius: QuantityOptions = { bareUnit: "mm", low: 0, high: 10_000 };
  const shoulderRatio = number(
    "shoulder",
    extended.shoulder,
    assumed.shoulder.ratio,
    { low: 0, openLow: true, high: 0.5 },
    "ratio",
  );
  ledger.note({
    path: "extended.shoulder",
    label: "height of the groove shoulder over the ball diameter",
    value: valueWords(shoulderRatio, "1"),
    origin: extended.shoulder === undefined ? "assumption" : "given",
    source: extended.shoulder === undefined ? assumed.shoulder.why : "",
  });
  ledger.note({
    path: "extended.samples",
    label: "units that stiffness, life and the like are worked out for",
    value: String(samples),
    origin: extended.samples === undefined ? "assumption" : "given",
    source: extended.samples === undefined ? assumed.extendedSamples.why : "",
  });
  return {
    samples,
    spanMm,
    loads: (extended.loads ?? []).map((entry, index) => resolveLoad(ledger, entry, index, states)),
    probe: {
      radiusMm: number("probe.radius", probe?.radius, 0, radius, "length"),
      atMm: number("probe.at", probe?.at, 0, length, "length"),
      sideLoadN: number("probe.sideLoad", probe?.sideLoad, assumed.sideLoad.forceN, { low: 0, openLow: true }, "force"),
    },
    speeds: running.map((entry) => entry?.speed ?? 0),
    viscosities: running.map((entry) => entry?.viscosity ?? 0),
    lubrication: document.lubrication ?? "grease",
    rotatingRing: extended.rotating ?? "inner",
    shoulderRatio,
  };
}

/** Distance of the ball planes: shoulder spacing and half ring widths of both sides, averaged, unless given. */
function resolveSpan(ledger: Ledger, { span }: ExtendedEntry, chain: readonly ChainMember[], bearings: Widths): number {
  const path = "extended.span";
  const sums = { housing: 0, shaft: 0 };
  for (const { side, factor, length, name } of chain) {
    if (/^half the ring width of bearing/.test(name)) continue;
    const { low, high } = usualRange(ledger.distribution(length));
    sums[side] += factor * 0.5 * (low + high);
  }
  for (const { widthMm, inner, outer } of bearings) {
    sums.housing += (outer.seatSide === "inboard" ? 0.5 : -0.5) * widthMm;
    sums.shaft += (inner.seatSide === "inboard" ? 0.5 : -0.5) * widthMm;
  }
  const derivedMm = Number((0.5 * (sums.housing + sums.shaft)).toPrecision(6));
  const options = { bareUnit: "mm", low: 0, openLow: true, high: 10_000 };
  const spanMm =
    span === undefined ? derivedMm : ledger.attempt(() => parseQuantity(span, "length", path, options), Number.NaN);
  const leastMm = 0.5 * bearings.reduce((sum, { widthMm }) => sum + widthMm, 0);
  if (spanMm < leastMm * 0.999) {
    ledger.problem({
      code: "impossible-geometry",
      path,
      expected: `a distance of the ball planes of at least ${valueWords(leastMm, "mm")}, the bearings side by side`,
      got: valueWords(spanMm, "mm"),
      hint: span === undefined ? "The chain does not tell it: give extended.span" : undefined,
    });
  }
  ledger.note({
    path,
    label: "distance of the ball planes",
    value: valueWords(spanMm, "mm"),
    origin: span === undefined ? "derived" : "given",
    source: span === undefined ? "shoulder spacings of the chain and half ring widths" : "",
  });
  return spanMm;
}

function resolveLoad(ledger: Ledger, entry: LoadEntry, index: number, states: readonly string[]): ExternalLoad {
  const base = `extended.loads.${index}`;
  const name = entry.name ?? `load ${index + 1}`;
  if (entry.radial === undefined && entry.axial === undefined && entry.moment === undefined) {
    ledger.problem({ code: "missing", path: base, expected: "radial, axial or moment", got: "nothing" });
  }
  const needsPlace = (["moment", "radial"] as const).find((key) => entry[key] !== undefined);
  if (needsPlace !== undefined && entry.at === undefined) {
    ledger.problem({
      code: "missing",
      path: `${base}.at`,
      expected: `the position of the ${needsPlace === "moment" ? "moment" : "radial load"} along the shaft from the middle of the pair, such as "35 mm"`,
      got: "nothing",
    });
  }
  const length = (key: "at" | "radius", low: number) => {
    const written = entry[key];
    if (written === undefined) return 0;
    const options = { bareUnit: "mm", low, high: 10_000 };
    return ledger.attempt(() => parseQuantity(written, "length", `${base}.${key}`, options), Number.NaN);
  };
  const add = (key: "radial" | "axial" | "moment", unit: InternalUnit): VariableIndex | null => {
    const written = entry[key];
    if (written === undefined) return null;
    const dimension = key === "moment" ? "torque" : "force";
    const value = ledger.attempt(
      () => readDrawn(written as Drawn, { dimension, path: `${base}.${key}` }),
      unknownValue(),
    );
    return addVariable(ledger, {
      name: `${base}.${key}`,
      label: `${key === "moment" ? "moment" : `${key} load`} of ${name}`,
      group: "external load",
      groupLabel: `the ${name}`,
      unit,
      value,
      origin: "given",
      source: value.how,
    });
  };
  return {
    name,
    states: resolveStateNames(ledger, entry.states, states, `${base}.states`),
    atMm: length("at", -10_000),
    radiusMm: length("radius", 0),
    radial: add("radial", "N"),
    axial: add("axial", "N"),
    moment: add("moment", "N.mm"),
  };
}
