import { mean } from "../../distributions/moments.ts";
import { compileOffsetLaw } from "../../engine/offset-law.ts";
import { type WindowSet, windowChances } from "../../engine/window-set.ts";
import { InputError } from "../../errors.ts";
import { compilePlan } from "../../model/plan.ts";
import type { VariableScenario } from "../../scenario/source.ts";
import type { ResolvedScenario } from "../../scenario/types.ts";
import { chooseSteps, costSlope } from "../../stats/tolerance-allocation.ts";
import type { Maker } from "../yield.ts";
import {
  type Assessment,
  type AssessSize,
  createAssessor,
  drawFates,
  overReplicates,
  type RatioEstimate,
} from "./assess.ts";
import { bestNominal } from "./best-nominal.ts";
import { chooseMember, refusal } from "./centre.ts";
import { type Finding, headOf } from "./compare.ts";
import { type DrawnMember, drawnMembers, withDimensions } from "./moved.ts";
import { plainShare } from "./plain-share.ts";
import { remediesOf } from "./remedies.ts";
import type { AllocatedMember, AllocateResult, AllocationPoint } from "./result.ts";
import { spreadCurve, spreadFor } from "./spread-curve.ts";
import {
  asFree,
  continuousOptimum,
  type Grid,
  priceAt,
  stepsOf,
  type TolerancePart,
  toleranceParts,
} from "./tolerance-parts.ts";

/** How often the budget is made smaller until the exact law reaches the target. */
const MOST_ROUNDS = 12;
const FRONT_POINTS = 16;

export interface AllocateRequest {
  readonly targetRatio: number;
  readonly grid: Grid;
  /** Step of nominal dimensions, mm. */
  readonly resolutionMm: number;
  /** Whether the nominal may be moved, and at which member; null: the shortest. */
  readonly movesNominal: boolean;
  readonly member: string | null;
  readonly size: AssessSize;
  readonly maker: Maker;
}

interface Chosen {
  readonly scenario: ResolvedScenario;
  readonly tolerances: readonly { readonly mm: number; readonly name: string }[];
  readonly shiftMm: number;
  readonly good: RatioEstimate;
  readonly isProven: boolean;
}

/**
 * Finds the cheapest tolerances of the chain that reach a yield in every state.
 *
 * Given its units' windows, the yield depends on the tolerances through the spread of the offset (its shape hardly changes), so
 * the widest spread that reaches the target is found first and shared out over the members by Lagrange's conditions, then in
 * steps of the drawing; the set that is recommended is judged by its own exact law and by plain sampling of other units.
 */
