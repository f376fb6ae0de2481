/** Work in steps. After each of them whoever drives it may show how far it is. */
export type Steps<Result> = Generator<{ readonly done: number; readonly total: number }, Result>;

/** Does all steps in one go. */
export function finish<Result>(steps: Steps<Result>, onStep: (done: number, total: number) => void = () => {}): Result {
  for (;;) {
    const step = steps.next();
    if (step.done === true) return step.value;
    onStep(step.value.done, step.value.total);
  }
}
