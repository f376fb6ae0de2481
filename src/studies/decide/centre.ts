import { windowChances } from "../../engine/window-set.ts";
import { InputError } from "../../errors.ts";
import { compilePlan } from "../../model/plan.ts";
import type { ResolvedCosts, ResolvedScenario } from "../../scenario/types.ts";
import { meanInterval } from "../../stats/intervals.ts";
import { momentsOf, standardDeviation } from "../../stats/moments.ts";
import type { Maker } from "../yield.ts";
import { type AssessSize, createAssessor, type DifferenceEstimate, drawFates, overReplicates } from "./assess.ts";
import { bestNominal, shiftRange } from "./best-nominal.ts";
import { type Finding, headOf } from "./compare.ts";
import { type DrawnMember, drawnMembers, withDimensions } from "./moved.ts";
import { plainShare } from "./plain-share.ts";
import type { CentrePoint, CentreResult } from "./result.ts";

const CURVE_POINTS = 81;

/** Keeps the cost of a good unit finite where there is none. */
const LEAST_GOOD = 1e-9;

export interface CentreRequest {
  /** Step that the drawing's dimensions go by, mm. */
  readonly resolutionMm: number;
  /** Member to change; null for the shortest. */
  readonly member: string | null;
  /** What a unit costs that fails at the bench and in service; null: the yield is what counts. */
  readonly prices: { readonly scrap: number; readonly warranty: number; readonly currency: string } | null;
  readonly size: AssessSize;
  readonly maker: Maker;
}

/** Finds the nominal spacing that gives the most good units, or the least expected cost, and puts it on the drawing's grid. */
export function centreNominal(scenario: ResolvedScenario, request: CentreRequest): Finding<CentreResult> {
  const { resolutionMm, prices, size } = request;
  const assessment = createAssessor(size).assess(scenario);
  const { acceptance } = assessment;
  if (acceptance === null) throw refusal(scenario);
  const { windows, law } = acceptance;
  const members = drawnMembers(scenario, assessment.plan);
  const member = chooseMember(members, request.member);

  const at = (shiftMm: number): CentrePoint & { replicates: Record<"good" | "cost", Float64Array> } => {
    const good = windowChances(windows, windows, law.law, shiftMm);
    const benchGood = windowChances(windows, windows.states[windows.bench], law.law, shiftMm);
    const service = benchGood.map((value, place) => value - good[place]);
    const cost =
      prices === null
        ? good
        : benchGood.map(
            (value, place) =>
              (prices.scrap * (1 - value) + prices.warranty * service[place]) / Math.max(good[place], LEAST_GOOD),
          );
    return {
      offsetMm: windows.meanOffsetMm + shiftMm,
      good: overReplicates(good),
      bench: overReplicates(benchGood.map((value) => 1 - value)),
      service: overReplicates(service),
      costPerGoodUnit: prices === null ? null : costOf(cost),
      replicates: { good, cost },
    };
  };
  const range = shiftRange(windows);
  const best = bestNominal(windows, law.law);
  const wanted = prices === null ? best.shiftMm : cheapest(at, range, best.shiftMm);
  const target = member.nominalMm + wanted / member.slopeRatio;
  const stepped = (steps: number) => resolutionMm * (Math.round(target / resolutionMm) + steps);
  const atNominal = (nominalMm: number) => at((nominalMm - member.nominalMm) * member.slopeRatio);
  // Rounding may fall to either side: the better of the neighbours is taken.
  const [nominalMm] = [0, -1, 1]
    .map(stepped)
    .filter((candidate) => candidate > 0)
    .sort((a, b) => score(atNominal(b)) - score(atNominal(a)));
  const rounded = atNominal(nominalMm);
  const current = at(0);
  const steps = [-1, 1].map((step) => {
    const nominal = nominalMm + step * resolutionMm;
    const point = atNominal(nominal);
    return { nominalMm: nominal, point: bare(point), lost: difference(rounded.replicates.good, point.replicates.good) };
  });
  const span = range.high - range.low;
  const curve = Array.from({ length: CURVE_POINTS }, (_, place) =>
    bare(at(range.low + (span * place) / (CURVE_POINTS - 1))),
  );
  const moved = withDimensions(scenario, [{ member, shiftMm: nominalMm - member.nominalMm, toleranceRatio: 1 }]);
  const fates = drawFates({ ...moved, seed: `${scenario.seed} again` }, compilePlan(moved), size.samples).fates;
  return {
    ...headOf("centre", scenario, request),
    objective: prices === null ? "yield" : "cost",
    currency: prices?.currency ?? "",
    member: { name: member.name, fromMm: member.nominalMm, toMm: nominalMm, toleranceMm: member.toleranceMm },
    others: members.filter(({ name }) => name !== member.name).map(({ name }) => name),
    resolutionMm,
    current: bare(current),
    best: bare(at(wanted)),
    rounded: bare(rounded),
    gain: difference(current.replicates.good, rounded.replicates.good),
    steps,
    curve,
    check: plainShare(fates),
  };

  function score({ good, costPerGoodUnit }: CentrePoint): number {
    return costPerGoodUnit === null ? good.ratio : -costPerGoodUnit.mean;
  }
}

