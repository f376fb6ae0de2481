import { ABSOLUTE_ZERO_C } from "../units/dimension.ts";
import { parseQuantity } from "../units/quantity.ts";
import { type DrawnValue, readDrawn } from "./drawn.ts";
import { resolveNetwork } from "./heat.ts";
import type { Ledger } from "./ledger.ts";
import { type Running, resolveRunning } from "./running.ts";
import {
  type ScenarioDocument,
  type StateEntry,
  type TemperatureEntry,
  ZONE_KEYS,
  type ZoneKey,
  zoneWords,
} from "./schema.ts";
import { type DutyState, ZONES, type Zone, type ZoneTemperature } from "./types.ts";
import { addVariable, unknownValue } from "./variables.ts";
import { distributionWords, usualRange, valueWords } from "./words.ts";

type Term = ZoneTemperature[number];

/** Which keys of a state give a zone its temperature, the nearest first. */
const KEYS_OF_ZONE: Readonly<Record<Zone, readonly ZoneKey[]>> = {
  housing: ["housing"],
  shaft: ["shaft"],
  "outer-a": ["outerRingA", "outerRings"],
  "outer-b": ["outerRingB", "outerRings"],
  "inner-a": ["innerRingA", "innerRings"],
  "inner-b": ["innerRingB", "innerRings"],
  "balls-a": ["ballsA", "balls"],
  "balls-b": ["ballsB", "balls"],
};

const PLURAL: Readonly<Partial<Record<ZoneKey, string>>> = { outerRings: "outer", innerRings: "inner", balls: "balls" };

/** The zone that a key names, seen from another zone: `outerRings` is the outer ring of the same bearing; null if unclear. */
export function zoneNamed(key: ZoneKey, seenFrom?: Zone): Zone | null {
  const plural = PLURAL[key];
  if (plural !== undefined) {
    const letter = /-[ab]$/.exec(seenFrom ?? "")?.[0];
    return letter === undefined ? null : (`${plural}${letter}` as Zone);
  }
  return ZONES.find((zone) => KEYS_OF_ZONE[zone][0] === key) ?? null;
}

/**
 * Duty states with the temperature of every zone as a sum of variables.
 *
 * What a state leaves out: an outer ring is as warm as the housing, an inner ring as the shaft, the balls are midway, and
 * the shaft is as warm as the housing (or the other way round). The bench comes first: the state marked so, else the one
 * named `bench`, else the first.
 */
export function resolveStates(
  ledger: Ledger,
  written: readonly StateEntry[] | undefined,
  measuredAtC: number,
  document: Pick<ScenarioDocument, "extended" | "thermal"> = {},
): { states: DutyState[]; running: (Running | null)[] } {
  const entries: readonly StateEntry[] = written ?? [{ name: "bench", housing: `${measuredAtC} degC` }];
  if (written === undefined) {
    ledger.note({
      path: "states",
      label: "duty states",
      value: `the bench only, everything at ${valueWords(measuredAtC, "degC")}`,
      origin: "assumption",
      source: "no states given",
    });
  }
  if (entries.length === 0) {
    ledger.problem({ code: "missing", path: "states", expected: "at least one state", got: "an empty list" });
    return { states: [], running: [] };
  }
  checkNames(ledger, entries);
  const ordered = benchFirst(ledger, entries);
  const weights = shares(ledger, ordered);
  const running = resolveRunning(ledger, document, ordered);
  const states = ordered.map((entry, index) => {
    if (entry.network !== undefined) refuseGivenZones(ledger, entry);
    return {
      name: entry.name,
      label: entry.label ?? entry.name,
      isBench: index === 0,
      weightRatio: weights[index],
      zones: entry.network === undefined ? new ZoneReader(ledger, entry).zones() : noZones(),
      network: resolveNetwork(ledger, entry, running[index], document.thermal !== undefined),
    };
  });
  return { states, running };
}

function noZones(): Record<Zone, ZoneTemperature> {
  return Object.fromEntries(ZONES.map((zone) => [zone, []])) as unknown as Record<Zone, ZoneTemperature>;
}

/** A heat balance and given temperatures would contradict one another. */
function refuseGivenZones(ledger: Ledger, entry: StateEntry): void {
  const given = ZONE_KEYS.find((key) => entry[key] !== undefined);
  if (given === undefined) return;
  ledger.problem({
    code: "conflict",
    path: `states.${entry.name}.${given}`,
    expected: "either a network or given temperatures",
    got: "both",
  });
}

