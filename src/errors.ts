/**
 * Every problem the program can report, as data. Formatting lives with whoever shows it.
 *
 * Exit codes: 2 for anything the user can mend (usage, scenario, file), 3 for a fault of the program itself.
 */

export type ProblemCode =
  | "syntax"
  | "unknown-key"
  | "missing"
  | "wrong-type"
  | "wrong-unit"
  | "out-of-range"
  | "reversed-limits"
  | "unknown-name"
  | "impossible-geometry"
  | "impossible-fit"
  | "conflict"
  | "too-large"
  | "file"
  | "usage"
  | "not-supported"
  | "internal";

export interface Problem {
  readonly code: ProblemCode;
  /** Where in the input, e.g. `bearings.a.clearance`; empty when the whole file is meant. */
  readonly path: string;
  /** What was expected there, e.g. `a length from 0 to 150 um`. */
  readonly expected: string;
  /** What stands there, as the user wrote it. */
  readonly got?: string;
  /** The nearest fix, e.g. `Did you mean "clearanceGroup"?` */
  readonly hint?: string;
  /** The file it stands in, when it comes from one. */
  readonly file?: string;
  /** 1-based line in that file. */
  readonly line?: number;
}

/** Bad input: one or more problems that the user can mend. */
export class InputError extends Error {
  readonly problems: readonly Problem[];
  readonly exitCode: number = 2;

  constructor(problems: readonly Problem[] | Problem) {
    const list = Array.isArray(problems) ? (problems as readonly Problem[]) : [problems as Problem];
    super(list.map(formatProblem).join("\n"));
    this.name = "InputError";
    this.problems = list;
  }
}

/** A fault of the program: a result that must not happen whatever the input. */
export class InternalError extends Error {
  readonly exitCode: number = 3;

  constructor(message: string) {
    super(message);
    this.name = "InternalError";
  }
}

/** One line for a terminal or a message: `file:line: path: must be …, got …. Hint`. */
export function formatProblem(problem: Problem): string {
  const place = [problem.file ? `${problem.file}${problem.line ? `:${problem.line}` : ""}` : "", problem.path]
    .filter((part) => part !== "")
    .join(": ");
  const got = problem.got === undefined ? "" : `, got ${clip(problem.got)}`;
  const hint = problem.hint ? `. ${problem.hint}` : "";
  return `${place === "" ? "" : `${place}: `}expected ${problem.expected}${got}${hint}`;
}

function clip(text: string): string {
  const flat = text.replace(/\s+/g, " ");
  return flat.length > 80 ? `${flat.slice(0, 77)}...` : flat;
}
