import { clearanceLimitsMm } from "../catalogue/clearance-groups.ts";
import { boreDeviationMm, outsideDiameterDeviationMm } from "../catalogue/ring-tolerances.ts";
import { practicalRange } from "../distributions/index.ts";
import type { Distribution } from "../distributions/types.ts";
import { clearanceForFreeAngleMm, grooveCentreDistanceMm } from "../physics/axial-contact.ts";
import type { QuantityOptions } from "../units/quantity.ts";
import { assumed } from "./assumptions.ts";
import { readContactAngle } from "./contact-angle.ts";
import { type DrawnValue, readDrawn, THREE_SIGMA_WORDS, withinLimits } from "./drawn.ts";
import { BEARING_KEY_SETS, resolveGeometry } from "./geometry.ts";
import type { Ledger } from "./ledger.ts";
import { resolveMaterial } from "./materials.ts";
import { type Merged, mergeEntries } from "./merge.ts";
import type { BearingEntry, ScenarioDocument } from "./schema.ts";
import type { Drawn } from "./schema-drawn.ts";
import type { Bearing, BearingGeometry, InternalUnit, Origin, VariableGroup, VariableIndex } from "./types.ts";
import { addVariable, plainValue, unknownValue } from "./variables.ts";
import { usualRange, valueWords } from "./words.ts";

/** A bearing with its rings' own diameters, before it is known what the rings sit on. */
export type LooseBearing = Omit<Bearing, "inner" | "outer"> & {
  readonly boreDiameter: VariableIndex;
  readonly outsideDiameter: VariableIndex;
  readonly toleranceClass: string | number;
  readonly entry: Merged<BearingEntry>;
};

/** Free clearances beyond this are a slip of the unit, mm. */
const LARGEST_CLEARANCE_MM = 0.5;
/** Grooves flatter than this are none. */
const LARGEST_CONFORMITY_RATIO = 0.6;
const LARGEST_STAND_OUT_MM = 0.5;

/**
 * Everything of one bearing but its seats: dimensions, materials, and what is drawn of it. What is not given follows
 * from what both have in common, from the catalogue, or is assumed; problems are noted in the ledger.
 */
export function resolveBearing(ledger: Ledger, key: "a" | "b", bearings: ScenarioDocument["bearings"]): LooseBearing {
  const entry = mergeEntries(bearings.both, "bearings.both", bearings[key], `bearings.${key}`, BEARING_KEY_SETS);
  const geometry = resolveGeometry(ledger, key, entry);
  const reader = new BearingReader(ledger, key, entry, geometry);
  const ringMaterial = reader.material("rings", "rings", assumed.ringMaterial);
  const ballMaterial = reader.material("balls", "balls", assumed.ballMaterial);
  const ringModel = entry.entry.ringModel ?? "groove-bottom";
  ledger.note({
    path: `bearings.${key}.ringModel`,
    label: `cylinder that stands for a ring of bearing ${key} under its fit`,
    value: ringModel === "groove-bottom" ? "out to the groove bottom" : "out to the mean groove diameter",
    origin: entry.entry.ringModel === undefined ? "assumption" : "given",
    source: "the two change the raceway by about 5 % of the fit's effect",
  });
  const clearance = reader.clearance();
  const conformityInner = reader.conformity("conformityInner", "inner", assumed.conformityInner);
  const conformityOuter = reader.conformity("conformityOuter", "outer", assumed.conformityOuter);
  const standOut = reader.standOut();
  const toleranceClass = reader.toleranceClass();
  return {
    key,
    ...geometry,
    ringMaterial,
    ballMaterial,
    ringModel,
    nominalClearanceMm: reader.nominalClearanceMm(clearance, conformityInner, conformityOuter),
    nominalConformityInnerRatio: reader.middle(conformityInner),
    nominalConformityOuterRatio: reader.middle(conformityOuter),
    clearance,
    conformityInner,
    conformityOuter,
    standOut,
    boreDiameter: reader.ringDiameter("bore", geometry.boreMm, toleranceClass),
    outsideDiameter: reader.ringDiameter("outsideDiameter", geometry.outsideDiameterMm, toleranceClass),
    toleranceClass,
    entry,
  };
}

interface Quantity {
  readonly key: string;
  readonly label: string;
  readonly group: VariableGroup;
  readonly groupLabel: string;
  readonly unit: InternalUnit;
}

class BearingReader {
  constructor(
    private readonly ledger: Ledger,
    private readonly key: "a" | "b",
    private readonly merged: Merged<BearingEntry>,
    private readonly geometry: BearingGeometry,
  ) {}