function checkNames(ledger: Ledger, entries: readonly StateEntry[]): void {
  const seen = new Set<string>();
  for (const { name } of entries) {
    if (!/^[A-Za-z0-9_-]{1,40}$/.test(name)) {
      ledger.problem({
        code: "wrong-type",
        path: `states.${name}.name`,
        expected: "a name of letters, digits, - and _, such as hot-soak",
        got: name,
        hint: "Put any other text in label",
      });
    }
    if (seen.has(name)) {
      ledger.problem({
        code: "conflict",
        path: `states.${name}`,
        expected: "a name of its own for each state",
        got: name,
      });
    }
    seen.add(name);
  }
}

function benchFirst(ledger: Ledger, entries: readonly StateEntry[]): StateEntry[] {
  const marked = entries.filter((entry) => entry.bench === true);
  if (marked.length > 1) {
    ledger.problem({
      code: "conflict",
      path: `states.${marked[1].name}.bench`,
      expected: "one state as the bench",
      got: marked.map((entry) => entry.name).join(" and "),
    });
  }
  const candidates = entries.filter((entry) => entry.bench !== false);
  const bench = marked[0] ?? candidates.find((entry) => entry.name === "bench") ?? candidates[0] ?? entries[0];
  return [bench, ...entries.filter((entry) => entry !== bench)];
}

/** Shares of duty: equal when none is given; else states without one divide what is left. Scaled to sum to 1. */
function shares(ledger: Ledger, entries: readonly StateEntry[]): number[] {
  const given = entries.map(({ share, name }) =>
    share === undefined
      ? undefined
      : ledger.attempt(() => parseQuantity(share, "ratio", `states.${name}.share`, { low: 0, high: 1 }), Number.NaN),
  );
  if (given.every((share) => share === undefined)) return entries.map(() => 1 / entries.length);
  const sum = given.reduce<number>((total, share) => total + (share ?? 0), 0);
  const open = given.filter((share) => share === undefined).length;
  const left = Math.max(0, 1 - sum);
  const filled = given.map((share) => share ?? left / open);
  const total = filled.reduce((all, share) => all + share, 0);
  if (total === 0) {
    ledger.problem({
      code: "out-of-range",
      path: "states",
      expected: "at least one share above 0",
      got: "0 for every state",
    });
    return filled;
  }
  if (Math.abs(total - 1) > 1e-9) {
    const message = `The shares of the states sum to ${Number(total.toFixed(6))}; they were scaled to sum to 1.`;
    ledger.warn("shares-normalised", "states", message);
  }
  return filled.map((share) => share / total);
}

/** Reads the temperatures of one state. */
class ZoneReader {
  readonly #ledger: Ledger;
  readonly #entry: StateEntry;
  readonly #terms = new Map<ZoneKey, { readonly term: Term; readonly reference: ZoneKey | null }>();
  readonly #done = new Map<Zone, readonly Term[]>();
  readonly #open = new Set<Zone>();

  constructor(ledger: Ledger, entry: StateEntry) {
    this.#ledger = ledger;
    this.#entry = entry;
  }

