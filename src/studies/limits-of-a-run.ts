import { AFTER_SERVICE, countedStateNames } from "../engine/kept.ts";
import { InputError, type Problem } from "../errors.ts";
import type { ModelPlan } from "../model/plan.ts";

/** Every set of good states is counted by itself: two to the power of their number. */
const MOST_STATES = 16;

/** Refuses what is well-formed but too much for a run, before it starts. */
export function checkRunnable(plan: ModelPlan): void {
  const problems: Problem[] = [];
  const states = countedStateNames(plan);
  if (states.length > MOST_STATES) {
    problems.push({
      code: "too-large",
      path: "states",
      expected: `at most ${MOST_STATES} states, counting the bench after service where rings can walk`,
      got: String(states.length),
      hint: "Split the duty over several scenarios",
    });
  }
  if (states.indexOf(AFTER_SERVICE) < states.lastIndexOf(AFTER_SERVICE)) {
    problems.push({
      code: "conflict",
      path: `states.${AFTER_SERVICE}`,
      expected: "another name: this one is for the bench as it is looked at again after rings have walked",
      got: AFTER_SERVICE,
    });
  }
  if (problems.length > 0) throw new InputError(problems);
}
