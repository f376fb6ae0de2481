import type { Problem } from "../errors.ts";
import type { MeasuredTable } from "../scenario/measured-files.ts";
import type { Override } from "../scenario/overrides.ts";
import type { LogHistogramState } from "../stats/log-histogram.ts";
import type { Contributors, NominalResult, OverallResult, RunResult, StateResult } from "../studies/result.ts";
import type { Pair } from "./pair.ts";

/** A scenario as text, with what its measured files hold: a page cannot read files beside it. */
export interface Source {
  readonly text: string;
  readonly fileName: string;
  readonly measured: readonly MeasuredTable[];
}

/** What a page asks its workers. One answers quick looks and reads and writes scenarios, one makes whole runs, others help. */
export type Request =
  /** The content of a scenario, to lay out the controls. */
  | { readonly kind: "open"; readonly source: Source }
  | LookRequest
  | RunRequest
  /** What is known of a variant is no longer what the page shows of it. */
  | { readonly kind: "outdated"; readonly variant: number }
  | { readonly kind: "forget"; readonly variant: number }
  | { readonly kind: "export"; readonly id: number; readonly variant: number; readonly what: ExportKind }
  /** The scenario's text with changes written into it. */
  | {
      readonly kind: "save";
      readonly id: number;
      readonly source: Source;
      readonly overrides: readonly Override[];
    }
  /** The other end of the port helps with quick looks, or asks for help with them. */
  | { readonly kind: "helper" | "help"; readonly port: MessagePort };

/** A scenario with changes, for one variant. */
interface Question {
  readonly variant: number;
  /** Counts up; an older answer than the last question is not shown. */
  readonly id: number;
  readonly source: Source;
  readonly overrides: readonly Override[];
}

/** A quick look at the first units. */
export interface LookRequest extends Question {
  readonly kind: "look";
  readonly samples: number;
}

export interface RunRequest extends Question {
  readonly kind: "run";
}

export const EXPORT_KINDS = ["report", "json", "samples", "summary", "extended", "csv"] as const;
export type ExportKind = (typeof EXPORT_KINDS)[number];

export type Reply =
  | { readonly kind: "opened"; readonly source: Source; readonly content: unknown }
  | { readonly kind: "picture"; readonly variant: number; readonly id: number; readonly picture: Picture }
  | {
      readonly kind: "problems";
      /** Null: the scenario itself could not be read. */
      readonly variant: number | null;
      readonly id: number;
      readonly problems: readonly { readonly problem: Problem; readonly words: string }[];
    }
  | {
      readonly kind: "file";
      readonly id: number;
      readonly name: string;
      readonly type: string;
      readonly bytes: Uint8Array;
    }
  /** A variant where a question about it came to nothing. */
  | { readonly kind: "fault"; readonly variant: number | null; readonly message: string };

/** Everything the views draw of one variant. */
export interface Picture {
  /** Whether this is the whole run, the same as the command line's. */
  readonly isWhole: boolean;
  readonly samples: number;
  readonly elapsedMs: number;
  readonly title: string;
  readonly arrangement: string;
  readonly limits: RunResult["limits"];
  readonly requiredYieldRatio: number | null;
  readonly states: readonly StateResult[];
  readonly overall: OverallResult;
  readonly nominal: NominalResult;
  readonly pair: Pair;
  /** Preload of every unit, one histogram a state. */
  readonly preload: readonly LogHistogramState[];
  readonly window: WindowColumns | null;
  /** Whether a whole run has stiffness, life and the like to export. */
  readonly hasExtended: boolean;
  /** Null in a quick look. */
  readonly contributors: Contributors | null;
  readonly verdict: readonly string[] | null;
  readonly warnings: readonly string[];
}

/** Of the first units: the offset as machined and the ends of the window; ends that have passed each other are no window. */
export interface WindowColumns {
  readonly machinedMm: Float64Array;
  readonly lowMm: Float64Array;
  readonly highMm: Float64Array;
}
