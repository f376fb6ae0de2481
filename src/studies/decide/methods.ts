import { compileDraw, createInputs } from "../../engine/draw.ts";
import { runExtended } from "../../engine/extended.ts";
import { InputError } from "../../errors.ts";
import { createWorkspace } from "../../model/columns.ts";
import { compileExtended, EXTENDED_COLUMNS } from "../../model/extended-plan.ts";
import { compilePlan } from "../../model/plan.ts";
import type { VariableScenario } from "../../scenario/source.ts";
import type { ResolvedScenario } from "../../scenario/types.ts";
import type { Variant } from "../../scenario/variants.ts";
import { quantileOfSorted } from "../../stats/quantiles.ts";
import type { Maker } from "../yield.ts";
import { type AssessSize, drawFates } from "./assess.ts";
import { benchCost, refusal } from "./centre.ts";
import { type Finding, headOf } from "./compare.ts";
import { adjusterVariant, shimVariant, sortedUnits, springVariant } from "./method-variants.ts";
import { drawnMembers, withDimensions } from "./moved.ts";
import { pairedDifference, sharesOf } from "./plain-share.ts";
import type { ComparedMethod, MethodsResult } from "./result.ts";
import { bestAim, type ShimUnits, shimUnits } from "./shim-units.ts";

/** Units that stiffness and life are looked at on. */
const EXTENDED_UNITS = 256;

export interface MethodsRequest {
  /** Numbers of groups that bearings are sorted into. */
  readonly groups: readonly number[];
  /** What a method costs more a unit, by its name. */
  readonly prices: Readonly<Record<string, number>>;
  readonly size: AssessSize;
  readonly maker: Maker;
}

interface Row {
  readonly name: string;
  readonly how: string;
  readonly fates: Uint8Array;
  /** The scenario that stands for it where there is one. */
  readonly scenario: ResolvedScenario | null;
}

/** Ways of setting the preload, on the same drawn units. */
export function compareMethods(source: VariableScenario, request: MethodsRequest): Finding<MethodsResult> {
  const { size } = request;
  const position =
    source.base.method.kind === "position"
      ? source.base
      : source.vary([{ path: "preload", value: { method: "position" } }]);
  if (position.requirements.length > 0 || position.states.some(({ network }) => network !== null)) {
    throw refusal(position);
  }
  const count = size.samples;
  const plan = compilePlan(position);
  const units = shimUnits(position, plan, count);
  const rows: Row[] = [
    { name: "as machined", how: "spacings as drawn", fates: fatesAt(units, 0, null), scenario: position },
  ];
  const shiftMm = bestShift(units, null);
  const [member] = drawnMembers(position, plan);
  rows.push({
    name: "as machined, best nominal",
    how: `nominal offset moved by ${micrometres(shiftMm)}`,
    fates: fatesAt(units, shiftMm, null),
    scenario: withDimensions(position, [{ member, shiftMm: shiftMm / member.slopeRatio, toleranceRatio: 1 }]),
  });
  for (const groups of request.groups) {
    const { units: sorted, group } = sortedUnits(position, count, groups);
    const shifts = Float64Array.from({ length: groups }, (_, of) => bestShift(sorted, { group, of }));
    rows.push({
      name: `sorted bearings, ${groups} groups`,
      how: `spacings moved by ${Array.from(shifts, micrometres).join(", ")}, tightest group first`,
      fates: fatesAt(sorted, shifts, group),
      scenario: null,
    });
  }
  const none = new Float64Array(count);
  const add = (variant: Variant | null, how: string) => {
    const scenario = variant === null ? null : attempt(() => source.vary(variant.changes));
    if (variant === null || scenario === null) return;
    rows.push({ name: variant.name, how, fates: drawFates(scenario, compilePlan(scenario), count).fates, scenario });
  };
  for (const measure of ["dimensions", "play"] as const) {
    add(shimVariant(measure, bestAim(units, measure, 0.01, none)), "steps of 10 µm, measured to ±3 µm");
  }
  const advanceMm = bestAim(units, "play", 0.003, none);
  add(adjusterVariant(advanceMm), `zero play and on by ${micrometres(advanceMm)}, ±3 µm`);
  add(
    springVariant(position, source),
    "wave spring for the middle of the window, rate ±10 %, outer ring of b sliding in H6",
  );
  if (source.base !== position) {
    const { kind } = source.base.method;
    const fates = drawFates(source.base, compilePlan(source.base), count).fates;
    rows.push({ name: `as the scenario has it (${kind})`, how: "as written", fates, scenario: source.base });
  }
  const costs = source.base.batchPlans.costs;
  return {
    ...headOf("methods", position, request, source.base.content),
    currency: costs?.currency ?? "",
    methods: rows.map((row) => {
      const shares = sharesOf(row.fates);
      const price = request.prices[row.name] ?? 0;
      return {
        name: row.name,
        how: row.how,
        shares,
        difference: row === rows[0] ? null : pairedDifference(rows[0].fates, row.fates),
        priceOfMethod: request.prices[row.name] ?? null,
        costPerGoodUnit:
          costs === null && Object.keys(request.prices).length === 0
            ? null
            : (price + benchCost(costs) * shares.bench.ratio + (costs?.warranty ?? 0) * shares.service.ratio) /
              Math.max(shares.good.ratio, 1e-9),
        extended: row.scenario === null ? null : extendedOf(source, row.scenario),
      };
    }),
    lead: leadOf(rows),
  };
}

