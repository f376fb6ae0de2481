import { ringWidthDeviationMm } from "../catalogue/ring-tolerances.ts";
import { didYouMean } from "../units/nearest.ts";
import { parseQuantity } from "../units/quantity.ts";
import { assumed } from "./assumptions.ts";
import { addMm, type LooseBearing } from "./bearings.ts";
import { THREE_SIGMA_WORDS, withinLimits } from "./drawn.ts";
import type { Ledger } from "./ledger.ts";
import { resolveMaterial } from "./materials.ts";
import { readMemberLength } from "./member-length.ts";
import { type MemberEntry, type ScenarioDocument, ZONE_KEYS, type ZoneKey } from "./schema.ts";
import { checkDeflection, springMember } from "./spring.ts";
import { zoneNamed } from "./states.ts";
import {
  type Arrangement,
  type Bearing,
  type ChainMember,
  type Material,
  type Side,
  type SpringMethod,
  type VariableIndex,
  ZONES,
  type Zone,
} from "./types.ts";
import { addVariable, plainValue, unknownValue } from "./variables.ts";
import { usualRange, valueWords } from "./words.ts";

/** Preloads need offsets of hundredths of a millimetre; a nominal one beyond this is a missing member, mm. */
const LARGEST_NOMINAL_OFFSET_MM = 1;

interface ChainContext {
  readonly entries: readonly MemberEntry[];
  readonly clamp: ScenarioDocument["clamp"];
  readonly materials: Readonly<Record<Side, Material>>;
  readonly arrangement: Arrangement;
  readonly spring: SpringMethod | null;
  readonly bearings: readonly [
    LooseBearing & Pick<Bearing, "inner" | "outer">,
    LooseBearing & Pick<Bearing, "inner" | "outer">,
  ];
}

/** The members that the scenario lists, then the ring widths that the seats' sides bring in. */
export function resolveChain(ledger: Ledger, context: ChainContext): ChainMember[] {
  const { entries, clamp } = context;
  if (entries.length === 0) {
    ledger.problem({ code: "missing", path: "chain", expected: "at least one member", got: "an empty list" });
  }
  checkNames(ledger, entries);
  const members = entries.map((entry) => resolveMember(ledger, entry, context));
  const rigid = [...members, ...context.bearings.flatMap((bearing) => ringWidthMembers(ledger, bearing))];
  const { spring, arrangement, materials } = context;
  const chain = spring === null ? rigid : [...rigid, springMember(spring, arrangement, materials)];
  if (spring === null) checkOffset(ledger, chain);
  else checkDeflection(ledger, spring, (arrangement === "back-to-back" ? 1 : -1) * middleOffsetMm(ledger, chain));
  if (clamp !== undefined && entries.length > 0 && !entries.some((entry) => entry.clampPath === true)) {
    const message = "No member of the chain has clampPath: the clamp force shortens nothing.";
    ledger.warn("unlikely-value", "clamp", message);
  }
  return chain;
}

function checkNames(ledger: Ledger, entries: readonly MemberEntry[]): void {
  const seen = new Set<string>();
  for (const [index, { name }] of entries.entries()) {
    if (name.trim() === "" || name.length > 80 || /[.\p{Cc}]/u.test(name) || /^\d+$/.test(name)) {
      ledger.problem({
        code: "wrong-type",
        path: `chain.${index}.name`,
        expected: "a name in words of at most 80 characters, without a full stop",
        got: name,
      });
    }
    if (seen.has(name)) {
      ledger.problem({
        code: "conflict",
        path: `chain.${name}`,
        expected: "a name of its own for each member",
        got: name,
      });
    }
    seen.add(name);
  }
}

