/** Work in steps. Between two of them whoever drives it may show how far it is, and hear that it is to be given up. */
export type Steps<Result> = Generator<{ readonly done: number; readonly total: number }, Result>;

/** Does all steps in one go. */
export function finish<Result>(steps: Steps<Result>): Result {
  for (;;) {
    const step = steps.next();
    if (step.done === true) return step.value;
  }
}
