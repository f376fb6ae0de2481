import { frictionFactors, viscousTorqueNmm } from "../physics/friction-torque.ts";
import { didYouMean } from "../units/nearest.ts";
import { parseQuantity } from "../units/quantity.ts";
import { parseToleranced } from "../units/tolerance.ts";
import { addDevice } from "./device.ts";
import { readDrawn } from "./drawn.ts";
import type { Ledger } from "./ledger.ts";
import type { Drawn } from "./schema-drawn.ts";
import { type AdjusterEntry, type MethodEntry, PRELOAD_METHODS, type ShimEntry } from "./schema-method.ts";
import { resolveSpring } from "./spring.ts";
import type { Arrangement, Bearing, PreloadMethod, VariableIndex } from "./types.ts";
import { addVariable, plainValue, unknownValue } from "./variables.ts";
import { rangeWords, usualRange, valueWords } from "./words.ts";

type FrictionBearing = Pick<Bearing, "frictionSeries" | "pitchDiameterMm">;
type MethodKind = (typeof PRELOAD_METHODS)[number];

const WORDS: Readonly<Record<MethodKind, string>> = {
  position: "by position: shoulders, spacers and shims",
  spring: "by a spring",
  adjuster: "by a threaded adjuster, set on the bench for each unit",
  shim: "by shims chosen for each unit",
};

/** The method named, whatever stands beside it; position for one that is not known, which is told. */
export function methodKind(ledger: Ledger, written: MethodEntry | undefined): MethodKind {
  const method = written?.method ?? "position";
  const known = PRELOAD_METHODS.find((name) => name === method);
  if (known === undefined) {
    ledger.problem({
      code: "unknown-name",
      path: "preload.method",
      expected: PRELOAD_METHODS.join(" or "),
      got: method,
      hint: didYouMean(method, PRELOAD_METHODS),
    });
  }
  return known ?? "position";
}

/**
 * How the preload is set, with the variables of its device.
 *
 * @param bearings for the torque that the two have without preload
 */
export function resolveMethod(
  ledger: Ledger,
  written: MethodEntry | undefined,
  arrangement: Arrangement,
  bearings: readonly FrictionBearing[],
): PreloadMethod {
  const kind = methodKind(ledger, written);
  ledger.note({
    path: "preload.method",
    label: "how the preload is set",
    value: WORDS[kind],
    origin: written === undefined ? "assumption" : "given",
    source: written === undefined ? "not given" : "",
  });
  for (const other of ["spring", "adjuster", "shim"] as const) {
    if (written?.[other] !== undefined && other !== kind) {
      ledger.problem({
        code: "conflict",
        path: `preload.${other}`,
        expected: `what belongs to method: ${kind}`,
        got: other,
        hint: `Write method: ${other}, or leave ${other} out`,
      });
    }
  }
  if (kind === "position") return { kind };
  const device = written?.[kind];
  if (device === undefined) {
    ledger.problem({
      code: "missing",
      path: `preload.${kind}`,
      expected: `what belongs to method: ${kind}`,
      got: "nothing",
    });
    return { kind: "position" };
  }
  if (written?.spring !== undefined && kind === "spring") return resolveSpring(ledger, written.spring, arrangement);
  if (written?.adjuster !== undefined && kind === "adjuster")
    return resolveAdjuster(ledger, written.adjuster, bearings);
  return resolveShim(ledger, written?.shim as ShimEntry);
}

function resolveAdjuster(ledger: Ledger, entry: AdjusterEntry, bearings: readonly FrictionBearing[]): PreloadMethod {
  const { advance, torque, noLoadTorque } = entry;
  if ((advance === undefined) === (torque === undefined)) {
    ledger.problem({
      code: advance === undefined ? "missing" : "conflict",
      path: "preload.adjuster",
      expected: 'either advance, such as "12 ±3 um", or torque, such as "25 ±5 N.mm"',
      got: advance === undefined ? "none of them" : "both",
    });
  }
  if (torque === undefined) {
    if (noLoadTorque !== undefined) {
      ledger.problem({
        code: "conflict",
        path: "preload.adjuster.noLoadTorque",
        expected: "noLoadTorque only beside torque",
        got: "noLoadTorque beside advance",
      });
    }
    const options = { low: -0.2, high: 0.5 };
    return {
      kind: "adjuster",
      setting: "advance",
      value: addDevice(ledger, "adjuster.advance", "advance of the adjuster past zero play", "mm", {
        written: advance,
        dimension: "length",
        options,
      }),
      noLoadTorque: null,
    };
  }
  const options = { low: 0, openLow: true };
  const value = addDevice(ledger, "adjuster.torque", "friction torque that the adjuster is set to", "N.mm", {
    written: torque,
    dimension: "torque",
    options,
  });
  const idle = addNoLoadTorque(ledger, noLoadTorque, bearings);
  const wanted = usualRange(ledger.distribution(value));
  const least = usualRange(ledger.distribution(idle));
  if (wanted.low <= least.high) {
    ledger.problem({
      code: "out-of-range",
      path: "preload.adjuster.torque",
      expected: `a torque above that of the bearings without preload, ${rangeWords(least.low, least.high, "N.mm")}, over its whole spread`,
      got: rangeWords(wanted.low, wanted.high, "N.mm"),
      hint: "At or below it a torque says nothing about the preload; give noLoadTorque if it is known to be less",
    });
  }
  return { kind: "adjuster", setting: "torque", value, noLoadTorque: idle };
}

