import { InputError, type Problem } from "../errors.ts";
import { parseQuantity } from "../units/quantity.ts";
import { assumed } from "./assumptions.ts";
import { resolveAudit } from "./audit.ts";
import { resolveBatchPlans } from "./batch-plans.ts";
import { type LooseBearing, resolveBearing } from "./bearings.ts";
import { limitTorque } from "./bind-torque.ts";
import { resolveChain } from "./chain.ts";
import { resolveCorrelations } from "./correlations.ts";
import { readDrawn } from "./drawn.ts";
import { resolveExtended } from "./extended.ts";
import { noteFriction } from "./friction-note.ts";
import { resolveGap } from "./gap.ts";
import { scenarioHash } from "./hash.ts";
import { resolveHeatPaths } from "./heat.ts";
import { Ledger } from "./ledger.ts";
import { warnOfMaterialRanges } from "./material-ranges.ts";
import { resolveMaterial } from "./materials.ts";
import { methodKind, resolveMethod } from "./method.ts";
import { resolveArrangement, resolveName } from "./names.ts";
import { resolveLimits } from "./preload-limits.ts";
import { resolveRequirements } from "./requirements.ts";
import { resolveRun } from "./run-settings.ts";
import type { ScenarioDocument } from "./schema.ts";
import { resolveSeat, type SeatSideContext } from "./seats.ts";
import { seatSideOf } from "./spring.ts";
import { resolveStates } from "./states.ts";
import { resolveToleranceCosts } from "./tolerance-costs.ts";
import type { Bearing, Material, ResolvedScenario, Side } from "./types.ts";
import { addVariable, plainValue, unknownValue } from "./variables.ts";
import { resolveVariants } from "./variants.ts";
import { valueWords } from "./words.ts";

/** Where a document came from. */
export interface ScenarioContext {
  readonly fileName: string;
  /** 1-based line of an address in the file, when there is a file. */
  readonly locate?: (path: string) => number | undefined;
  /** Problems found already, to be told together with those found here. */
  readonly problems?: readonly Problem[];
}

/**
 * A checked document to everything that a run uses: values in internal units, defaults filled in, variables in a fixed
 * order (bearings a, b; seats; chain; clamp; friction; states), each with where it came from.
 *
 * @throws InputError with all problems of the scenario
 */
export function resolveScenario(
  document: ScenarioDocument,
  context: ScenarioContext,
): Omit<ResolvedScenario, "content"> {
  const ledger = new Ledger();
  const name = resolveName(ledger, document.name, context.fileName);
  const arrangement = resolveArrangement(ledger, document.arrangement);
  const measuredAtC = resolveMeasuredAt(ledger, document.measuredAt);
  const loose = [
    resolveBearing(ledger, "a", document.bearings),
    resolveBearing(ledger, "b", document.bearings),
  ] as const;
  const materials: Record<Side, Material> = {
    housing: seatMaterial(ledger, document, "housing"),
    shaft: seatMaterial(ledger, document, "shaft"),
  };
  const slides = document.preload?.spring?.slides ?? "outer-b";
  const sliding =
    methodKind(ledger, document.preload) === "spring"
      ? { ring: slides, towards: seatSideOf(slides, arrangement) }
      : null;
  const [a, b] = loose.map((bearing) => seated(ledger, document, materials, sliding, bearing));
  const method = resolveMethod(ledger, document.preload, arrangement, [a, b]);
  const chain = resolveChain(ledger, {
    entries: document.chain,
    clamp: document.clamp,
    materials,
    arrangement,
    spring: method.kind === "spring" ? method : null,
    bearings: [a, b],
  });
  const clamp = resolveClamp(ledger, document.clamp);
  const seatFriction = resolveFriction(ledger, document.seatFriction);
  const gap = resolveGap(ledger, document.gap, materials, sliding?.ring ?? null);
  const heatPaths = resolveHeatPaths(ledger, document.thermal);
  const { states, running } = resolveStates(ledger, document.states, measuredAtC, document);
  const names = states.map((state) => state.name);
  const requirements = resolveRequirements(ledger, document, names);
  const extended = resolveExtended(ledger, document, chain, [a, b], running, names);
  const forces = resolveLimits(ledger, document, Math.min(a.dynamicRatingN, b.dynamicRatingN));
  const limits = limitTorque(ledger, forces, document.bind?.torque, [a, b]);
  noteFriction(ledger, document, [a, b]);
  const run = resolveRun(ledger, document);
  const correlations = resolveCorrelations(ledger, document.correlations);
  const bearings = { a: fixed(a), b: fixed(b) };
  const batchPlans = resolveBatchPlans(ledger, document, states, run.batchSize);
  const audit = resolveAudit(ledger, document.audit, { chain, bearings: [bearings.a, bearings.b], measuredAtC });
  const toleranceCosts = resolveToleranceCosts(ledger, document.toleranceCosts);
  const variants = resolveVariants(ledger, document.variants);
  warnOfMaterialRanges(ledger, { bearings, chain, states });

  refuseProblems(ledger, context);
  const numbers = {
    arrangement,
    bearings,
    chain,
    clamp,
    seatFriction,
    measuredAtC,
    method,
    gap,
    heatPaths,
    lubrication: document.lubrication ?? ("grease" as const),
    requirements,
    extended,
    states,
    limits,
    ...run,
    variables: ledger.variables,
    correlations,
  };
  return deepFreeze({
    name,
    title: document.title ?? name,
    description: document.description ?? "",
    hash: scenarioHash(numbers),
    ...numbers,
    batchPlans,
    audit,
    toleranceCosts,
    variants,
    inputs: ledger.inputs,
    warnings: ledger.warnings,
  });
}