  material(name: "rings" | "balls", words: string, { material, why }: { material: string; why: string }) {
    return resolveMaterial(this.ledger, this.merged.entry[name], {
      path: this.merged.entry[name] === undefined ? `bearings.${this.key}.${name}` : this.merged.pathOf(name),
      label: `material of the ${words} of bearing ${this.key}`,
      fallback: material,
      why,
    });
  }

  /** Of an angular-contact bearing the contact angle, from which its clearance follows. */
  clearance(): VariableIndex {
    const { clearance, clearanceGroup, contactAngle } = this.merged.entry;
    if (contactAngle !== undefined) return this.#contactAngle(contactAngle);
    const path = this.merged.pathOf("clearance");
    const quantity: Quantity = {
      key: "clearance",
      label: `free radial clearance of bearing ${this.key}`,
      group: "clearance",
      groupLabel: "the radial clearance of the bearings",
      unit: "mm",
    };
    if (clearance !== undefined) {
      if (clearanceGroup !== undefined) {
        this.ledger.problem({
          code: "conflict",
          path: this.merged.pathOf("clearanceGroup"),
          expected: "either clearance or clearanceGroup",
          got: "both",
        });
      }
      const options = { low: -LARGEST_CLEARANCE_MM, high: LARGEST_CLEARANCE_MM };
      const value = this.ledger.attempt(
        () => readDrawn(clearance, { dimension: "length", path, options }),
        unknownValue(),
      );
      this.#checkFree(value.distribution, path);
      return this.#add(quantity, value, "given", value.how);
    }
    const group = clearanceGroup ?? assumed.clearanceGroup.group;
    const { boreMm } = this.geometry;
    const limits = Number.isNaN(boreMm)
      ? null
      : this.ledger.attempt(() => clearanceLimitsMm(boreMm, group, this.merged.pathOf("clearanceGroup")), null);
    if (limits === null) return this.#add(quantity, unknownValue(), "standard", "");
    const origin = clearanceGroup === undefined ? "assumption" : "standard";
    const value = plainValue(withinLimits(limits.lowMm, limits.highMm), THREE_SIGMA_WORDS);
    const why = clearanceGroup === undefined ? `${assumed.clearanceGroup.why}; ` : "";
    return this.#add(quantity, value, origin, `${why}${limits.source}; ${THREE_SIGMA_WORDS}`);
  }