function micrometres(mm: number): string {
  return `${(1000 * mm).toFixed(1)} µm`.replace("-", "−");
}

/** A method that the assembly does not allow is left out. */
function attempt(action: () => ResolvedScenario): ResolvedScenario | null {
  try {
    return action();
  } catch (error) {
    if (error instanceof InputError) return null;
    throw error;
  }
}

function fatesAt(units: ShimUnits, shifts: number | Float64Array, group: Uint8Array | null): Uint8Array {
  const fates = new Uint8Array(units.count);
  for (let i = 0; i < units.count; i += 1) {
    const shift = typeof shifts === "number" ? shifts : shifts[group![i]];
    const offset = units.machinedMm[i] + shift;
    if (offset < units.benchLowMm[i] || offset > units.benchHighMm[i]) fates[i] = 1;
    else if (offset < units.lowMm[i] || offset > units.highMm[i]) fates[i] = 2;
  }
  return fates;
}

/** The shift with the most good units: every unit is good on an interval of shifts, so the deepest point of their overlap. */
export function bestShift(units: ShimUnits, selected: { group: Uint8Array; of: number } | null): number {
  const starts: number[] = [];
  const ends: number[] = [];
  for (let i = 0; i < units.count; i += 1) {
    if (selected !== null && selected.group[i] !== selected.of) continue;
    const low = units.lowMm[i] - units.machinedMm[i];
    const high = units.highMm[i] - units.machinedMm[i];
    if (!(low <= high) || !Number.isFinite(low)) continue;
    starts.push(low);
    ends.push(high);
  }
  if (starts.length === 0) return 0;
  const from = Float64Array.from(starts).sort();
  const to = Float64Array.from(ends).sort();
  let open = 0;
  let closed = 0;
  let most = -1;
  let best = 0;
  while (open < from.length) {
    if (from[open] <= to[closed]) {
      open += 1;
      if (open - closed > most) {
        most = open - closed;
        // The overlap lasts until the next interval ends or begins.
        best = 0.5 * (from[open - 1] + Math.min(to[closed], open < from.length ? from[open] : to[closed]));
      }
    } else closed += 1;
  }
  return best;
}

function leadOf(rows: readonly Row[]): MethodsResult["lead"] {
  const good = (row: Row) => row.fates.reduce((sum, fate) => sum + (fate === 0 ? 1 : 0), 0);
  const [best, second] = rows.slice().sort((a, b) => good(b) - good(a));
  return { best: best.name, second: second.name, difference: pairedDifference(second.fates, best.fates) };
}

/** Stiffness and life in the state with the most duty, where the scenario asks for them. */
function extendedOf(source: VariableScenario, scenario: ResolvedScenario): ComparedMethod["extended"] {
  if (source.base.extended === null) return null;
  const extended = compileExtended(scenario);
  if (extended === null) return null;
  const plan = compilePlan(scenario);
  const draw = compileDraw(scenario);
  const inputs = createInputs(draw, EXTENDED_UNITS);
  const workspace = createWorkspace(plan, EXTENDED_UNITS);
  const { values } = runExtended(plan, extended, draw, { block: 0, count: EXTENDED_UNITS }, inputs, workspace);
  const state = scenario.states.reduce(
    (a, b, place) => (b.weightRatio > scenario.states[a].weightRatio ? place : a),
    0,
  );
  const quantile = (name: (typeof EXTENDED_COLUMNS)[number]["name"], p: number): number => {
    const column = values[state][EXTENDED_COLUMNS.findIndex((candidate) => candidate.name === name)];
    const known = Float64Array.from(column.filter(Number.isFinite)).sort();
    return known.length === 0 ? Number.NaN : quantileOfSorted(known, p);
  };
  return {
    state: scenario.states[state].name,
    samples: EXTENDED_UNITS,
    axialStiffnessNPerMm: {
      median: quantile("axialStiffnessNPerMm", 0.5),
      low: quantile("axialStiffnessNPerMm", 0.05),
    },
    basicLifeH: { median: quantile("basicLifeH", 0.5), low: quantile("basicLifeH", 0.05) },
  };
}