function resolveMember(ledger: Ledger, entry: MemberEntry, { clamp, materials }: ChainContext): ChainMember {
  const { name, side } = entry;
  const path = `chain.${name}`;
  const value = ledger.attempt(() => readMemberLength(entry.length, `${path}.length`), unknownValue());
  const length = addVariable(ledger, {
    name: path,
    label: name,
    group: "chain dimensions",
    groupLabel: `the ${name}`,
    unit: "mm",
    value,
    origin: "given",
    source: value.how,
  });
  const material =
    entry.material === undefined
      ? materials[side]
      : resolveMaterial(ledger, entry.material, {
          path: `${path}.material`,
          label: `material of the ${name}`,
          fallback: materials[side].name,
          why: "",
        });
  const zone = resolveZone(ledger, entry, path);
  const inClampPath = entry.clampPath ?? false;
  const { area } = entry;
  const areaMm2 =
    area === undefined
      ? null
      : ledger.attempt(() => parseQuantity(area, "area", `${path}.area`, { low: 0, openLow: true }), Number.NaN);
  const carriesPreload = entry.carriesPreload ?? (areaMm2 !== null && !inClampPath);
  for (const key of ["clampPath", "carriesPreload"] as const) {
    if (entry[key] === true && areaMm2 === null) {
      ledger.problem({
        code: "missing",
        path: `${path}.area`,
        expected: `the section area of a member with ${key}, such as "200 mm2"`,
        got: "nothing",
      });
    }
  }
  if (inClampPath) checkClampPath(ledger, entry, clamp, path);
  noteMember(ledger, entry, { path, material, zone, areaMm2, inClampPath, carriesPreload });
  return {
    name,
    side,
    factor: entry.subtract === true ? -1 : 1,
    length,
    material,
    zone,
    areaMm2,
    inClampPath,
    carriesPreload,
  };
}

function checkClampPath(ledger: Ledger, { side }: MemberEntry, clamp: ScenarioDocument["clamp"], path: string): void {
  const clampSide = clamp?.side ?? "shaft";
  if (clamp === undefined) {
    ledger.problem({
      code: "conflict",
      path: `${path}.clampPath`,
      expected: "a clamp whose force runs through the member",
      got: "no clamp",
      hint: 'Give clamp: { force: "2000 ±400 N" } or leave clampPath out',
    });
  } else if (side !== clampSide) {
    ledger.problem({
      code: "conflict",
      path: `${path}.clampPath`,
      expected: `members on the side that is clamped, the ${clampSide}`,
      got: side,
    });
  }
}

/** The zone whose temperature a member has: as named, else that of its side. */
export function resolveZone(ledger: Ledger, { zone, side }: Pick<MemberEntry, "zone" | "side">, path: string): Zone {
  if (zone === undefined) return side;
  const word = zone.trim();
  const direct = ZONES.find((known) => known === word);
  const named = ZONE_KEYS.includes(word as ZoneKey) ? zoneNamed(word as ZoneKey) : null;
  const found = direct ?? named;
  if (found !== null) return found;
  const known = ZONE_KEYS.filter((key) => zoneNamed(key) !== null);
  ledger.problem({
    code: "unknown-name",
    path: `${path}.zone`,
    expected: `one zone: ${known.join(", ")}`,
    got: zone,
    hint: didYouMean(zone, known),
  });
  return side;
}

function noteMember(
  ledger: Ledger,
  entry: MemberEntry,
  member: Pick<ChainMember, "material" | "zone" | "areaMm2" | "inClampPath" | "carriesPreload"> & { path: string },
): void {
  const { path, material, zone, areaMm2, inClampPath, carriesPreload } = member;
  const sign = (entry.side === "housing") === (entry.subtract !== true) ? "+" : "−";
  const parts = [
    `${entry.side} side (${sign})`,
    material.name,
    `temperature of zone ${zone}`,
    areaMm2 === null ? "rigid" : `${Number(areaMm2.toPrecision(6))} mm²`,
    inClampPath ? "in the clamp path" : "",
    carriesPreload ? "gives way under the preload" : "",
  ];
  ledger.note({
    path: `${path}.place`,
    label: `place of the ${entry.name} in the chain`,
    value: parts.filter((part) => part !== "").join(", "),
    origin: "given",
    source: [
      entry.material === undefined ? "material of its side's seats" : "",
      entry.zone === undefined ? "zone of its side" : "",
    ]
      .filter((part) => part !== "")
      .join("; "),
  });
}