export function allocate(source: VariableScenario, request: AllocateRequest): Finding<AllocateResult> {
  const scenario = source.base;
  const { targetRatio, grid, size, movesNominal } = request;
  const assessment = createAssessor(size).assess(scenario);
  const { acceptance } = assessment;
  if (acceptance === null) throw refusal(scenario);
  const members = drawnMembers(scenario, assessment.plan);
  const { free, fixed } = toleranceParts(members, scenario.toleranceCosts);
  if (free.length === 0) {
    throw new InputError({
      code: "missing",
      path: "toleranceCosts.chain",
      expected: "the price of at least one tolerance that varies",
      got: "none",
    });
  }
  const moved = chooseMember(members, request.member);
  const curve = spreadCurve(scenario, assessment.plan, acceptance.windows, movesNominal);
  const drawnSd = Math.sqrt(members.reduce((sum, { offsetSdMm }) => sum + offsetSdMm * offsetSdMm, 0));
  const fixedSd = Math.sqrt(fixed.reduce((sum, { offsetSdMm }) => sum + offsetSdMm * offsetSdMm, 0));
  const parts = free.map(asFree);
  const budgetOf = (spreadRatio: number): number => {
    const total = spreadRatio * drawnSd;
    return Math.sqrt(Math.max(0, total * total - fixedSd * fixedSd));
  };
  const price = (ts: ArrayLike<number>) => free.reduce((sum, part, i) => sum + priceAt(part, ts[i]), 0);
  const front = curve
    .filter(
      ({ spreadRatio }, place) => place % Math.max(1, Math.floor(curve.length / FRONT_POINTS)) === 0 && spreadRatio > 0,
    )
    .flatMap(({ spreadRatio, good }): AllocationPoint[] => {
      const ts = continuousOptimum(free, budgetOf(spreadRatio));
      if (ts === null) return [];
      const cost = parts.reduce((sum, _, i) => sum + priceAt(free[i], ts[i]), 0);
      const used = Math.sqrt(
        parts.reduce((sum, { weight }, i) => sum + weight * ts[i] * (weight * ts[i]), fixedSd * fixedSd),
      );
      // Where all ends are reached, more spread is not to be had: the yield is then better than at this spread.
      if (used < 0.97 * spreadRatio * drawnSd) return [];
      return Number.isFinite(cost) ? [{ spreadRatio, cost, good, tolerancesMm: Array.from(ts) }] : [];
    });
  const spreadRatio = spreadFor(curve, targetRatio);
  const chosen = spreadRatio === null ? null : choose();
  const drawn = free.map(({ member }) => member.toleranceMm);
  const best = curve.reduce((a, b) => (b.good.ratio > a.good.ratio ? b : a));
  const check =
    chosen === null
      ? null
      : plainShare(
          drawFates({ ...chosen.scenario, seed: `${scenario.seed} again` }, compilePlan(chosen.scenario), size.samples)
            .fates,
        );
  return {
    ...headOf("allocate", scenario, request),
    targetRatio,
    currency: scenario.toleranceCosts?.currency ?? "",
    hasPrices: scenario.toleranceCosts !== null,
    isReachable: chosen !== null,
    isProven: chosen?.isProven ?? true,
    current: { good: assessment.shares.good, cost: price(drawn), ...stack(drawn) },
    chosen:
      chosen === null
        ? null
        : {
            good: chosen.good,
            cost: price(chosen.tolerances.map(({ mm }) => mm)),
            shiftMm: chosen.shiftMm,
            ...stack(chosen.tolerances.map(({ mm }) => mm)),
          },
    member: {
      name: moved.name,
      fromMm: moved.nominalMm,
      toMm: moved.nominalMm + (chosen === null ? 0 : nominalStep(chosen.shiftMm)),
    },
    members: free.map((part, place) => memberOf(part, place)),
    fixed: fixed.map(({ name, toleranceMm }) => ({ name, toleranceMm })),
    bestReachable: { spreadRatio: best.spreadRatio, good: best.good },
    front,
    check,
    remedies: chosen === null ? remediesOf(source, targetRatio, size) : [],
  };

  function nominalStep(shiftMm: number): number {
    const { resolutionMm } = request;
    const target = moved.nominalMm + shiftMm / moved.slopeRatio;
    return movesNominal ? resolutionMm * Math.round(target / resolutionMm) - moved.nominalMm : 0;
  }

  function choose(): Chosen | null {
    let budget = budgetOf(spreadRatio!);
    for (let round = 0; round < MOST_ROUNDS; round += 1) {
      const set = chooseWithin(budget);
      if (set === null) return null;
      if (set.good.lowRatio >= targetRatio) return set;
      budget *= 0.985;
    }
    return null;
  }

  function chooseWithin(budget: number): Chosen | null {
    const continuous = continuousOptimum(free, budget);
    if (continuous === null) return null;
    const listed = free.map((part, i) => ({ weight: part.weight, steps: stepsOf(part, grid, continuous[i]) }));
    const found = chooseSteps(listed, budget, 2);
    if (found === null) return null;
    const tolerances = found.chosen.map((place, i) => {
      const { tolerance, name } = listed[i].steps[place];
      return { mm: tolerance, name };
    });
    const scaled = withTolerances(scenario, free, tolerances, moved, 0);
    const windows = acceptance!.windows;
    const shiftMm = movesNominal ? bestNominal(windows, lawOf(scaled)).shiftMm : 0;
    const changed = withTolerances(scenario, free, tolerances, moved, nominalStep(shiftMm));
    const good = yieldOf(changed, assessment, windows);
    return { scenario: changed, tolerances, shiftMm, good, isProven: found.isProven };
  }

  /** Worst case and root sum square of the whole chain, half-widths. */
  function stack(tolerances: readonly number[]): { worstCaseMm: number; rootSumSquareMm: number } {
    const widths = [
      ...free.map(({ member }, i) => Math.abs(member.slopeRatio) * tolerances[i]),
      ...fixed.map(({ slopeRatio, toleranceMm }) => Math.abs(slopeRatio) * toleranceMm),
    ];
    return {
      worstCaseMm: widths.reduce((sum, width) => sum + width, 0),
      rootSumSquareMm: Math.sqrt(widths.reduce((sum, width) => sum + width * width, 0)),
    };
  }

  function memberOf(part: TolerancePart, place: number): AllocatedMember {
    const { member } = part;
    const to = chosen?.tolerances[place];
    const at = to?.mm ?? member.toleranceMm;
    const sd = chosen === null ? 1 : Math.sqrt(chosenSpread());
    return {
      name: member.name,
      nominalMm: member.nominalMm,
      fromMm: member.toleranceMm,
      toMm: to?.mm ?? null,
      step: to?.name ?? "",
      priceFrom: priceAt(part, member.toleranceMm),
      priceTo: to === undefined ? null : priceAt(part, to.mm),
      gainPerMoney: gainPerMoney(part, at, chosen === null ? 1 : sd / drawnSd, chosen === null ? drawnSd : sd),
    };
  }

  function chosenSpread(): number {
    return free.reduce((sum, { weight }, i) => {
      const own = weight * chosen!.tolerances[i].mm;
      return sum + own * own;
    }, fixedSd * fixedSd);
  }

  /** dYield/dt over dPrice/dt at a tolerance: what the next piece of money buys here. */
  function gainPerMoney(part: TolerancePart, toleranceMm: number, spread: number, sdMm: number): number | null {
    const slope = yieldSlope(spread);
    const perTolerance = (slope / drawnSd) * ((part.weight * part.weight * toleranceMm) / sdMm);
    if (part.curve !== null) return perTolerance / costSlope(part.curve, toleranceMm);
    const tighter = part.processes!.filter(({ tolerance }) => tolerance < toleranceMm * (1 - 1e-9));
    if (tighter.length === 0) return null;
    const next = tighter.reduce((a, b) => (b.tolerance > a.tolerance ? b : a));
    const more = next.price - priceAt(part, toleranceMm);
    return more > 0 ? (perTolerance * (next.tolerance - toleranceMm)) / more : null;
  }

  /** dYield/dspread along the curve. */
  function yieldSlope(spread: number): number {
    let place = curve.findIndex((point) => point.spreadRatio >= spread);
    if (place < 1) place = place === 0 ? 1 : curve.length - 1;
    const [a, b] = [curve[place - 1], curve[place]];
    return (b.good.ratio - a.good.ratio) / (b.spreadRatio - a.spreadRatio);
  }
}