function bare({ offsetMm, good, bench, service, costPerGoodUnit }: CentrePoint): CentrePoint {
  return { offsetMm, good, bench, service, costPerGoodUnit };
}

function costOf(replicates: Float64Array): NonNullable<CentrePoint["costPerGoodUnit"]> {
  const moments = momentsOf(replicates);
  const { low, high } = meanInterval(moments.mean, standardDeviation(moments), moments.count);
  return { mean: moments.mean, low, high };
}

/** Paired over the scrambles. */
function difference(from: Float64Array, to: Float64Array): DifferenceEstimate {
  const moments = momentsOf(to.map((value, place) => value - from[place]));
  const { low, high } = meanInterval(moments.mean, standardDeviation(moments), moments.count);
  return { differenceRatio: moments.mean, lowRatio: low, highRatio: high };
}

/** The cheapest shift: a look over the range, then thirds about the best of it. */
function cheapest(
  at: (shiftMm: number) => CentrePoint,
  range: { readonly low: number; readonly high: number },
  start: number,
): number {
  const cost = (shiftMm: number) => at(shiftMm).costPerGoodUnit!.mean;
  const steps = 40;
  const width = (range.high - range.low) / steps;
  let best = start;
  for (let place = 0; place <= steps; place += 1) {
    const shift = range.low + place * width;
    if (cost(shift) < cost(best)) best = shift;
  }
  let a = best - width;
  let b = best + width;
  while (b - a > 1e-4) {
    const left = a + (b - a) / 3;
    const right = b - (b - a) / 3;
    if (cost(left) <= cost(right)) b = right;
    else a = left;
  }
  return 0.5 * (a + b);
}

/** The member named, or the shortest: shims and spacers are what is most easily changed. */
export function chooseMember(members: readonly DrawnMember[], name: string | null): DrawnMember {
  if (name === null) return members.reduce((a, b) => (b.nominalMm < a.nominalMm ? b : a));
  const found = members.find((member) => member.name === name);
  if (found !== undefined) return found;
  throw new InputError({
    code: "unknown-name",
    path: "--member",
    expected: `a member of the chain: ${members.map((member) => member.name).join(", ")}`,
    got: name,
  });
}

/** What a unit costs that fails at the bench: scrapped, or reworked and scrapped where that does not save it. */
export function benchCost(costs: ResolvedCosts | null): number {
  if (costs === null) return 0;
  return costs.rework === null ? costs.scrap : costs.rework + (1 - costs.reworkRatio) * costs.scrap;
}

/** What failures cost by the costs of a scenario; null without any. */
export function failurePrices(costs: ResolvedCosts | null): CentreRequest["prices"] {
  return costs === null ? null : { scrap: benchCost(costs), warranty: costs.warranty, currency: costs.currency };
}

/** What cannot be read from acceptance windows. */
export function refusal(scenario: ResolvedScenario): InputError {
  const hints = {
    shim: "Sweep preload.shim.aim instead",
    adjuster: "Sweep preload.adjuster.advance or torque instead",
    spring: "Sweep preload.spring.freeLength instead",
    position: "Sweep the length of a member instead (seatspread sweep --over chain.<member>.length=…)",
  } as const;
  const { kind } = scenario.method;
  return new InputError({
    code: "not-supported",
    path: kind === "position" ? "requirements" : "preload.method",
    expected: "a preload set by position alone, whose good units are those in the window of the preload",
    got: kind === "position" ? "requirements, a heat balance or no spread of the chain" : kind,
    hint: hints[kind],
  });
}