  zones(): Record<Zone, ZoneTemperature> {
    for (const key of ZONE_KEYS) this.#read(key);
    if (!this.#terms.has("housing") && !this.#terms.has("shaft")) {
      this.#ledger.problem({
        code: "missing",
        path: this.#path("housing"),
        expected: 'the temperature of the housing, such as "80 ±5 degC"',
        got: "nothing",
      });
    }
    const zones = Object.fromEntries(ZONES.map((zone) => [zone, this.#zone(zone)])) as Record<Zone, ZoneTemperature>;
    for (const zone of ZONES) this.#checkAboveAbsoluteZero(zone, zones[zone]);
    return zones;
  }

  #path(key: ZoneKey): string {
    return `states.${this.#entry.name}.${key}`;
  }

  #read(key: ZoneKey): void {
    const written: TemperatureEntry | undefined = this.#entry[key];
    if (written === undefined) return;
    const path = this.#path(key);
    const relative = typeof written === "object" && "by" in written ? written : null;
    const reference = relative === null ? null : (relative.above ?? relative.below ?? null);
    if (relative !== null && (relative.above === undefined) === (relative.below === undefined)) {
      this.#ledger.problem({ code: "conflict", path, expected: "either above or below, with the name of a zone" });
    }
    const dimension = relative === null ? "temperature" : "temperature difference";
    const entry = relative === null ? (written as Exclude<TemperatureEntry, { by: unknown }>) : relative.by;
    const place = relative === null ? path : `${path}.by`;
    const value: DrawnValue = this.#ledger.attempt(() => readDrawn(entry, { dimension, path: place }), unknownValue());
    const sign = relative?.below === undefined ? 1 : -1;
    const state = this.#entry.label ?? this.#entry.name;
    const zone = zoneWords(key);
    const label =
      reference === null
        ? `temperature of ${zone}, ${state}`
        : `${zone} ${sign > 0 ? "warmer" : "cooler"} than ${zoneWords(reference)}, ${state}`;
    const variable = addVariable(this.#ledger, {
      name: path,
      label,
      group: "temperature",
      groupLabel:
        reference === null
          ? `the temperature of ${zone} (${state})`
          : `the temperature difference between ${zone} and ${zoneWords(reference)} (${state})`,
      unit: relative === null ? "degC" : "K",
      value,
      origin: "given",
      source: value.how,
    });
    this.#terms.set(key, { term: { variable, factor: sign }, reference });
  }

  #zone(zone: Zone): readonly Term[] {
    const done = this.#done.get(zone);
    if (done !== undefined) return done;
    if (this.#open.has(zone)) {
      const key = KEYS_OF_ZONE[zone].find((candidate) => this.#terms.has(candidate)) ?? KEYS_OF_ZONE[zone][0];
      this.#ledger.problem({
        code: "conflict",
        path: this.#path(key),
        expected: "a temperature that does not depend on itself",
        hint: "Give one of the zones a temperature in degC",
      });
      return [];
    }
    this.#open.add(zone);
    const terms = this.#evaluate(zone);
    this.#open.delete(zone);
    this.#done.set(zone, terms);
    return terms;
  }

  #evaluate(zone: Zone): readonly Term[] {
    const key = KEYS_OF_ZONE[zone].find((candidate) => this.#terms.has(candidate));
    if (key === undefined) return this.#byDefault(zone);
    const { term, reference } = this.#terms.get(key)!;
    if (reference === null) return [term];
    const base = zoneNamed(reference, zone);
    if (base === null) {
      const words = PLURAL[reference];
      this.#ledger.problem({
        code: "conflict",
        path: this.#path(key),
        expected: "a difference to one zone",
        got: reference,
        hint: `Name one of the two, such as ${words === "balls" ? "ballsA" : `${words}RingA`}`,
      });
      return [term];
    }
    return sum([...this.#zone(base), term]);
  }

  #byDefault(zone: Zone): readonly Term[] {
    const letter = zone.slice(-2);
    if (zone === "housing") return this.#terms.has("shaft") ? this.#zone("shaft") : [];
    if (zone === "shaft") return this.#terms.has("housing") ? this.#zone("housing") : [];
    if (zone.startsWith("outer")) return this.#zone("housing");
    if (zone.startsWith("inner")) return this.#zone("shaft");
    const rings = [...this.#zone(`outer${letter}` as Zone), ...this.#zone(`inner${letter}` as Zone)];
    return sum(rings.map(({ variable, factor }) => ({ variable, factor: 0.5 * factor })));
  }

  #checkAboveAbsoluteZero(zone: Zone, terms: ZoneTemperature): void {
    const { low } = temperatureRangeC(this.#ledger, terms);
    if (!(low < ABSOLUTE_ZERO_C)) return;
    const key = KEYS_OF_ZONE[zone].find((candidate) => this.#terms.has(candidate));
    if (key === undefined) return;
    const { term } = this.#terms.get(key)!;
    this.#ledger.problem({
      code: "out-of-range",
      path: this.#path(key),
      expected: "a temperature above absolute zero (−273.15 °C) over its whole spread",
      got: distributionWords(this.#ledger.distribution(term.variable), this.#ledger.variables[term.variable].unit),
    });
  }
}

/** Adds up the factors of equal variables; those that cancel are left out. */
function sum(terms: readonly Term[]): readonly Term[] {
  const factors = new Map<number, number>();
  for (const { variable, factor } of terms) factors.set(variable, (factors.get(variable) ?? 0) + factor);
  return [...factors].filter(([, factor]) => factor !== 0).map(([variable, factor]) => ({ variable, factor }));
}

/** Lowest and highest temperature of a zone with every variable at an end of its usual range, °C. */
export function temperatureRangeC(ledger: Ledger, terms: ZoneTemperature): { low: number; high: number } {
  let low = 0;
  let high = 0;
  for (const { variable, factor } of terms) {
    const range = usualRange(ledger.distribution(variable));
    low += factor * (factor > 0 ? range.low : range.high);
    high += factor * (factor > 0 ? range.high : range.low);
  }
  return { low, high };
}