function withTolerances(
  scenario: ResolvedScenario,
  free: readonly TolerancePart[],
  tolerances: readonly { readonly mm: number }[],
  moved: DrawnMember,
  nominalMm: number,
): ResolvedScenario {
  const scaled = withDimensions(
    scenario,
    free.map(({ member }, i) => ({ member, shiftMm: 0, toleranceRatio: tolerances[i].mm / member.toleranceMm })),
  );
  return nominalMm === 0 ? scaled : withDimensions(scaled, [{ member: moved, shiftMm: nominalMm, toleranceRatio: 1 }]);
}

function lawOf(scenario: ResolvedScenario) {
  return compileOffsetLaw(scenario, compilePlan(scenario), [])!.law;
}

/** Yield of a changed chain on the windows of the unchanged one, by its own exact law. */
function yieldOf(changed: ResolvedScenario, base: Assessment, windows: WindowSet): RatioEstimate {
  let shiftMm = 0;
  for (const { variable, slopeRatio } of drawnMembers(base.scenario, base.plan)) {
    const from = base.scenario.variables[variable].distribution;
    const to = changed.variables[variable].distribution;
    shiftMm += slopeRatio * (mean(to) - mean(from));
  }
  return overReplicates(windowChances(windows, windows, lawOf(changed), shiftMm));
}