/** What two bearings with grease resist when they are turned slowly without load (Palmgren's lower branch). */
function addNoLoadTorque(
  ledger: Ledger,
  written: Drawn | undefined,
  bearings: readonly FrictionBearing[],
): VariableIndex {
  const path = "preload.adjuster.noLoadTorque";
  const computed = () =>
    bearings.reduce(
      (sum, { frictionSeries, pitchDiameterMm }) =>
        sum + viscousTorqueNmm(frictionFactors(frictionSeries).greaseFactor, 0, 0, pitchDiameterMm),
      0,
    );
  const isKnown = bearings.every(({ pitchDiameterMm }) => pitchDiameterMm > 0);
  const why = "not given: viscous torque of both bearings with grease, turned slowly (Palmgren)";
  const value =
    written === undefined
      ? plainValue({ kind: "constant", value: isKnown ? computed() : Number.NaN }, why)
      : ledger.attempt(() => readDrawn(written, { dimension: "torque", path, options: { low: 0 } }), unknownValue());
  return addVariable(ledger, {
    name: path,
    label: "friction torque of both bearings without preload",
    group: "preload device",
    groupLabel: "the torque without preload",
    unit: "N.mm",
    value,
    origin: written === undefined ? "assumption" : "given",
    source: value.how,
  });
}

function resolveShim(ledger: Ledger, entry: ShimEntry): PreloadMethod {
  const { measure, step, range, error, aim } = entry;
  const stepMm = ledger.attempt(
    () => parseQuantity(step, "length", "preload.shim.step", { bareUnit: "mm", low: 0, openLow: true, high: 5 }),
    Number.NaN,
  );
  const { low: lowMm, high: highMm } = ledger.attempt(() => shimRangeMm(range), {
    low: Number.NaN,
    high: Number.NaN,
  });
  if (!(lowMm <= 0 && highMm >= 0) && !Number.isNaN(lowMm)) {
    ledger.problem({
      code: "out-of-range",
      path: "preload.shim.range",
      expected: "corrections that include 0, no shim changed",
      got: rangeWords(lowMm, highMm, "mm"),
    });
  }
  ledger.note({
    path: "preload.shim.stock",
    label: `stock of shims, chosen by the ${measure === "play" ? "play of the assembled pair" : "measured dimensions"}`,
    value: `steps of ${valueWords(stepMm, "mm")}, corrections ${Number.isFinite(lowMm) ? rangeWords(lowMm, highMm, "mm") : "without limit"}`,
    origin: "given",
    source: "",
  });
  const aimMm =
    aim === undefined
      ? null
      : ledger.attempt(
          () => parseQuantity(aim, "length", "preload.shim.aim", { bareUnit: "mm", low: -0.5, high: 1 }),
          Number.NaN,
        );
  ledger.note({
    path: "preload.shim.aim",
    label: measure === "play" ? "offset past zero play that is aimed at" : "machined offset that is aimed at",
    value: aimMm === null ? "the middle of the nominal window" : valueWords(aimMm, "mm"),
    origin: aim === undefined ? "assumption" : "given",
    source: aim === undefined ? "not given" : "",
  });
  const options = { low: -0.2, high: 0.2 };
  const variable = addDevice(ledger, "shim.error", "error of the measurement for the shim", "mm", {
    written: error ?? "0 um",
    dimension: "length",
    options,
    isAssumed: error === undefined,
  });
  return { kind: "shim", measure, stepMm, lowMm, highMm, error: variable, aimMm };
}

function shimRangeMm(range: ShimEntry["range"]): { low: number; high: number } {
  const path = "preload.shim.range";
  const options = { bareUnit: "mm", low: -10, high: 10 };
  if (range === undefined) return { low: Number.NEGATIVE_INFINITY, high: Number.POSITIVE_INFINITY };
  if (typeof range === "object") {
    return {
      low: parseQuantity(range.low, "length", `${path}.low`, options),
      high: parseQuantity(range.high, "length", `${path}.high`, options),
    };
  }
  const read = parseToleranced(range, "length", path, options);
  return "low" in read
    ? { low: read.low, high: read.high }
    : { low: -Math.abs(read.nominal), high: Math.abs(read.nominal) };
}
