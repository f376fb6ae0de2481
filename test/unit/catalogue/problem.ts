import { InputError, type Problem } from "../../../src/errors.ts";

/** The one problem that a call must report. */
export function problemOf(call: () => unknown): Problem {
  try {
    call();
  } catch (error) {
    if (error instanceof InputError && error.problems.length === 1) return error.problems[0];
    throw error;
  }
  throw new Error("nothing was refused");
}
