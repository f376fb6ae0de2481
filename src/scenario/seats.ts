import { SMOOTHING_RATIO } from "../catalogue/defaults.ts";
import { iso286Limits } from "../catalogue/iso286.ts";
import { affine } from "../distributions/affine.ts";
import { InputError } from "../errors.ts";
import { parseQuantity } from "../units/quantity.ts";
import { assumed } from "./assumptions.ts";
import { addMm, type LooseBearing } from "./bearings.ts";
import { type DrawnValue, readDrawn } from "./drawn.ts";
import type { Ledger } from "./ledger.ts";
import { type Merged, mergeEntries } from "./merge.ts";
import type { ScenarioDocument, SeatEntry } from "./schema.ts";
import type { Drawn } from "./schema-drawn.ts";
import type { Material, RingName, RingSeat, SeatSide, Side, VariableIndex } from "./types.ts";
import { addVariable, plainValue, unknownValue } from "./variables.ts";
import { usualRange, valueWords } from "./words.ts";

/**
 * Past these a ring does not survive being pressed on, or rattles: plausibility limits of our own, wide of any fit that is
 * tabulated for rolling bearings. A share of the diameter and a length that are added.
 */
const MOST_INTERFERENCE = { ratio: 0.005, lengthMm: 0.02 };
const MOST_CLEARANCE = { ratio: 0.01, lengthMm: 0.2 };
const ROUGHEST_MM = 0.1;
const SHORT_CODE = /^\s*[A-Za-z]{1,2}\d{1,2}\s*$/;

/** What is common to both seats of one side. */
export interface SeatSideContext {
  readonly side: Side;
  readonly written: Partial<ScenarioDocument["seats"]["shaft"]> & Partial<ScenarioDocument["seats"]["housing"]>;
  readonly material: Material;
  /** The ring that slides under a spring, and the side of it where the spring must stand. */
  readonly sliding: { readonly ring: RingName; readonly towards: SeatSide } | null;
}

/** The seat of one ring: diameters, roughness, where its shoulder is and what else holds it. */
export function resolveSeat(ledger: Ledger, context: SeatSideContext, bearing: LooseBearing): RingSeat {
  const { side, written, material } = context;
  const { key } = bearing;
  const base = `seats.${side}`;
  const merged = mergeEntries<SeatEntry>(written.both, `${base}.both`, written[key], `${base}.${key}`);
  const mateDiameter = addMate(ledger, side, bearing, merged);
  const ringDiameter = side === "shaft" ? bearing.boreDiameter : bearing.outsideDiameter;
  checkFit(ledger, side, bearing, ringDiameter, mateDiameter, merged.pathOf("fit"));
  const ring = side === "shaft" ? "inner" : "outer";
  const slides = context.sliding?.ring === `${ring}-${key}` ? context.sliding : null;
  const seatSide: SeatSide = merged.entry.seatSide ?? slides?.towards ?? "inboard";
  if (slides !== null && seatSide !== slides.towards) {
    ledger.problem({
      code: "conflict",
      path: merged.pathOf("seatSide"),
      expected: `${slides.towards}, where the spring must stand to load the pair through this ring`,
      got: seatSide,
      hint: "Leave seatSide of the sliding ring out, or let another ring slide",
    });
  }
  const retained = merged.entry.retained ?? false;
  ledger.note({
    path: `${base}.${key}.seatSide`,
    label: `shoulder of the ${ring} ring of bearing ${key}`,
    value: `${seatSide}${retained ? ", also held on the other side" : ""}`,
    origin: merged.entry.seatSide === undefined ? "assumption" : "given",
    source:
      merged.entry.seatSide !== undefined
        ? ""
        : slides !== null
          ? "not given: where the spring pushes"
          : "not given: inboard, towards the other bearing",
  });
  return {
    seatSide,
    retained,
    ringDiameter,
    mateDiameter,
    smoothing: addSmoothing(ledger, context, bearing, merged),
    mateMaterial: material,
    mateFarDiameterMm:
      side === "shaft" ? shaftBoreMm(ledger, context, bearing) : housingDiameterMm(ledger, context, bearing),
  };
}