  #contactAngle(written: Drawn): VariableIndex {
    const path = this.merged.pathOf("contactAngle");
    const other = (["clearance", "clearanceGroup"] as const).find((key) => this.merged.entry[key] !== undefined);
    if (other !== undefined) {
      this.ledger.problem({
        code: "conflict",
        path: this.merged.pathOf(other),
        expected: "either contactAngle or a clearance: the one follows from the other",
        got: "both",
      });
    }
    const { value, origin, source } = this.ledger.attempt(() => readContactAngle(written, path), {
      value: unknownValue(),
      origin: "given" as Origin,
      source: "",
    });
    const quantity: Quantity = {
      key: "contactAngle",
      label: `free contact angle of bearing ${this.key}`,
      group: "contact angle",
      groupLabel: "the contact angle of the bearings",
      unit: "rad",
    };
    return this.#add(quantity, value, origin, source);
  }

  /** Middle of the free clearance; from the middle of angle and conformities for an angular-contact bearing, mm. */
  nominalClearanceMm(clearance: VariableIndex, inner: VariableIndex, outer: VariableIndex): number {
    const middle = this.middle(clearance);
    if (this.geometry.kind === "deep-groove") return middle;
    const distance = grooveCentreDistanceMm(this.middle(inner), this.middle(outer), this.geometry.ballDiameterMm);
    return clearanceForFreeAngleMm(distance, middle);
  }

  /** Mounted clearance may be negative; that of a bearing in its box may not. */
  #checkFree(distribution: Distribution, path: string): void {
    const { low, high } = usualRange(distribution);
    if (high < 0) {
      this.ledger.problem({
        code: "out-of-range",
        path,
        expected: "the clearance of the bearing before mounting, which is not negative",
        got: `${valueWords(low, "mm")} to ${valueWords(high, "mm")}`,
        hint: "What fits and heat take off is worked out from the seats; it may make the mounted clearance negative",
      });
    } else if (low < 0) {
      const message = `The free clearance reaches down to ${valueWords(low, "mm")}: a bearing before mounting has none below 0.`;
      this.ledger.warn("clearance-negative", `bearings.${this.key}.clearance`, message);
    }
  }

  conformity(
    key: "conformityInner" | "conformityOuter",
    ring: string,
    fallback: { distribution: Distribution; why: string },
  ): VariableIndex {
    const path = this.merged.pathOf(key);
    const options = { low: 0.4, high: LARGEST_CONFORMITY_RATIO };
    const { value, origin, source } = this.#drawnOr(key, { dimension: "ratio", path, options }, fallback);
    const low = Number.isNaN(usualRange(value.distribution).low) ? Number.NaN : practicalRange(value.distribution).low;
    if (low <= 0.5) {
      this.ledger.problem({
        code: "impossible-geometry",
        path,
        expected:
          "a groove radius over ball diameter above 0.5 over its whole spread, or the ball does not fit the groove",
        got: valueWords(low, "1"),
        hint: "Usual are 0.51 to 0.54; a normal distribution reaches eight sigma, so give it limits",
      });
    }
    const quantity: Quantity = {
      key,
      label: `conformity of the ${ring} ring of bearing ${this.key}`,
      group: "conformity",
      groupLabel: "the groove conformity of the bearings",
      unit: "1",
    };
    return this.#add(quantity, value, origin, source);
  }

  standOut(): VariableIndex {
    const options = { low: -LARGEST_STAND_OUT_MM, high: LARGEST_STAND_OUT_MM };
    const request = { dimension: "length" as const, path: this.merged.pathOf("standOut"), options };
    const isGround = this.geometry.kind === "angular-contact";
    const fallback = isGround ? assumed.standOutGround : assumed.standOut;
    const { value, origin, source } = this.#drawnOr("standOut", request, fallback);
    const quantity: Quantity = {
      key: "standOut",
      label: isGround ? `ground offset of bearing ${this.key}` : `stand-out of bearing ${this.key}`,
      group: "stand-out",
      groupLabel: "the stand-out of the bearings",
      unit: "mm",
    };
    return this.#add(quantity, value, origin, source);
  }

  toleranceClass(): string | number {
    return this.merged.entry.toleranceClass ?? assumed.toleranceClass.toleranceClass;
  }

  ringDiameter(key: "bore" | "outsideDiameter", nominalMm: number, toleranceClass: string | number): VariableIndex {
    const path = this.merged.pathOf("toleranceClass");
    const deviation = key === "bore" ? boreDeviationMm : outsideDiameterDeviationMm;
    const limits = Number.isNaN(nominalMm)
      ? null
      : this.ledger.attempt(() => deviation(nominalMm, toleranceClass, path), null);
    const words = key === "bore" ? "bore" : "outside diameter";
    const quantity: Quantity = {
      key,
      label: `${words} of bearing ${this.key}`,
      group: key === "bore" ? "bearing bore" : "bearing outside diameter",
      groupLabel: `the ${words} of the bearings`,
      unit: "mm",
    };
    if (limits === null) return this.#add(quantity, unknownValue(), "standard", "");
    const value = plainValue(
      withinLimits(addMm(nominalMm, limits.lowMm), addMm(nominalMm, limits.highMm)),
      THREE_SIGMA_WORDS,
    );
    const left = this.merged.entry.toleranceClass === undefined;
    const why = left ? `${assumed.toleranceClass.why}; ` : "";
    return this.#add(quantity, value, left ? "assumption" : "standard", `${why}${limits.source}; ${THREE_SIGMA_WORDS}`);
  }

  /** Middle of the usual range of a variable. */
  middle(index: VariableIndex): number {
    const { low, high } = usualRange(this.ledger.distribution(index));
    return (low + high) / 2;
  }

  #drawnOr(
    key: "conformityInner" | "conformityOuter" | "standOut",
    request: { dimension: "ratio" | "length"; path: string; options: QuantityOptions },
    fallback: { distribution: Distribution; why: string },
  ): { value: DrawnValue; origin: Origin; source: string } {
    const written = this.merged.entry[key];
    if (written === undefined) {
      return { value: plainValue(fallback.distribution, ""), origin: "assumption", source: fallback.why };
    }
    const value = this.ledger.attempt(() => readDrawn(written, request), unknownValue());
    return { value, origin: "given", source: value.how };
  }

  #add({ key, ...rest }: Quantity, value: DrawnValue, origin: Origin, source: string): VariableIndex {
    return addVariable(this.ledger, { name: `bearings.${this.key}.${key}`, ...rest, value, origin, source });
  }
}

/** Sum of two lengths in mm, rounded to a picometre so that 20 + 0.011 is the double 20.011 and not its neighbour. */
export function addMm(nominalMm: number, deviationMm: number): number {
  return Number((nominalMm + deviationMm).toFixed(9));
}
