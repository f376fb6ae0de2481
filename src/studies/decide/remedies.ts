import { InputError } from "../../errors.ts";
import type { VariableScenario } from "../../scenario/source.ts";
import type { ResolvedScenario } from "../../scenario/types.ts";
import type { Variant } from "../../scenario/variants.ts";
import { usualRange } from "../../scenario/words.ts";
import { type AssessSize, createAssessor } from "./assess.ts";
import { bestNominal } from "./best-nominal.ts";
import type { Remedy } from "./result.ts";
import { spreadCurve, TIGHTEST } from "./spread-curve.ts";

type Kind = "clearance" | "material" | "stand-out" | "method";

interface Candidate extends Variant {
  readonly kind: Kind;
}

/**
 * What else could bring the yield up: clearance groups, sorted bearings, materials, matched bearings, shims. Each with the
 * tolerances as drawn and a spacing of its own, and with tolerances as tight as can be; then the best of each kind together.
 */
export function remediesOf(source: VariableScenario, targetRatio: number, size: AssessSize): Remedy[] {
  const assessor = createAssessor({ points: Math.max(64, size.points / 8), samples: Math.min(size.samples, 8192) });
  const judge = ({ name, changes }: Variant): Remedy | null => {
    const scenario = attempt(() => source.vary(changes));
    if (scenario === null) return null;
    const { acceptance, shares, plan } = assessor.assess(scenario);
    if (acceptance === null) {
      return { name, good: shares.good, tightest: null, reaches: shares.good.lowRatio >= targetRatio };
    }
    const { good } = bestNominal(acceptance.windows, acceptance.law.law);
    const [tightest] = spreadCurve(scenario, plan, acceptance.windows, true, [TIGHTEST]);
    return { name, good, tightest: tightest.good, reaches: tightest.good.lowRatio >= targetRatio };
  };
  const singles = candidates(source.base)
    .flatMap((candidate) => {
      const remedy = judge(candidate);
      return remedy === null ? [] : [{ candidate, remedy }];
    })
    .sort((a, b) => b.remedy.good.ratio - a.remedy.good.ratio);
  // The best of each kind, added one by one; shims set the spacing themselves and go with the others.
  const kinds = new Set<Kind>();
  const best = singles.filter(({ candidate: { kind } }) => !kinds.has(kind) && kinds.add(kind));
  const joint: Remedy[] = [];
  for (let parts = 2; parts <= best.length; parts += 1) {
    const together = best.slice(0, parts).map(({ candidate }) => candidate);
    const remedy = judge({
      name: together.map(({ name }) => name).join(" + "),
      changes: together.flatMap(({ changes }) => changes),
    });
    if (remedy !== null) joint.push(remedy);
  }
  return [...singles.map(({ remedy }) => remedy), ...joint].sort((a, b) => b.good.ratio - a.good.ratio);
}

/** A change that does not go with the scenario is left out: a group that the bearing does not come in, say. */
function attempt(action: () => ResolvedScenario): ResolvedScenario | null {
  try {
    return action();
  } catch (error) {
    if (error instanceof InputError) return null;
    throw error;
  }
}

function candidates(scenario: ResolvedScenario): Candidate[] {
  const { low, high } = usualRange(scenario.variables[scenario.bearings.a.clearance].distribution);
  const third = (high - low) / 3;
  const isDeepGroove = scenario.bearings.a.kind === "deep-groove";
  const um = (mm: number) => (1000 * mm).toFixed(2);
  const housing = scenario.bearings.a.outer.mateMaterial.name;
  const shaft = scenario.bearings.a.inner.mateMaterial.name;
  const set = (kind: Kind, name: string, changes: Readonly<Record<string, unknown>>): Candidate => ({
    kind,
    name,
    changes: Object.entries(changes).map(([path, value]) => ({ path, value })),
  });
  return [
    ...(isDeepGroove
      ? [
          ...["C2", "CN", "C3", "C4"].map((group) =>
            set("clearance", `clearance group ${group}`, { "bearings.both.clearanceGroup": group }),
          ),
          set("clearance", "bearings sorted: middle third of the clearance", {
            "bearings.both.clearanceGroup": undefined,
            "bearings.both.clearance": `${um(low + third)}..${um(high - third)} um`,
          }),
        ]
      : []),
    ...["ductile-iron", "grey-iron", "carbon-steel"]
      .filter((material) => material !== housing)
      .map((material) => set("material", `housing of ${material}`, { "seats.housing.material": material })),
    ...(shaft === "carbon-steel"
      ? []
      : [set("material", "shaft of carbon steel", { "seats.shaft.material": "carbon-steel" })]),
    set("stand-out", "stand-outs ±2 µm (matched bearings)", {
      "bearings.both.standOut": "0 ±2 um",
    }),
    set("method", "shims by measured play, 10 µm steps", {
      preload: { method: "shim", shim: { measure: "play", step: "10 um", error: "0 ±3 um" } },
    }),
  ];
}
