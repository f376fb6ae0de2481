import { parentPort, Worker, workerData } from "node:worker_threads";
import { InputError, InternalError, type Problem } from "../errors.ts";

/** What comes back from a thread that does one job. */
type Reply =
  | { readonly kind: "step"; readonly done: number; readonly total: number }
  | { readonly kind: "answer"; readonly answer: unknown }
  | { readonly kind: "refused"; readonly problems: readonly Problem[] }
  | { readonly kind: "failed"; readonly message: string };

export type OnStep = (done: number, total: number) => void;

/**
 * Has one job done in a thread of its own, so that this one hears at once when it is to be given up: the thread ends with
 * the process.
 *
 * @param script location of a bundled script that calls `answerAside`
 * @param question anything that can be cloned
 * @throws InputError that the job threw; InternalError for anything else that ends it
 */
export async function aside<Answer>(script: URL, question: unknown, onStep: OnStep): Promise<Answer> {
  const thread = new Worker(script, { workerData: question });
  try {
    return await new Promise<Answer>((resolve, reject) => {
      const fail = (reason: string) => reject(new InternalError(reason));
      thread.on("message", (reply: Reply) => {
        if (reply.kind === "step") onStep(reply.done, reply.total);
        else if (reply.kind === "answer") resolve(reply.answer as Answer);
        else if (reply.kind === "refused") reject(new InputError(reply.problems));
        else fail(reply.message);
      });
      thread.on("error", (error) => fail(`the study stopped: ${error.message}`));
      thread.on("messageerror", (error) => fail(`the study's answer cannot be read: ${error.message}`));
      thread.on("exit", (code) => fail(`the study ended before it was done (exit code ${code})`));
    });
  } finally {
    await thread.terminate();
  }
}

/** Answers the question that this thread was started with. Nothing happens in the main thread. */
export function answerAside<Question>(answer: (question: Question, onStep: OnStep) => unknown): void {
  const port = parentPort;
  if (port === null) return;
  const reply = (message: Reply) => port.postMessage(message);
  try {
    const onStep: OnStep = (done, total) => reply({ kind: "step", done, total });
    reply({ kind: "answer", answer: answer(workerData as Question, onStep) });
  } catch (error) {
    if (error instanceof InputError) reply({ kind: "refused", problems: error.problems });
    else reply({ kind: "failed", message: error instanceof Error ? (error.stack ?? error.message) : String(error) });
  }
}
