import { countedStateNames } from "../engine/kept.ts";
import { createTally, mergeTally, type Tally } from "../engine/tally.ts";
import type { ExtendedBlockResult } from "../engine/tasks.ts";
import { EXTENDED_COLUMNS } from "../model/extended-plan.ts";
import type { ModelPlan } from "../model/plan.ts";
import type { ExtendedResult, SampleTable } from "./result.ts";
import { shareOf } from "./share.ts";
import { summariseValues } from "./summary.ts";

const ROOM = EXTENDED_COLUMNS.findIndex(({ name }) => name === "shoulderRoomRad");

/** What a run worked out beyond the preload. */
export interface ExtendedFinding {
  readonly result: ExtendedResult;
  readonly tally: Tally;
  /** One row a unit, one column a state and quantity. */
  readonly table: SampleTable;
  readonly unsolved: number;
}

/** Sums up the extended outputs of all blocks. */
export function summariseExtended(plan: ModelPlan, parts: readonly ExtendedBlockResult[]): ExtendedFinding {
  const names = countedStateNames(plan);
  const samples = parts.reduce((sum, part) => sum + part.count, 0);
  const tally = createTally(names.length);
  for (const part of parts) mergeTally(tally, part.tally);
  const columns = names.map((_, s) => EXTENDED_COLUMNS.map((_column, place) => joined(parts, s, place, samples)));
  return {
    tally,
    unsolved: parts.reduce((sum, part) => sum + part.unsolved, 0),
    result: {
      samples,
      states: names.map((state, s) => ({
        state,
        quantities: EXTENDED_COLUMNS.map(({ name, unit, label }, place) => ({
          column: name,
          label,
          summary: summariseValues(columns[s][place], unit),
        })),
        truncated: shareOf(
          columns[s][ROOM].reduce((sum, room) => sum + (room < 0 ? 1 : 0), 0),
          samples,
        ),
      })),
      goodInEveryState: shareOf(tally.goodInEveryState, tally.samples),
    },
    table: {
      count: samples,
      columns: names.flatMap((state, s) =>
        EXTENDED_COLUMNS.map(({ name, unit, label }, place) => ({
          name: `${state}.${name}`,
          unit,
          description: `${label} in state ${state}`,
          values: columns[s][place],
        })),
      ),
    },
  };
}

function joined(parts: readonly ExtendedBlockResult[], state: number, place: number, samples: number): Float64Array {
  const column = new Float64Array(samples);
  let first = 0;
  for (const part of parts) {
    column.set(part.values[state][place], first);
    first += part.count;
  }
  return column;
}