function addMate(
  ledger: Ledger,
  side: Side,
  bearing: LooseBearing,
  { entry, pathOf }: Merged<SeatEntry>,
): VariableIndex {
  const path = pathOf("fit");
  const nominalMm = side === "shaft" ? bearing.boreMm : bearing.outsideDiameterMm;
  const feature = side === "shaft" ? "shaft" : "hole";
  const name = side === "shaft" ? "shaft seat" : "housing bore";
  if (entry.fit === undefined) {
    ledger.problem({
      code: "missing",
      path,
      expected: `the diameter of the ${name}, such as ${side === "shaft" ? '"20 k5" or "20.002 ±0.004"' : '"42 J7" or "42 ±0.01"'}`,
      got: "nothing",
    });
  }
  let code: string | null = null;
  const read = (fit: Drawn): DrawnValue => {
    const value = readDrawn(withNominal(fit, nominalMm), {
      dimension: "length",
      path,
      options: { bareUnit: "mm", low: 0, openLow: true },
      code: (writtenMm, text) => {
        checkNominal(writtenMm, nominalMm, text, side, bearing.key, path);
        const limits = iso286Limits(nominalMm, text, path, feature);
        code = text;
        return { low: addMm(nominalMm, limits.lowMm), high: addMm(nominalMm, limits.highMm), source: limits.source };
      },
    });
    return value;
  };
  const value =
    entry.fit === undefined || Number.isNaN(nominalMm)
      ? unknownValue()
      : ledger.attempt(() => read(entry.fit as Drawn), unknownValue());
  return addVariable(ledger, {
    name: `seats.${side}.${bearing.key}.diameter`,
    label: `${name} of bearing ${bearing.key}${code === null ? "" : ` (${code})`}`,
    group: side === "shaft" ? "shaft seats" : "housing bores",
    groupLabel: side === "shaft" ? "the shaft seats" : "the housing bores",
    unit: "mm",
    value,
    origin: "given",
    source: value.how,
  });
}

/** `k5` alone means the code at the bearing's own nominal size. */
function withNominal(fit: Drawn, nominalMm: number): Drawn {
  if (typeof fit === "string" && SHORT_CODE.test(fit)) return `${nominalMm} ${fit.trim()}`;
  if (typeof fit === "object" && fit.limits !== undefined && SHORT_CODE.test(fit.limits)) {
    return { ...fit, limits: `${nominalMm} ${fit.limits.trim()}` };
  }
  return fit;
}

function checkNominal(writtenMm: number, nominalMm: number, code: string, side: Side, key: string, path: string): void {
  if (Math.abs(writtenMm - nominalMm) < 1e-6) return;
  const what = side === "shaft" ? "bore" : "outside diameter";
  throw new InputError({
    code: "impossible-fit",
    path,
    expected: `the nominal size of the ${what} of bearing ${key}, ${nominalMm} mm`,
    got: `${writtenMm} ${code}`,
    hint: `Did you mean "${nominalMm} ${code}"?`,
  });
}

/** Refuses a seat that the ring cannot be put on, or that does not hold it at all. */
function checkFit(
  ledger: Ledger,
  side: Side,
  bearing: LooseBearing,
  ring: VariableIndex,
  mate: VariableIndex,
  path: string,
): void {
  const ringRange = usualRange(ledger.distribution(ring));
  const mateRange = usualRange(ledger.distribution(mate));
  const nominalMm = side === "shaft" ? bearing.boreMm : bearing.outsideDiameterMm;
  const mostInterferenceMm = side === "shaft" ? mateRange.high - ringRange.low : ringRange.high - mateRange.low;
  const mostClearanceMm = side === "shaft" ? ringRange.high - mateRange.low : mateRange.high - ringRange.low;
  const limit = ({ ratio, lengthMm }: { ratio: number; lengthMm: number }) => ratio * nominalMm + lengthMm;
  const what = `${side === "shaft" ? "bore" : "outside diameter"} of bearing ${bearing.key} (${nominalMm} mm)`;
  if (mostInterferenceMm > limit(MOST_INTERFERENCE)) {
    ledger.problem({
      code: "impossible-fit",
      path,
      expected: `at most ${valueWords(limit(MOST_INTERFERENCE), "mm")} of interference with the ${what}`,
      got: valueWords(mostInterferenceMm, "mm"),
      hint: "Check the diameter and its unit",
    });
  } else if (mostClearanceMm > limit(MOST_CLEARANCE)) {
    ledger.problem({
      code: "impossible-fit",
      path,
      expected: `at most ${valueWords(limit(MOST_CLEARANCE), "mm")} of clearance to the ${what}`,
      got: valueWords(mostClearanceMm, "mm"),
      hint: "Check the diameter and its unit",
    });
  }
}

