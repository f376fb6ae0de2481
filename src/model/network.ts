/**
 * Temperatures of one state by a heat balance in which the bearings' own friction takes part.
 *
 * The network is linear, so that the temperatures are T = T₀ + r_a·Q_a + r_b·Q_b with Q the friction heat of the bearings, put
 * into their balls: T₀ and r are found once a unit. What remains is one equation, Q = H(Q): the heat that a pair makes at the
 * temperatures that the heat gives it. A pair that warms up from cold comes to rest at the smallest solution.
 *
 * Searched from below. While H(Q) > Q the next trial is the root of the chord through the last two trials, which for a convex H
 * lies at or below the solution; a trial with H(Q) < Q closes a bracket. A pair that reaches the bind limit while it still
 * makes more heat than it gets rid of has no rest short of binding: thermal runaway.
 */
import { frictionHeatW, viscousTorqueNmm } from "../physics/friction-torque.ts";
import { factoriseConductances, settleRises } from "../physics/thermal-network.ts";
import { ZONES } from "../scenario/types.ts";
import type { StateColumns, Workspace } from "./columns.ts";
import { torqueOfLoad } from "./friction.ts";
import { AT_WORK, type NetworkColumns, RUN_AWAY, SETTLED } from "./network-columns.ts";
import { BIND, THERMAL_RUNAWAY } from "./outcome.ts";
import type { ModelPlan } from "./plan.ts";
import type { NetworkPlan } from "./request-plan.ts";

const NODES = ZONES.length;
const BALLS_A = ZONES.indexOf("balls-a");
const BALLS_B = ZONES.indexOf("balls-b");
/** Heat is settled when making and losing agree to this share, far below what any temperature is known to. */
const TOLERANCE_RATIO = 1e-7;
const LEAST_HEAT_W = 1e-7;
/** Past this the oil burns whatever the preload: no balance. */
const HIGHEST_RISE_K = 500;
const MOST_TRIALS = 80;

/** Scratch of the solution. */
const factor = new Float64Array(NODES * NODES);
const vector = new Float64Array(NODES);

/** Fills what the network makes of the state before any friction, per unit. */
export function fillNetwork(
  plan: ModelPlan,
  network: NetworkPlan,
  inputs: readonly Float64Array[],
  count: number,
  columns: NetworkColumns,
): void {
  const { baseK, perHeatA, perHeatB, viscousA, viscousB, wattsPerNmm } = columns;
  const { paths, conductances } = network;
  const ambient = inputs[network.ambient];
  const speed = inputs[network.speed];
  const viscosity = inputs[network.viscosity];
  const [a, b] = plan.torques;
  for (let i = 0; i < count; i += 1) {
    for (let path = 0; path < conductances.length; path += 1) {
      paths.conductancesWPerK[path] = inputs[conductances[path]][i];
    }
    factoriseConductances(paths, factor);
    vector.fill(0);
    for (const { node, heat } of network.heats) vector[node] += inputs[heat][i];
    settleRises(paths, factor, vector);
    for (let node = 0; node < NODES; node += 1) baseK[node][i] = vector[node] + ambient[i] - 20;
    vector.fill(0);
    vector[BALLS_A] = 1;
    settleRises(paths, factor, vector);
    for (let node = 0; node < NODES; node += 1) perHeatA[node][i] = vector[node];
    vector.fill(0);
    vector[BALLS_B] = 1;
    settleRises(paths, factor, vector);
    for (let node = 0; node < NODES; node += 1) perHeatB[node][i] = vector[node];
    const factorA = network.isOilBath ? a.oilBathFactor : a.greaseFactor;
    const factorB = network.isOilBath ? b.oilBathFactor : b.greaseFactor;
    viscousA[i] = viscousTorqueNmm(factorA, viscosity[i], speed[i], a.pitchDiameterMm);
    viscousB[i] = viscousTorqueNmm(factorB, viscosity[i], speed[i], b.pitchDiameterMm);
    wattsPerNmm[i] = frictionHeatW(1, speed[i]);
  }
}

/** Fills the temperature rises that belong to the friction heat at work. */
export function fillNetworkRises(count: number, columns: NetworkColumns, out: readonly Float64Array[]): void {
  const { baseK, perHeatA, perHeatB, heatW, shareA } = columns;
  for (let node = 0; node < NODES; node += 1) {
    const base = baseK[node];
    const perA = perHeatA[node];
    const perB = perHeatB[node];
    const rise = out[node];
    for (let i = 0; i < count; i += 1) {
      const heatA = heatW[i] * shareA[i];
      rise[i] = base[i] + perA[i] * heatA + perB[i] * (heatW[i] - heatA);
    }
  }
}

/**
 * Finds the friction heat at which every pair comes to rest.
 *
 * @param evaluate solves the state at the heat at work, leaving preload and class in `out`
 */