/**
 * Ring widths that a chain needs when the two rings of a bearing sit on opposite sides.
 *
 * Distance of the outer ring centres = H + s_oa·B_a/2 + s_ob·B_b/2, of the inner ring centres = S + s_ia·B_a/2 + s_ib·B_b/2,
 * with H and S the spacings of the shoulders, B the ring width and s = +1 for a shoulder inboard of the ring, −1 outboard.
 * So a bearing adds (s_o − s_i)·B/2 to housing minus shaft: nothing when both rings sit on the same side, else ±B, half of
 * it as warm as the outer ring and half as the inner. Both rings of a bearing are of one width.
 */
function ringWidthMembers(ledger: Ledger, bearing: ChainContext["bearings"][number]): ChainMember[] {
  const { key, inner, outer } = bearing;
  if (inner.seatSide === outer.seatSide) return [];
  const path = bearing.entry.pathOf("toleranceClass");
  const { boreMm, widthMm, toleranceClass } = bearing;
  const limits = Number.isNaN(boreMm)
    ? null
    : ledger.attempt(() => ringWidthDeviationMm(boreMm, toleranceClass, path), null);
  const value =
    limits === null
      ? unknownValue()
      : plainValue(withinLimits(addMm(widthMm, limits.lowMm), addMm(widthMm, limits.highMm)), THREE_SIGMA_WORDS);
  const left = bearing.entry.entry.toleranceClass === undefined;
  const length: VariableIndex = addVariable(ledger, {
    name: `bearings.${key}.width`,
    label: `ring width of bearing ${key}`,
    group: "ring width",
    groupLabel: "the ring width of the bearings",
    unit: "mm",
    value,
    origin: left ? "assumption" : "standard",
    source: `${left ? `${assumed.toleranceClass.why}; ` : ""}${limits?.source ?? ""}; ${THREE_SIGMA_WORDS}`,
  });
  const half = (side: Side): ChainMember => ({
    name: `half the ring width of bearing ${key}, ${side === "housing" ? "outer" : "inner"} ring`,
    side,
    factor: (side === "housing" ? outer : inner).seatSide === "inboard" ? 0.5 : -0.5,
    length,
    material: bearing.ringMaterial,
    zone: `${side === "housing" ? "outer" : "inner"}-${key}`,
    areaMm2: null,
    inClampPath: false,
    carriesPreload: false,
  });
  return [half("housing"), half("shaft")];
}

/** A chain whose two sides are far from equal lacks a member or has one on the wrong side. */
function checkOffset(ledger: Ledger, chain: readonly ChainMember[]): void {
  const sums = middleSums(ledger, chain);
  if (!(Math.abs(sums.housing - sums.shaft) > LARGEST_NOMINAL_OFFSET_MM)) return;
  ledger.problem({
    code: "impossible-geometry",
    path: "chain",
    expected: `housing and shaft members within ${LARGEST_NOMINAL_OFFSET_MM} mm of each other`,
    got: `housing ${valueWords(sums.housing, "mm")}, shaft ${valueWords(sums.shaft, "mm")}`,
    hint: "A member is missing, on the wrong side, or needs subtract: true",
  });
}

function middleOffsetMm(ledger: Ledger, chain: readonly ChainMember[]): number {
  const sums = middleSums(ledger, chain);
  return sums.housing - sums.shaft;
}

/** Sum of each side with every part in the middle of its limits, mm. */
function middleSums(ledger: Ledger, chain: readonly ChainMember[]): Record<Side, number> {
  const sums: Record<Side, number> = { housing: 0, shaft: 0 };
  for (const { side, factor, length } of chain) {
    const { low, high } = usualRange(ledger.distribution(length));
    sums[side] += (factor * (low + high)) / 2;
  }
  return sums;
}
