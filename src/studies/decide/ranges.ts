import { InputError } from "../../errors.ts";
import type { Axis } from "../../scenario/axis.ts";
import type { VariableScenario } from "../../scenario/source.ts";
import type { Steps } from "../steps.ts";
import type { Maker } from "../yield.ts";
import { type Assessment, type AssessSize, createAssessor, differenceOf } from "./assess.ts";
import { axisOf, droppedSpread, refuseTooMany } from "./axes.ts";
import { type Finding, headOf, varied } from "./compare.ts";
import type { ParameterRange, RangesResult } from "./result.ts";

export interface RangesRequest {
  /** Each with the values that it takes while everything else stays as it stands. */
  readonly parameters: readonly Axis[];
  readonly size: AssessSize;
  readonly maker: Maker;
}

/** The value that does worst, or best, of those looked at. */
interface Extreme {
  readonly place: number;
  readonly found: Assessment;
}

/**
 * Moves one parameter at a time through its values, all on the same drawn units: how far each takes the yield.
 *
 * Needs the memory of a few scenarios, however many parameters there are. A step is a value.
 *
 * @throws InputError for a parameter that is given twice, and for a value that makes no scenario, with both
 */
export function* sweepRanges(source: VariableScenario, request: RangesRequest): Steps<Finding<RangesResult>> {
  const { parameters, size } = request;
  refuseRepeated(parameters);
  const total = parameters.reduce((sum, { values }) => sum + values.length, 0);
  refuseTooMany(total, "--list");
  const assessor = createAssessor(size);
  const base = assessor.assess(source.base);
  const ranges: ParameterRange[] = [];
  let done = 0;
  for (const parameter of parameters) {
    const { path, values } = parameter;
    const cells: ParameterRange["cells"][number][] = [];
    let lowest: Extreme | null = null;
    let highest: Extreme | null = null;
    for (const [place, { text }] of values.entries()) {
      const found = assessor.assess(varied(source, { name: text, changes: [{ path, value: text }] }));
      cells.push({ method: found.method, shares: found.shares, difference: differenceOf(base, found, "good") });
      const { ratio } = found.shares.good;
      if (lowest === null || ratio < lowest.found.shares.good.ratio) lowest = { place, found };
      if (highest === null || ratio > highest.found.shares.good.ratio) highest = { place, found };
      done += 1;
      yield { done, total };
    }
    const span = differenceOf(lowest!.found, highest!.found, "good");
    ranges.push({ ...axisOf(parameter), cells, least: lowest!.place, most: highest!.place, span });
  }
  const head = headOf("ranges", source.base, request);
  return {
    ...head,
    warnings: [...head.warnings, ...parameters.flatMap(droppedSpread)],
    base: { method: base.method, shares: base.shares },
    parameters: ranges,
  };
}

function refuseRepeated(parameters: readonly Axis[]): void {
  if (parameters.length === 0) {
    throw new InputError({
      code: "missing",
      path: "--over",
      expected: "parameters to move, by --over or --list",
      got: "none",
    });
  }
  const seen = new Set<string>();
  for (const { path } of parameters) {
    if (seen.has(path)) {
      throw new InputError({ code: "conflict", path, expected: "each parameter once", got: "it twice" });
    }
    seen.add(path);
  }
}
