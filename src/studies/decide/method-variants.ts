import { prepare } from "../../distributions/prepare.ts";
import { compilePlan } from "../../model/plan.ts";
import type { VariableScenario } from "../../scenario/source.ts";
import type { ResolvedScenario } from "../../scenario/types.ts";
import type { Variant } from "../../scenario/variants.ts";
import { usualRange } from "../../scenario/words.ts";
import { drawnMembers } from "./moved.ts";
import { type ShimUnits, shimUnits } from "./shim-units.ts";

/** Travel that a spring is pressed by where it gives the middle of the window, and its lengths, mm. */
const SPRING_TRAVEL_MM = 0.8;
const SPRING_FREE_MM = 3;
const SPRING_SOLID_MM = 1;

function mm(value: number): string {
  return `${Number(value.toPrecision(9))} mm`;
}

/** Shims in steps of 10 µm, chosen with an error of ±3 µm. */
export function shimVariant(measure: "dimensions" | "play", aimMm: number): Variant {
  const shim = { measure, step: "10 um", error: "0 ±3 um", aim: mm(aimMm) };
  return {
    name: `shims by ${measure === "play" ? "measured play" : "dimensions"}`,
    changes: [{ path: "preload", value: { method: "shim", shim } }],
  };
}

/** A threaded adjuster, turned to zero play and on by an advance that holds to ±3 µm. */
export function adjusterVariant(advanceMm: number): Variant {
  const advance = `${(1000 * advanceMm).toFixed(2)} ±3 um`;
  return { name: "adjuster", changes: [{ path: "preload", value: { method: "adjuster", adjuster: { advance } } }] };
}

/**
 * A wave spring that gives the middle of the window, ±10 % in rate, on the outer ring of bearing b, which then slides in an H6
 * bore; the longest housing member makes room for it. Null where the assembly is not of that kind.
 */
export function springVariant(scenario: ResolvedScenario, source: VariableScenario): Variant | null {
  if (scenario.arrangement !== "back-to-back" || scenario.bearings.b.outer.seatSide !== "inboard") return null;
  const plan = compilePlan(scenario);
  const housing = scenario.chain.filter(({ side }) => side === "housing").map(({ length }) => length);
  const members = drawnMembers(scenario, plan).filter(({ variable }) => housing.includes(variable));
  if (members.length === 0) return null;
  const longest = members.reduce((a, b) => (b.nominalMm > a.nominalMm ? b : a));
  if (longest.slopeRatio < 0 || typeof source.at(`chain.${longest.name}.length`) === "undefined") return null;
  const forceN = 0.5 * (scenario.limits.lowN + scenario.limits.highN);
  const rate = forceN / SPRING_TRAVEL_MM;
  const { low, high } = usualRange(scenario.variables[longest.variable].distribution);
  // The chain's nominal offset is near where the pair begins to carry: what the spring is pressed by comes on top.
  const room = SPRING_FREE_MM - SPRING_TRAVEL_MM;
  const length = high > low ? `${mm(low - room)} .. ${mm(high - room)}` : mm(low - room);
  return {
    name: "spring",
    changes: [
      {
        path: "preload",
        value: {
          method: "spring",
          spring: {
            form: "wave",
            slides: "outer-b",
            freeLength: `${SPRING_FREE_MM} ±0.05 mm`,
            rate: `${rate.toPrecision(6)} ±${(0.1 * rate).toPrecision(6)} N/mm`,
            solidHeight: `${SPRING_SOLID_MM} ±0.03 mm`,
          },
        },
      },
      { path: `chain.${longest.name}.length`, value: length },
      { path: "seats.housing.b.fit", value: `${scenario.bearings.b.outsideDiameterMm} H6` },
    ],
  };
}

/** Units whose two bearings come from one of k equally large groups by clearance, and which group that is. */
export function sortedUnits(
  scenario: ResolvedScenario,
  count: number,
  groups: number,
): { readonly units: ShimUnits; readonly group: Uint8Array } {
  const { a, b } = scenario.bearings;
  const from = prepare(scenario.variables[a.clearance].distribution);
  const to = prepare(scenario.variables[b.clearance].distribution);
  const group = new Uint8Array(count);
  const units = shimUnits(scenario, compilePlan(scenario), count, (inputs, first, here) => {
    const columnA = inputs[a.clearance];
    const columnB = inputs[b.clearance];
    for (let i = 0; i < here; i += 1) {
      const place = Math.min(groups - 1, Math.floor(groups * from.cdf(columnA[i])));
      group[first + i] = place;
      // The bearing drawn for b gives way to one of the same rank in the group of a.
      columnB[i] = to.quantile(Math.min(1 - 1e-12, Math.max(1e-12, (place + to.cdf(columnB[i])) / groups)));
    }
  });
  return { units, group };
}
