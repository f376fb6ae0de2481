/** Things that do not stop a run but that its reader must know. A closed list: a new one needs a code here. */

export type WarningCode =
  | "material-range"
  | "clearance-negative"
  | "estimate"
  | "far-tail"
  | "window-empty"
  | "few-failures"
  | "rows-capped"
  | "shares-normalised"
  | "unlikely-value"
  | "unsolved";

export interface Warning {
  readonly code: WarningCode;
  /** Where in the scenario, or which result, e.g. `states.hot.housing`. */
  readonly path: string;
  /** One plain sentence. */
  readonly message: string;
}
