import type { Distribution } from "../distributions/types.ts";
import { didYouMean } from "../units/nearest.ts";
import { parseQuantity } from "../units/quantity.ts";
import { readDrawn } from "./drawn.ts";
import type { Ledger } from "./ledger.ts";
import type { AuditEntry, ReadingsEntry } from "./schema-audit.ts";
import type { Bearing, ChainMember, ResolvedAudit, ResolvedReadings, VariableIndex } from "./types.ts";
import { distributionWords, valueWords } from "./words.ts";

/** Chance of being good from which a unit is let through. */
const DECIDE_RATIO = 0.95;
const SHIM_STEP_MM = 0.01;

interface AuditContext {
  readonly chain: readonly ChainMember[];
  readonly bearings: readonly [Pick<Bearing, SeatKeys>, Pick<Bearing, SeatKeys>];
  readonly measuredAtC: number;
}
type SeatKeys = "inner" | "outer" | "ringMaterial";

/** What was measured on one unit, with its instruments; null where a scenario has no audit. */
export function resolveAudit(
  ledger: Ledger,
  audit: AuditEntry | undefined,
  context: AuditContext,
): ResolvedAudit | null {
  if (audit === undefined) return null;
  const temperature = resolveTemperature(ledger, audit, context.measuredAtC);
  const seen = new Set<VariableIndex>();
  const readings = (audit.readings ?? []).flatMap((entry, place) => {
    const path = `audit.readings.${entry.name === "" ? place : entry.name}`;
    const variable = variableOf(ledger, entry.name, path);
    if (variable === null) return [];
    if (seen.has(variable)) {
      ledger.problem({ code: "conflict", path, expected: "one list of readings for each dimension", got: entry.name });
    }
    seen.add(variable);
    const { label, unit } = ledger.variables[variable];
    if (unit !== "mm") {
      ledger.problem({
        code: "not-supported",
        path,
        expected: "a length that can be measured",
        got: `${label} in ${unit}`,
      });
      return [];
    }
    const found = readingsOf(ledger, entry, audit, { path, label, low: -1, high: 10_000 });
    return found === null ? [] : [{ ...found, variable, expansionPerK: expansionOf(variable, context) }];
  });
  const play = (key: "a" | "b" | "pair", label: string): ResolvedReadings | null => {
    const entry = audit.play?.[key];
    if (entry === undefined) return null;
    return readingsOf(ledger, entry, audit, { path: `audit.play.${key}`, label, low: 0, high: 5 });
  };
  const plays = {
    a: play("a", "axial play of bearing a, free"),
    b: play("b", "axial play of bearing b, free"),
    pair: play("pair", "axial play of the assembled shaft"),
  };
  if (readings.length === 0 && Object.values(plays).every((found) => found === null) && ledger.problems.length === 0) {
    const hint = "Give audit.readings, audit.play or audit.readingsFile";
    ledger.problem({ code: "missing", path: "audit", expected: "something that was measured", got: "nothing", hint });
  }
  const { decide, shimStep } = audit;
  const decideRatio =
    decide === undefined
      ? DECIDE_RATIO
      : ledger.attempt(
          () => parseQuantity(decide, "ratio", "audit.decide", { low: 0.5, high: 0.999999, openLow: true }),
          DECIDE_RATIO,
        );
  const shimStepMm =
    shimStep === undefined
      ? SHIM_STEP_MM
      : ledger.attempt(
          () => parseQuantity(shimStep, "length", "audit.shimStep", { low: 0, openLow: true, high: 1 }),
          SHIM_STEP_MM,
        );
  note(ledger, "audit.decide", "chance that makes the unit a go", `${100 * decideRatio} %`, decide === undefined);
  note(ledger, "audit.shimStep", "step of the shims", valueWords(shimStepMm, "mm"), shimStep === undefined);
  return {
    unit: audit.unit === undefined ? "" : String(audit.unit),
    from: audit.from ?? "",
    temperature,
    readings,
    play: plays,
    decideRatio,
    shimStepMm,
  };
}

