/**
 * Arguments for Node that make the workers of the program fail, each for real: what the program sees is what it would see.
 *
 * @param at number of the message with which the fault comes over a worker; 0: before its script is read
 */
export function withFault(fault: string, { options = "{}", at = 3 } = {}): readonly string[] {
  const code = HOOK.replace("OPTIONS", () => options)
    .replaceAll("FAULT", () => JSON.stringify(fault))
    .replaceAll("AT", () => String(at));
  return ["--import", `data:text/javascript,${encodeURIComponent(code)}`];
}

/** Wraps the script of every worker. */
const HOOK = `
import workers from "node:worker_threads";
import { syncBuiltinESMExports } from "node:module";
const { Worker } = workers;
const wrapped = (script) => \`
  import { parentPort } from "node:worker_threads";
  const on = parentPort.on.bind(parentPort);
  let messages = 0;
  if (messages === AT) {
    \${FAULT}
  }
  parentPort.on = (name, listener) => on(name, (message) => {
    messages += 1;
    if (messages === AT) {
      \${FAULT}
    }
    listener(message);
  });
  await import(\${JSON.stringify(script.href)});
\`;
workers.Worker = class extends Worker {
  constructor(script, options) {
    super(new URL("data:text/javascript," + encodeURIComponent(wrapped(script))), { ...options, ...OPTIONS });
  }
};
syncBuiltinESMExports();
`;

/** Arguments for Node with which the second worker cannot be started. */
export const ONE_WORKER_ONLY: readonly string[] = [
  "--import",
  `data:text/javascript,${encodeURIComponent(`
import workers from "node:worker_threads";
import { syncBuiltinESMExports } from "node:module";
const { Worker } = workers;
let started = 0;
workers.Worker = class extends Worker {
  constructor(script, options) {
    if (started === 1) throw Object.assign(new Error("Worker initialization failure: EAGAIN"), { code: "ERR_WORKER_INIT_FAILED" });
    super(script, options);
    started += 1;
  }
};
syncBuiltinESMExports();
`)}`,
];