type SeatedBearing = LooseBearing & Pick<Bearing, "inner" | "outer">;

function seated(
  ledger: Ledger,
  { seats }: ScenarioDocument,
  materials: Readonly<Record<Side, Material>>,
  sliding: SeatSideContext["sliding"],
  bearing: LooseBearing,
): SeatedBearing {
  const context = (side: Side): SeatSideContext => ({ side, written: seats[side], material: materials[side], sliding });
  const inner = resolveSeat(ledger, context("shaft"), bearing);
  const outer = resolveSeat(ledger, context("housing"), bearing);
  return { ...bearing, inner, outer };
}

/** Without what only the resolving needed. */
function fixed({
  boreDiameter: _b,
  outsideDiameter: _o,
  toleranceClass: _t,
  entry: _e,
  ...bearing
}: SeatedBearing): Bearing {
  return bearing;
}

function seatMaterial(ledger: Ledger, { seats }: ScenarioDocument, side: Side): Material {
  const path = `seats.${side}.material`;
  const { material: fallback, why } = assumed.seatMaterial;
  return resolveMaterial(ledger, seats[side].material, { path, label: `material of the ${side}`, fallback, why });
}

function resolveMeasuredAt(ledger: Ledger, written: ScenarioDocument["measuredAt"]): number {
  const measuredAtC =
    written === undefined
      ? assumed.measuredAt.temperatureC
      : ledger.attempt(() => parseQuantity(written, "temperature", "measuredAt", { low: -50, high: 150 }), Number.NaN);
  ledger.note({
    path: "measuredAt",
    label: "temperature at which dimensions are measured",
    value: valueWords(measuredAtC, "degC"),
    origin: written === undefined ? "standard" : "given",
    source: written === undefined ? assumed.measuredAt.why : "",
  });
  return measuredAtC;
}

function resolveClamp(ledger: Ledger, clamp: ScenarioDocument["clamp"]): ResolvedScenario["clamp"] {
  if (clamp === undefined) return null;
  const request = { dimension: "force", path: "clamp.force", options: { low: 0 } } as const;
  const value = ledger.attempt(() => readDrawn(clamp.force, request), unknownValue());
  const side = clamp.side ?? "shaft";
  const force = addVariable(ledger, {
    name: "clamp.force",
    label: `clamp force on the ${side}`,
    group: "clamp force",
    groupLabel: "the clamp force",
    unit: "N",
    value,
    origin: "given",
    source: value.how,
  });
  return { force, side };
}

function resolveFriction(ledger: Ledger, written: ScenarioDocument["seatFriction"]): number {
  const request = { dimension: "ratio", path: "seatFriction", options: { low: 0, high: 1 } } as const;
  const value =
    written === undefined
      ? plainValue(assumed.seatFriction.distribution, assumed.seatFriction.why)
      : ledger.attempt(() => readDrawn(written, request), unknownValue());
  return addVariable(ledger, {
    name: "seatFriction",
    label: "coefficient of friction between ring and seat",
    group: "seat friction",
    groupLabel: "the seat friction",
    unit: "1",
    value,
    origin: written === undefined ? "assumption" : "given",
    source: value.how,
  });
}

function refuseProblems(ledger: Ledger, { fileName, locate, problems = [] }: ScenarioContext): void {
  // A part that was left out because its shape is wrong is missing only in consequence.
  const own = problems.length === 0 ? ledger.problems : ledger.problems.filter((problem) => problem.code !== "missing");
  const all = [...problems, ...own];
  if (all.length > 0) throw new InputError(all.map((problem) => placed(problem, fileName, locate)));
}

/** A problem with the file and line it stands in. */
export function placed(problem: Problem, fileName: string, locate?: (path: string) => number | undefined): Problem {
  return { ...problem, file: problem.file ?? fileName, line: problem.line ?? locate?.(problem.path) };
}

function deepFreeze<T>(value: T): T {
  if (value !== null && typeof value === "object" && !Object.isFrozen(value)) {
    Object.freeze(value);
    for (const part of Object.values(value)) deepFreeze(part);
  }
  return value;
}
