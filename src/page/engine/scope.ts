import { formatProblem, InputError } from "../../errors.ts";
import type { Reply, Request } from "../protocol.ts";

/** What a worker knows of its own scope; the page's types have no word for it. */
interface Scope {
  onmessage: ((event: MessageEvent<Request>) => void) | null;
  postMessage(message: Reply, transfer?: Transferable[]): void;
}

export const scope = globalThis as unknown as Scope;

/**
 * Tells the page what went wrong.
 *
 * @param variant whose question came to nothing; null where it was none
 */
export function complain(error: unknown, variant: number | null, id: number): void {
  if (error instanceof InputError) {
    const problems = error.problems.map((problem) => ({ problem, words: formatProblem(problem) }));
    scope.postMessage({ kind: "problems", variant, id, problems });
  } else {
    scope.postMessage({ kind: "fault", variant, message: error instanceof Error ? error.message : String(error) });
  }
}