/** 0.8·(Rz ring + Rz mate), mm on the diameter: what a fit loses when its surfaces are pressed flat (DIN 7190-1). */
function addSmoothing(
  ledger: Ledger,
  { side, written }: SeatSideContext,
  bearing: LooseBearing,
  { entry, pathOf }: Merged<SeatEntry>,
): VariableIndex {
  const { key } = bearing;
  const fallback = side === "shaft" ? assumed.roughnessShaft : assumed.roughnessHousing;
  const roughness = entry.roughness ?? written.roughness;
  const path = entry.roughness === undefined ? `seats.${side}.roughness` : pathOf("roughness");
  const options = { low: 0, high: ROUGHEST_MM };
  const mate =
    roughness === undefined
      ? plainValue({ kind: "constant", value: fallback.roughnessMm }, fallback.why)
      : ledger.attempt(() => readDrawn(roughness, { dimension: "length", path, options }), unknownValue());
  const ringWritten = bearing.entry.entry.ringRoughness;
  const ringMm =
    ringWritten === undefined
      ? assumed.roughnessRing.roughnessMm
      : ledger.attempt(
          () => parseQuantity(ringWritten, "length", bearing.entry.pathOf("ringRoughness"), options),
          Number.NaN,
        );
  const factor = SMOOTHING_RATIO.value;
  const allGiven = roughness !== undefined && ringWritten !== undefined;
  const ring = side === "shaft" ? "inner" : "outer";
  const sources = [
    SMOOTHING_RATIO.source,
    roughness === undefined ? fallback.why : "",
    ringWritten === undefined ? assumed.roughnessRing.why : "",
  ];
  const spread = mate.distribution;
  const exact = (value: number) => Number(value.toFixed(9));
  const distribution =
    spread.kind === "constant"
      ? ({ kind: "constant", value: exact(factor * (spread.value + ringMm)) } as const)
      : affine(spread, factor, factor * ringMm);
  return addVariable(ledger, {
    name: `seats.${side}.${key}.smoothing`,
    label: `smoothing of the ${ring} seat of bearing ${key}`,
    group: "surface smoothing",
    groupLabel: "the smoothing of the seat surfaces",
    unit: "mm",
    value: { ...mate, distribution },
    origin: allGiven ? "derived" : "assumption",
    source: sources.filter((text) => text !== "").join("; "),
  });
}

function shaftBoreMm(ledger: Ledger, { written }: SeatSideContext, bearing: LooseBearing): number {
  const path = "seats.shaft.bore";
  const bore = written.bore;
  const boreMm =
    bore === undefined
      ? assumed.shaftBore.boreMm
      : ledger.attempt(() => parseQuantity(bore, "length", path, { bareUnit: "mm", low: 0 }), Number.NaN);
  if (boreMm >= bearing.boreMm) {
    ledger.problem({
      code: "impossible-geometry",
      path,
      expected: `a bore of the shaft below its seat of ${valueWords(bearing.boreMm, "mm")}`,
      got: String(bore),
    });
  }
  if (bearing.key === "a") {
    ledger.note({
      path,
      label: "bore of the shaft",
      value: boreMm === 0 ? "none" : valueWords(boreMm, "mm"),
      origin: bore === undefined ? "assumption" : "given",
      source: bore === undefined ? assumed.shaftBore.why : "",
    });
  }
  return boreMm;
}

function housingDiameterMm(ledger: Ledger, { written }: SeatSideContext, bearing: LooseBearing): number {
  const path = "seats.housing.outsideDiameter";
  const given = written.outsideDiameter;
  const diameterMm =
    given === undefined
      ? assumed.housingOutsideDiameter.ratioOfBearing * bearing.outsideDiameterMm
      : ledger.attempt(
          () => parseQuantity(given, "length", path, { bareUnit: "mm", low: 0, openLow: true }),
          Number.NaN,
        );
  if (diameterMm <= bearing.outsideDiameterMm) {
    ledger.problem({
      code: "impossible-geometry",
      path,
      expected: `an outside diameter of the housing above the bearing's ${valueWords(bearing.outsideDiameterMm, "mm")}`,
      got: String(given),
    });
  }
  if (given === undefined || bearing.key === "a") {
    ledger.note({
      path,
      label: `outside diameter of the housing${given === undefined ? ` at bearing ${bearing.key}` : ""}`,
      value: valueWords(diameterMm, "mm"),
      origin: given === undefined ? "assumption" : "given",
      source: given === undefined ? assumed.housingOutsideDiameter.why : "",
    });
  }
  return diameterMm;
}
