import { centre, standardDeviation } from "../../distributions/moments.ts";
import { createWorkspace } from "../../model/columns.ts";
import { evaluateBlock } from "../../model/evaluate.ts";
import { compilePlan } from "../../model/plan.ts";
import type { ResolvedScenario } from "../../scenario/types.ts";
import { combineUncertainty } from "../../stats/uncertainty-budget.ts";
import type { Evidence } from "./evidence.ts";
import type { AuditResult, BudgetRow } from "./result.ts";

/** Smallest share of the largest contribution that a row is shown for. */
const LEAST_SHARE = 1e-3;

/**
 * The budget of the offset on the bench: every term with its sensitivity at the estimates, by differences over the model itself.
 *
 * Source: JCGM 100:2008, 5.1.3 with note 2 (sensitivities by finite differences), annex G for the degrees of freedom.
 */
export function offsetBudget(
  scenario: ResolvedScenario,
  evidence: Evidence,
): Pick<AuditResult["offset"], "estimateMm" | "budget" | "combined"> {
  const variables = evidence.variables.slice(0, scenario.variables.length);
  const plan = compilePlan({ ...scenario, variables: evidence.planned });
  const bench = plan.states.findIndex(({ isBench }) => isBench);
  const touched = [...new Set(evidence.terms.flatMap(({ moves }) => moves.map(({ target }) => target)))];
  const columns = 1 + 2 * touched.length;
  const estimates = variables.map(({ distribution }) => centre(distribution));
  for (const { target, source, factor, constant } of evidence.adjustments) {
    estimates[target] += factor * centre(evidence.variables[source].distribution) + constant;
  }
  const inputs = estimates.map((value) => new Float64Array(columns).fill(value));
  const steps = touched.map((target, place) => {
    const { distribution } = variables[target];
    const sd = distribution.kind === "constant" ? 0 : standardDeviation(distribution);
    const step = Number.isFinite(sd) && sd > 0 ? 0.5 * sd : 1e-3;
    inputs[target][1 + 2 * place] += step;
    inputs[target][2 + 2 * place] -= step;
    return step;
  });
  const workspace = createWorkspace(plan, columns);
  evaluateBlock(plan, inputs, columns, workspace);
  const { offsetMm } = workspace.states[bench];
  const sensitivity = new Map(
    touched.map((target, place) => [target, (offsetMm[1 + 2 * place] - offsetMm[2 + 2 * place]) / (2 * steps[place])]),
  );
  const rows = evidence.terms.map(({ label, kind, source, moves, degreesOfFreedom }): BudgetRow => {
    const { distribution, unit } = evidence.variables[source];
    // JCGM 100 takes s/√n for the mean of readings; the sd of Student's t would count the degrees of freedom twice.
    const standardUncertainty =
      distribution.kind === "student-t" ? distribution.scale : standardDeviation(distribution);
    const whole = moves.reduce((sum, { target, factor }) => sum + factor * (sensitivity.get(target) ?? 0), 0);
    const own = moves.length === 1 && kind !== "temperature";
    // A gauge is drawn on a scale of ±1: its row shows lengths.
    const scale = unit === "1" && own ? Math.abs(moves[0].factor) : 1;
    return {
      label,
      kind,
      unit: unit === "1" && own ? "mm" : unit,
      estimate:
        kind === "gauge" || kind === "resolution"
          ? 0
          : source < variables.length
            ? estimates[source]
            : centre(distribution),
      standardUncertainty: standardUncertainty * scale,
      sensitivity: whole / scale,
      contributionMm: Math.abs(whole) * standardUncertainty,
      degreesOfFreedom: Number.isFinite(degreesOfFreedom) ? degreesOfFreedom : null,
    };
  });
  const most = rows.reduce((largest, { contributionMm }) => Math.max(largest, contributionMm), 0);
  const budget = rows
    .filter(({ contributionMm }) => contributionMm > LEAST_SHARE * most)
    .sort((a, b) => b.contributionMm - a.contributionMm);
  const combined = combineUncertainty(
    rows.map(({ contributionMm, degreesOfFreedom }) => ({
      contribution: contributionMm,
      degreesOfFreedom: degreesOfFreedom ?? Number.POSITIVE_INFINITY,
    })),
  );
  return { estimateMm: offsetMm[0], budget, combined };
}
