import type { KernelChoice } from "../kernel/open.ts";
import type { ResolvedScenario } from "../scenario/types.ts";
import type { BinnedOutput } from "../stats/sensitivity.ts";
import type { ConditionalSums } from "./conditional.ts";
import type { ScoreFrame } from "./frame.ts";
import type { KeptRows } from "./kept.ts";
import type { LineSums } from "./lines.ts";
import type { MeasureMoments, StateHistograms } from "./measures.ts";
import type { OffsetLaw } from "./offset-law.ts";
import type { Tally } from "./tally.ts";

/** Samples evaluated and summed up together. Part of the stream version: moments are folded chunk by chunk. */
export const BLOCKS_PER_CHUNK = 4;

/** One quantity frozen at a value in place of its draw, on otherwise the same units. */
export interface Variation {
  readonly label: string;
  readonly replacements: readonly { readonly variable: number; readonly value: number }[];
}

/** What a worker needs once, before any task. */
export interface WorkerSetup {
  readonly kernel: KernelChoice;
  readonly scenario: ResolvedScenario;
  /**
   * What to integrate over, where the yield is wanted, and the directions that the Sobol' points run along (null: the variables
   * themselves); null where nothing enters the offset linearly.
   */
  readonly offset: {
    readonly law: OffsetLaw;
    readonly shiftsMm: Float64Array;
    readonly frame: ScoreFrame | null;
  } | null;
  /** Directions of all scores, the first to integrate along, where that serves better than the offset; else null. */
  readonly lines: ScoreFrame | null;
  readonly variations: readonly Variation[];
}

export type Task =
  /** Samples chunk·size … of the run; rows below `keepRows` come back whole. */
  | { readonly kind: "chunk"; readonly chunk: number; readonly samples: number; readonly keepRows: number }
  /** The variations and the binned sensitivities on one block. */
  | { readonly kind: "contributors"; readonly block: number; readonly count: number }
  /** Stiffness, life and the like of one block. */
  | { readonly kind: "extended"; readonly block: number; readonly count: number }
  /** Points `first` … of one replicate of a scrambled Sobol' sequence, integrated over the offset. */
  | { readonly kind: "conditional"; readonly replicate: number; readonly first: number; readonly count: number }
  /** Lines `first` … of one replicate, integrated between the crossings of the edges. */
  | { readonly kind: "lines"; readonly replicate: number; readonly first: number; readonly count: number }
  /** Whole batches with their shared spread drawn once each. */
  | {
      readonly kind: "batches";
      readonly firstBatch: number;
      readonly batches: number;
      readonly size: number;
    };

/** Sums of one replicate's points, integrated over the law of the offset. */
export interface ConditionalResult extends ConditionalSums {
  readonly kind: "conditional";
  readonly replicate: number;
}

/** Sums of one replicate's lines. */
export interface LinesResult extends LineSums {
  readonly kind: "lines";
  readonly replicate: number;
}

export interface ChunkResult {
  readonly kind: "chunk";
  readonly moments: MeasureMoments;
  readonly kept: readonly KeptRows[];
  readonly count: number;
}

export interface ContributorsResult {
  readonly kind: "contributors";
  readonly count: number;
  readonly base: number;
  /** Per variation: units good only with it, and units good only without it. */
  readonly gained: Float64Array;
  readonly lost: Float64Array;
  /** Per state, per drawn variable: the preload over equiprobable bins of the variable. */
  readonly bins: readonly (readonly BinnedOutput[])[];
}

export interface BatchesResult {
  readonly kind: "batches";
  readonly good: Float64Array;
  readonly benchFailures: Float64Array;
  readonly serviceFailures: Float64Array;
}

export interface ExtendedBlockResult {
  readonly kind: "extended";
  readonly count: number;
  /** One entry a counted state: one column a quantity. */
  readonly values: readonly (readonly Float64Array[])[];
  /** Counts of these units, with the requirements on extended quantities. */
  readonly tally: Tally;
  /** Solutions that were not found to the last digit. */
  readonly unsolved: number;
}

export type TaskResult =
  | ChunkResult
  | ConditionalResult
  | LinesResult
  | ContributorsResult
  | BatchesResult
  | ExtendedBlockResult;

/** Everything a worker has counted in whole numbers over its chunks. */
export interface Collected {
  readonly tally: Tally;
  readonly histograms: readonly StateHistograms[];
}

/** Tasks by their place; an array will do. */
export interface TaskList {
  readonly length: number;
  at(place: number): Task | undefined;
}

/** Something that runs tasks: in this thread or in workers. Results come in any order, each with its task's place. */
export interface Executor {
  readonly workers: number;
  run(tasks: TaskList, onResult: (place: number, result: TaskResult) => void): Promise<void>;
  /** Counts of all chunks so far, one a worker. */
  collect(): Promise<Collected[]>;
  close(): Promise<void>;
}
