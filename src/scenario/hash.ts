import { sha256Hex } from "../numeric/sha256.ts";
import type { Bearing, Material, ResolvedScenario } from "./types.ts";

/** What a scenario's numbers depend on: no titles, labels, sources or remarks. */
type Hashed = Omit<
  ResolvedScenario,
  | "name"
  | "title"
  | "description"
  | "hash"
  | "toleranceCosts"
  | "variants"
  | "audit"
  | "batchPlans"
  | "inputs"
  | "warnings"
  | "content"
>;

/**
 * JSON with sorted keys and no spaces, so that equal content is equal text whatever order it was written in.
 * Numbers print as the shortest text that reads back to the same double.
 */
export function canonicalJson(value: unknown): string {
  if (Array.isArray(value)) return `[${value.map(canonicalJson).join(",")}]`;
  if (value !== null && typeof value === "object") {
    const entries = Object.entries(value)
      .filter(([, part]) => part !== undefined)
      .sort(([a], [b]) => (a < b ? -1 : a > b ? 1 : 0));
    return `{${entries.map(([key, part]) => `${JSON.stringify(key)}:${canonicalJson(part)}`).join(",")}}`;
  }
  if (typeof value === "number" && !Number.isFinite(value)) return `"${value}"`;
  return JSON.stringify(value === 0 ? 0 : value);
}

/** SHA-256 over the canonical JSON of everything in a scenario that changes a number. */
export function scenarioHash(scenario: Hashed): string {
  return sha256Hex(
    canonicalJson({
      arrangement: scenario.arrangement,
      bearings: { a: bearingNumbers(scenario.bearings.a), b: bearingNumbers(scenario.bearings.b) },
      // In the order of the plan; a member's name is in the name of its variable.
      chain: scenario.chain.map(({ name: _, material, ...member }) => ({
        ...member,
        material: materialNumbers(material),
      })),
      clamp: scenario.clamp,
      seatFriction: scenario.seatFriction,
      measuredAtC: scenario.measuredAtC,
      method: scenario.method,
      gap:
        scenario.gap === null
          ? undefined
          : {
              ...scenario.gap,
              members: scenario.gap.members.map(({ name: _, material, ...member }) => ({
                ...member,
                material: materialNumbers(material),
              })),
            },
      heatPaths: scenario.heatPaths,
      lubrication: scenario.lubrication,
      requirements: scenario.requirements,
      extended: scenario.extended ?? undefined,
      states: scenario.states.map(({ label: _, ...state }) => state),
      limits: scenario.limits,
      requiredYieldRatio: scenario.requiredYieldRatio,
      batchSize: scenario.batchSize,
      seed: scenario.seed,
      samples: scenario.samples,
      variables: scenario.variables.map(({ name, distribution, batchShare, unit }) => ({
        name,
        distribution,
        batchShare,
        unit,
      })),
      correlations: scenario.correlations,
    }),
  );
}

/** SHA-256 over a scenario's own hash and what only one study of it reads: the readings of an audit, the costs of a batch. */
export function studyHash(scenario: Pick<ResolvedScenario, "hash">, part: unknown): string {
  return sha256Hex(canonicalJson({ scenario: scenario.hash, part }));
}

function bearingNumbers({ designation: _, ...bearing }: Bearing): object {
  const seat = (ring: Bearing["inner"]) => ({ ...ring, mateMaterial: materialNumbers(ring.mateMaterial) });
  return {
    ...bearing,
    ringMaterial: materialNumbers(bearing.ringMaterial),
    ballMaterial: materialNumbers(bearing.ballMaterial),
    inner: seat(bearing.inner),
    outer: seat(bearing.outer),
  };
}

function materialNumbers({ expansionPerK, youngsModulusMPa, poissonRatio, densityKgPerM3 }: Material): object {
  return { expansionPerK, youngsModulusMPa, poissonRatio, densityKgPerM3 };
}