export function settleNetwork(
  plan: ModelPlan,
  count: number,
  workspace: Workspace,
  columns: NetworkColumns,
  out: StateColumns,
  evaluate: () => void,
): void {
  const { heatW, shareA, lowW, lowExcessW, highW, highExcessW, fate } = columns;
  heatW.fill(0, 0, count);
  shareA.fill(0.5, 0, count);
  lowW.fill(Number.NaN, 0, count);
  highW.fill(Number.NaN, 0, count);
  fate.fill(AT_WORK, 0, count);
  columns.slipMm.set(workspace.slipMm.subarray(0, count));
  let open = count;
  for (let trial = 0; trial < MOST_TRIALS && open > 0; trial += 1) {
    workspace.slipMm.set(columns.slipMm.subarray(0, count));
    evaluate();
    for (let i = 0; i < count; i += 1) {
      if (fate[i] !== AT_WORK) continue;
      const q = heatW[i];
      const made = heatMade(plan, columns, out, i);
      const excess = made - q;
      if (!(Math.abs(excess) > TOLERANCE_RATIO * made + LEAST_HEAT_W)) {
        fate[i] = SETTLED;
      } else if (out.outcome[i] === BIND && excess > 0 && Number.isNaN(highW[i])) {
        // Bound before it has warmed up is no runaway.
        fate[i] = trial === 0 ? SETTLED : RUN_AWAY;
      } else if (hottest(columns, i) > HIGHEST_RISE_K) {
        fate[i] = RUN_AWAY;
      } else {
        heatW[i] = nextHeat(q, excess, lowW[i], lowExcessW[i], highW[i], highExcessW[i], trial);
        if (excess > 0) {
          lowW[i] = q;
          lowExcessW[i] = excess;
        } else {
          highW[i] = q;
          highExcessW[i] = excess;
        }
        continue;
      }
      open -= 1;
    }
  }
  for (let i = 0; i < count; i += 1) if (fate[i] === AT_WORK) fate[i] = RUN_AWAY;
  workspace.slipMm.set(columns.slipMm.subarray(0, count));
}

/** The next heat to try, W. */
function nextHeat(
  q: number,
  excess: number,
  lowW: number,
  lowExcess: number,
  highW: number,
  highExcess: number,
  trial: number,
): number {
  if (Number.isNaN(highW) && excess > 0) {
    const slope = (excess - lowExcess) / (q - lowW);
    // Without two trials the heat made; where making outgrows losing no rest is near, so go on in larger steps.
    if (Number.isNaN(slope)) return q + excess;
    return slope < 0 ? q + Math.min(-excess / slope, 50 * excess) : q + 2 * excess;
  }
  // Bracketed: the chord, every third time the middle, so that the bracket is sure to shrink.
  const low = excess > 0 ? q : Number.isNaN(lowW) ? 0 : lowW;
  const high = excess > 0 ? highW : q;
  const below = excess > 0 ? excess : lowExcess;
  const above = excess > 0 ? highExcess : excess;
  const chord = low + ((high - low) * below) / (below - above);
  return trial % 3 === 2 || !(chord > low && chord < high) ? 0.5 * (low + high) : chord;
}

/** Friction heat that a unit makes at its preload, W, of both bearings; leaves the share of bearing a. */
function heatMade(plan: ModelPlan, columns: NetworkColumns, out: StateColumns, i: number): number {
  const force = Math.abs(out.preloadN[i]);
  const torqueA = columns.viscousA[i] + torqueOfLoad(plan.torques[0], force);
  const torqueB = columns.viscousB[i] + torqueOfLoad(plan.torques[1], force);
  const sum = torqueA + torqueB;
  columns.shareA[i] = sum > 0 ? torqueA / sum : 0.5;
  return sum * columns.wattsPerNmm[i];
}

function hottest(columns: NetworkColumns, i: number): number {
  const heatA = columns.heatW[i] * columns.shareA[i];
  const heatB = columns.heatW[i] - heatA;
  return Math.max(
    columns.baseK[BALLS_A][i] + columns.perHeatA[BALLS_A][i] * heatA,
    columns.baseK[BALLS_B][i] + columns.perHeatB[BALLS_B][i] * heatB,
  );
}

/** Puts the fate of the heat balance into the state: temperatures, heat, and the class of what ran away. */
export function fillNetworkResults(
  count: number,
  workspace: Workspace,
  columns: NetworkColumns,
  out: StateColumns,
): void {
  const { fate, heatW } = columns;
  for (let node = 0; node < NODES; node += 1) {
    const rise = workspace.zoneRiseK[node];
    const zoneC = out.zoneC[node];
    for (let i = 0; i < count; i += 1) zoneC[i] = rise[i] + 20;
  }
  for (let i = 0; i < count; i += 1) {
    out.frictionHeatW[i] = heatW[i];
    if (fate[i] !== RUN_AWAY) continue;
    out.outcome[i] = BIND;
    out.flags[i] |= THERMAL_RUNAWAY;
  }
}
