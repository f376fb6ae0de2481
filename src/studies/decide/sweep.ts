import { type Axis, axisText } from "../../scenario/axis.ts";
import type { Override } from "../../scenario/overrides.ts";
import type { VariableScenario } from "../../scenario/source.ts";
import type { Steps } from "../steps.ts";
import type { Maker } from "../yield.ts";
import { type Assessment, type AssessSize, createAssessor } from "./assess.ts";
import { axisOf, droppedSpread, refuseTooMany } from "./axes.ts";
import { type Finding, headOf, varied } from "./compare.ts";
import { crossingsOf } from "./crossing.ts";
import type { SweepResult, SweepSeries } from "./result.ts";

export interface SweepRequest {
  readonly over: Axis;
  readonly and: Axis | null;
  /** Yield whose crossing is looked for along the first axis; null for none. */
  readonly targetRatio: number | null;
  readonly size: AssessSize;
  readonly maker: Maker;
}

/** Judges a scenario over a grid of one or two parameters, on the same drawn units throughout. A step is a cell. */
export function* sweepScenario(source: VariableScenario, request: SweepRequest): Steps<Finding<SweepResult>> {
  const { over, and, targetRatio, size } = request;
  const rows = and === null ? [null] : and.values.map(({ text }) => text);
  const total = rows.length * over.values.length;
  refuseTooMany(total, "--and");
  const assessor = createAssessor(size);
  let done = 0;
  const series: SweepSeries[] = [];
  for (const row of rows) {
    const fixed: Override[] = row === null ? [] : [{ path: and!.path, value: row }];
    const at = (value: string) => {
      const name = row === null ? value : `${value}, ${row}`;
      // The row first: where both name one group, the column is the finer of the two.
      const changes = [...fixed, { path: over.path, value }];
      return assessor.assess(varied(source, { name, changes }));
    };
    const cells: { method: Assessment["method"]; shares: Assessment["shares"] }[] = [];
    for (const { text } of over.values) {
      const { method, shares } = at(text);
      cells.push({ method, shares });
      done += 1;
      yield { done, total };
    }
    const points = over.values.flatMap(({ number }, place) =>
      number === null ? [] : [{ x: number, good: cells[place].shares.good }],
    );
    const crossings =
      targetRatio === null || over.unit === null
        ? []
        : crossingsOf(points, targetRatio, (x) => at(axisText(over, x)).shares.good);
    series.push({ name: row ?? "", cells, crossings });
  }
  const head = headOf("sweep", source.base, request);
  return {
    ...head,
    warnings: [...head.warnings, ...[over, ...(and === null ? [] : [and])].flatMap(droppedSpread)],
    over: axisOf(over),
    and: and === null ? null : axisOf(and),
    targetRatio,
    series,
  };
}
