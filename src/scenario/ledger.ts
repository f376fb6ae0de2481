import { standardDeviation } from "../distributions/index.ts";
import type { Distribution } from "../distributions/types.ts";
import { InputError, type Problem } from "../errors.ts";
import type { Warning, WarningCode } from "../warnings.ts";
import type { Origin, ResolvedInput, Variable, VariableIndex } from "./types.ts";

/** A value together with where it came from; `path` is where a person would look for it or write it. */
export interface Noted {
  readonly path: string;
  readonly label: string;
  readonly value: string;
  readonly origin: Origin;
  readonly source: string;
}

/**
 * What is gathered while a scenario is resolved: variables, inputs with their origin, warnings and every problem.
 *
 * A problem does not end the work: the value becomes NaN, which no later check complains of, so that one run of the
 * program tells everything that is wrong. `finish` throws if there was anything.
 */
export class Ledger {
  readonly variables: Variable[] = [];
  readonly inputs: ResolvedInput[] = [];
  readonly warnings: Warning[] = [];
  readonly problems: Problem[] = [];
  readonly #names = new Map<string, VariableIndex>();

  problem(problem: Problem): void {
    const same = (other: Problem) =>
      other.path === problem.path && other.code === problem.code && other.got === problem.got;
    if (!this.problems.some(same)) this.problems.push(problem);
  }

  warn(code: WarningCode, path: string, message: string): void {
    if (!this.warnings.some((other) => other.path === path && other.message === message)) {
      this.warnings.push({ code, path, message });
    }
  }

  /** Runs something that may throw InputError; the problems are kept and `fallback` goes on in its place. */
  attempt<T>(action: () => T, fallback: T): T {
    try {
      return action();
    } catch (error) {
      if (!(error instanceof InputError)) throw error;
      for (const problem of error.problems) this.problem(problem);
      return fallback;
    }
  }

  note(input: Noted): void {
    this.inputs.push(input);
  }

  /** Adds a variable under its unique name. */
  add(variable: Variable): VariableIndex {
    const index = this.variables.length;
    this.variables.push(variable);
    this.#names.set(variable.name, index);
    return index;
  }

  indexOf(name: string): VariableIndex | undefined {
    return this.#names.get(name);
  }

  get names(): string[] {
    return [...this.#names.keys()];
  }

  /** True when the variable takes more than one value. */
  varies(index: VariableIndex): boolean {
    const { distribution } = this.variables[index];
    return distribution.kind !== "constant" && standardDeviation(distribution) > 0;
  }

  distribution(index: VariableIndex): Distribution {
    return this.variables[index].distribution;
  }
}
