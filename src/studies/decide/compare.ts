import { InputError } from "../../errors.ts";
import type { VariableScenario } from "../../scenario/source.ts";
import { EXTENDED_REQUIREMENTS, type ResolvedScenario } from "../../scenario/types.ts";
import type { Variant } from "../../scenario/variants.ts";
import type { Warning } from "../../warnings.ts";
import { REPLICATES } from "../conditional.ts";
import type { Steps } from "../steps.ts";
import { type Maker, provenanceOf } from "../yield.ts";
import { type Assessment, type AssessSize, createAssessor, differenceOf } from "./assess.ts";
import { bestNominal } from "./best-nominal.ts";
import type { ComparedVariant, CompareResult, DecisionResult } from "./result.ts";

/** Everything of a decision but its verdict. */
export type Finding<Result extends DecisionResult> = Omit<Result, "verdict">;

export interface CompareRequest {
  readonly variants: readonly Variant[];
  readonly size: AssessSize;
  readonly maker: Maker;
}

/**
 * Judges variants of a scenario on the same drawn units: every quantity that a variant leaves alone is drawn alike.
 *
 * Needs the memory of one variant, however many there are. A step is a variant.
 *
 * @throws InputError for a change that makes no scenario, with the variant's name
 */
export function* compareVariants(
  source: VariableScenario,
  { variants: given, size, maker }: CompareRequest,
): Steps<Finding<CompareResult>> {
  const variants = given.map(({ name, changes }) => ({ name, changes: source.expand(changes) }));
  if (variants.length === 0) {
    throw new InputError({
      code: "missing",
      path: "variants",
      expected: "something to compare with",
      got: "nothing",
      hint: 'Give --with "clearance C4: bearings.both.clearanceGroup=C4", or variants in the scenario',
    });
  }
  const assessor = createAssessor(size);
  const base = assessor.assess(source.base);
  const known = new Set(source.base.warnings.map(({ message }) => message));
  const rows: ComparedVariant[] = [rowOf("as it stands", [], base, null, [])];
  for (const [place, variant] of variants.entries()) {
    const assessment = assessor.assess(varied(source, variant));
    const cautions = assessment.scenario.warnings
      .filter(({ message }) => !known.has(message))
      .map(({ path, message }) => `${path === "" ? "" : `${path}: `}${message}`);
    const changes = variant.changes.map(({ path, value }) => `${path}=${words(value)}`);
    rows.push(rowOf(variant.name, changes, assessment, base, cautions));
    yield { done: place + 1, total: variants.length };
  }
  return {
    ...headOf("compare", source.base, { variants, size, maker }),
    variants: rows,
    lead: leadOf(rows, variants, (variant) => assessor.assess(varied(source, variant))),
  };
}

/** A variant resolved; what is wrong with it is told with its name. */
export function varied(source: VariableScenario, variant: Variant): ResolvedScenario {
  try {
    return source.vary(variant.changes);
  } catch (error) {
    if (!(error instanceof InputError)) throw error;
    throw new InputError(
      error.problems.map((problem) => ({ ...problem, path: `${variant.name}: ${problem.path}`, line: undefined })),
    );
  }
}

/**
 * What stands at the head of every decision.
 *
 * @param request kept in the result, but for who made it
 * @param content of the scenario that the study was given, where it judges another one
 */
export function headOf<
  Study extends DecisionResult["study"],
  Request extends { readonly size: AssessSize; readonly maker: Maker },
>(study: Study, scenario: ResolvedScenario, request: Request, content = scenario.content) {
  const { maker, ...asked } = request;
  const { size } = request;
  return {
    study,
    provenance: provenanceOf(scenario, maker),
    title: scenario.title,
    requiredYieldRatio: scenario.requiredYieldRatio,
    batchSize: scenario.batchSize,
    basis: { replicates: REPLICATES, pointsPerReplicate: size.points, samples: size.samples },
    warnings: [...scenario.warnings, ...unseenRequirements(scenario)],
    asked,
    scenario: content,
  };
}

/** What decisions do not look at: it would take the whole solution of every unit under load. */
function unseenRequirements({ requirements }: ResolvedScenario): Warning[] {
  const unseen = requirements.filter(({ quantity }) => (EXTENDED_REQUIREMENTS as readonly string[]).includes(quantity));
  if (unseen.length === 0) return [];
  const names = [...new Set(unseen.map(({ quantity }) => quantity))].join(", ");
  const message = `requirements on ${names} are not looked at here: a unit counts as good without them; a run counts them`;
  return [{ code: "estimate", path: "requirements", message }];
}

function words(value: unknown): string {
  return typeof value === "string" ? value : JSON.stringify(value);
}

function rowOf(
  name: string,
  changes: readonly string[],
  assessment: Assessment,
  base: Assessment | null,
  cautions: readonly string[],
): ComparedVariant {
  const { acceptance } = assessment;
  const centred = acceptance === null ? null : bestNominal(acceptance.windows, acceptance.law.law);
  return {
    name,
    changes,
    centred: centred === null ? null : { shiftMm: centred.shiftMm, good: centred.good },
    scenarioHash: assessment.scenario.hash,
    method: assessment.method,
    shares: assessment.shares,
    states: assessment.states.map(({ name: state, good }) => ({ state, good })),
    difference:
      base === null
        ? null
        : {
            good: differenceOf(base, assessment, "good"),
            bench: differenceOf(base, assessment, "bench"),
            service: differenceOf(base, assessment, "service"),
          },
    cautions,
  };
}

function leadOf(
  rows: readonly ComparedVariant[],
  variants: readonly Variant[],
  assess: (variant: Variant) => Assessment,
): CompareResult["lead"] {
  if (variants.length < 2) return null;
  const order = variants
    .map((variant, place) => ({ variant, yieldRatio: rows[place + 1].shares.good.ratio }))
    .sort((a, b) => b.yieldRatio - a.yieldRatio);
  const [first, second] = order;
  const difference = differenceOf(assess(second.variant), assess(first.variant), "good");
  return { best: first.variant.name, second: second.variant.name, difference };
}
