import { InputError } from "../../errors.ts";
import { compilePlan } from "../../model/plan.ts";
import type { VariableScenario } from "../../scenario/source.ts";
import { costSlope } from "../../stats/tolerance-allocation.ts";
import type { Maker } from "../yield.ts";
import { type AssessSize, createAssessor, drawFates } from "./assess.ts";
import { chooseMember, refusal } from "./centre.ts";
import { ChainSpread } from "./chain-spread.ts";
import { type ChosenTolerances, chooseTolerances, type DrawingRules, nominalStepMm } from "./choose-tolerances.ts";
import { type Finding, headOf } from "./compare.ts";
import { drawnMembers } from "./moved.ts";
import { plainShare } from "./plain-share.ts";
import { remediesOf } from "./remedies.ts";
import type { AllocatedMember, AllocateResult, AllocationPoint } from "./result.ts";
import { type SpreadPoint, spreadCurve, spreadFor } from "./spread-curve.ts";
import { continuousOptimum, type Grid, priceAt, type TolerancePart, toleranceParts } from "./tolerance-parts.ts";

/** About how many points the front has. */
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

/**
 * Finds the cheapest tolerances of the chain that reach a yield in every state.
 *
 * Given its units' windows, the yield depends on the tolerances through the spread of the offset (its shape hardly changes), so
 * the widest spread that reaches the target is found first and shared out over the members by Lagrange's conditions, then in
 * steps of the drawing; the set that is recommended is judged by its own exact law and by plain sampling of other units.
 *
 * @throws InputError where nothing can be integrated over the offset, or no tolerance that varies has a price
 */
export function allocate(source: VariableScenario, request: AllocateRequest): Finding<AllocateResult> {
  const scenario = source.base;
  const { targetRatio, grid, size, movesNominal, resolutionMm } = request;
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
  const chain = new ChainSpread(members, free, fixed);
  const moved = chooseMember(members, request.member);
  const rules: DrawingRules = { grid, moved, movesNominal, resolutionMm };
  const curve = spreadCurve(scenario, assessment.plan, acceptance.windows, movesNominal);
  const spreadRatio = spreadFor(curve, targetRatio);
  const chosen =
    spreadRatio === null
      ? null
      : chooseTolerances(assessment, acceptance.windows, chain, rules, spreadRatio, targetRatio);
  const best = curve.reduce((a, b) => (b.good.ratio > a.good.ratio ? b : a));
  const drawnMm = free.map(({ member }) => member.toleranceMm);
  const chosenMm = chosen?.tolerances.map(({ mm }) => mm) ?? null;
  return {
    ...headOf("allocate", scenario, request),
    targetRatio,
    currency: scenario.toleranceCosts?.currency ?? "",
    hasPrices: scenario.toleranceCosts !== null,
    isReachable: chosen !== null,
    isProven: chosen?.isProven ?? true,
    current: { good: assessment.shares.good, cost: chain.price(drawnMm), ...chain.stack(drawnMm) },
    chosen:
      chosen === null || chosenMm === null
        ? null
        : { good: chosen.good, cost: chain.price(chosenMm), shiftMm: chosen.shiftMm, ...chain.stack(chosenMm) },
    member: {
      name: moved.name,
      fromMm: moved.nominalMm,
      toMm: moved.nominalMm + (chosen === null ? 0 : nominalStepMm(rules, chosen.shiftMm)),
    },
    members: memberRows(chain, curve, chosen),
    fixed: fixed.map(({ name, toleranceMm }) => ({ name, toleranceMm })),
    bestReachable: { spreadRatio: best.spreadRatio, good: best.good },
    front: frontOf(chain, curve),
    check: chosen === null ? null : checkOf(chosen, scenario.seed, size.samples),
    remedies: chosen === null ? remediesOf(source, targetRatio, size) : [],
  };
}

/** The set that was chosen, sampled plainly on units of its own. */
function checkOf({ scenario }: ChosenTolerances, seed: string, samples: number) {
  return plainShare(drawFates({ ...scenario, seed: `${seed} again` }, compilePlan(scenario), samples).fates);
}

/** What each yield costs at least, before tolerances are rounded to steps of the drawing. */
function frontOf(chain: ChainSpread, curve: readonly SpreadPoint[]): AllocationPoint[] {
  const every = Math.max(1, Math.floor(curve.length / FRONT_POINTS));
  return curve
    .filter(({ spreadRatio }, place) => place % every === 0 && spreadRatio > 0)
    .flatMap(({ spreadRatio, good }): AllocationPoint[] => {
      const tolerancesMm = continuousOptimum(chain.free, chain.budgetMm(spreadRatio));
      if (tolerancesMm === null) return [];
      // Where all ends are reached, more spread is not to be had: the yield is then better than at this spread.
      if (chain.sdMm(tolerancesMm) < 0.97 * spreadRatio * chain.drawnSdMm) return [];
      const cost = chain.price(tolerancesMm);
      return Number.isFinite(cost) ? [{ spreadRatio, cost, good, tolerancesMm: Array.from(tolerancesMm) }] : [];
    });
}

function memberRows(
  chain: ChainSpread,
  curve: readonly SpreadPoint[],
  chosen: ChosenTolerances | null,
): AllocatedMember[] {
  const sdMm = chosen === null ? chain.drawnSdMm : chain.sdMm(chosen.tolerances.map(({ mm }) => mm));
  const gainPerMm = yieldSlope(curve, sdMm / chain.drawnSdMm) / chain.drawnSdMm;
  return chain.free.map((part, place) => {
    const { member, weight } = part;
    const to = chosen?.tolerances[place];
    const at = to?.mm ?? member.toleranceMm;
    return {
      name: member.name,
      nominalMm: member.nominalMm,
      fromMm: member.toleranceMm,
      toMm: to?.mm ?? null,
      step: to?.name ?? "",
      priceFrom: priceAt(part, member.toleranceMm),
      priceTo: to === undefined ? null : priceAt(part, to.mm),
      gainPerMoney: gainPerMoney(part, at, gainPerMm * ((weight * weight * at) / sdMm)),
    };
  });
}

/**
 * dYield/dt over dPrice/dt at a tolerance: what the next piece of money buys here. Null where nothing tighter can be bought.
 *
 * @param gainPerTolerance dYield/dt, per mm
 */
function gainPerMoney(part: TolerancePart, toleranceMm: number, gainPerTolerance: number): number | null {
  if (part.curve !== null) return gainPerTolerance / costSlope(part.curve, toleranceMm);
  const tighter = part.processes!.filter(({ tolerance }) => tolerance < toleranceMm * (1 - 1e-9));
  if (tighter.length === 0) return null;
  const next = tighter.reduce((a, b) => (b.tolerance > a.tolerance ? b : a));
  const more = next.price - priceAt(part, toleranceMm);
  return more > 0 ? (gainPerTolerance * (next.tolerance - toleranceMm)) / more : null;
}

/** dYield/dspread along the curve. */
function yieldSlope(curve: readonly SpreadPoint[], spreadRatio: number): number {
  let place = curve.findIndex((point) => point.spreadRatio >= spreadRatio);
  if (place < 1) place = place === 0 ? 1 : curve.length - 1;
  const [a, b] = [curve[place - 1], curve[place]];
  return (b.good.ratio - a.good.ratio) / (b.spreadRatio - a.spreadRatio);
}