function note(ledger: Ledger, path: string, label: string, value: string, isAssumed: boolean): void {
  const origin = isAssumed ? "assumption" : "given";
  ledger.note({ path, label, value, origin, source: isAssumed ? "not given" : "" });
}

function resolveTemperature(ledger: Ledger, { temperature }: AuditEntry, measuredAtC: number): Distribution {
  const fallback = { kind: "constant", value: measuredAtC } as const;
  const path = "audit.temperature";
  const value =
    temperature === undefined
      ? null
      : ledger.attempt(
          () => readDrawn(temperature, { dimension: "temperature", path, options: { low: -50, high: 150 } }),
          null,
        );
  const distribution = value?.distribution ?? fallback;
  note(
    ledger,
    path,
    "temperature while this unit was measured",
    distributionWords(distribution, "degC"),
    temperature === undefined,
  );
  return distribution;
}

/** A dimension by the name of its member or by its address. */
function variableOf(ledger: Ledger, name: string, path: string): VariableIndex | null {
  const found = ledger.indexOf(`chain.${name}`) ?? ledger.indexOf(name);
  if (found !== undefined) return found;
  const members = ledger.names
    .filter((known) => known.startsWith("chain."))
    .map((known) => known.slice("chain.".length));
  ledger.problem({
    code: "unknown-name",
    path,
    expected: `a member of the chain (${members.join(", ")}) or the address of another dimension`,
    got: name,
    hint: didYouMean(name, [...members, ...ledger.names]),
  });
  return null;
}

function expansionOf(variable: VariableIndex, { chain, bearings }: AuditContext): number {
  const member = chain.find(({ length }) => length === variable);
  if (member !== undefined) return member.material.expansionPerK;
  for (const { inner, outer, ringMaterial } of bearings) {
    for (const seat of [inner, outer]) {
      if (seat.mateDiameter === variable) return seat.mateMaterial.expansionPerK;
      if (seat.ringDiameter === variable) return ringMaterial.expansionPerK;
    }
  }
  return 0;
}

function readingsOf(
  ledger: Ledger,
  entry: ReadingsEntry,
  audit: AuditEntry,
  { path, label, low, high }: { path: string; label: string; low: number; high: number },
): ResolvedReadings | null {
  const written = entry.values ?? [];
  if (written.length === 0) {
    ledger.problem({ code: "missing", path: `${path}.values`, expected: "at least one reading", got: "none" });
    return null;
  }
  const valuesMm = written.map((value, index) =>
    ledger.attempt(
      () => parseQuantity(value, "length", `${path}.values.${index}`, { bareUnit: "mm", low, high }),
      Number.NaN,
    ),
  );
  const width = (key: "limits" | "resolution"): number => {
    const value = entry[key] ?? audit[key];
    if (value === undefined) return 0;
    const text = typeof value === "string" ? value.replace(/^\s*(?:±|\+-|\+\/-)\s*/, "") : value;
    return ledger.attempt(() => parseQuantity(text, "length", `${path}.${key}`, { low: 0, high: 1 }), Number.NaN);
  };
  const limitMm = width("limits");
  const resolutionMm = width("resolution");
  if (written.length === 1 && limitMm === 0) {
    const message = "One reading without limits of error of its instrument counts as exact.";
    ledger.warn("unlikely-value", path, message);
  }
  const parts = [
    `${written.length} reading${written.length === 1 ? "" : "s"}`,
    limitMm > 0 ? `instrument ±${valueWords(limitMm, "mm")}` : "",
    resolutionMm > 0 ? `steps of ${valueWords(resolutionMm, "mm")}` : "",
  ];
  ledger.note({
    path,
    label: `measured: ${label}`,
    value: parts.filter((part) => part !== "").join(", "),
    origin: "given",
    source: audit.from ?? "",
  });
  return { path, label, valuesMm, limitMm, resolutionMm, instrument: entry.instrument ?? null };
}
