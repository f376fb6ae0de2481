import { join } from "node:path";
import { beforeAll, describe, expect, test } from "vitest";
import { contents, processesIn, seatspread, workFolder } from "../support/cli.ts";
import { ONE_WORKER_ONLY, withFault } from "../support/worker-faults.ts";

const folder = workFolder();
const out = join(folder, "out");
const ROLLER = "scenarios/laminating-roller.yaml";
const LONG = ["run", ROLLER, "--samples", "2000000", "--workers", "2", "-q"];

let whole: Record<string, string>;

beforeAll(() => {
  expect(seatspread(folder, ["run", ROLLER, "--samples", "500", "--no-rare", "-q"]).code).toBe(0);
  whole = contents(out);
}, 60_000);

const OUT_OF_MEMORY = "const held = []; for (;;) held.push(new Array(1e5).fill(messages));";

/** A command that a fault ends: its reason, exit code 3, the earlier result as it was, and no process left. */
function expectFault(args: readonly string[], fault: readonly string[], reason: RegExp): void {
  const { code, stdout, stderr } = seatspread(folder, args, fault);
  expect(stderr).toMatch(/^seatspread: internal error, please report it: InternalError: /);
  expect(stderr).toMatch(reason);
  expect(code).toBe(3);
  expect(stdout).toBe("");
  expect(contents(out)).toEqual(whole);
  expect(processesIn(folder)).toEqual([]);
}

describe("a worker that fails ends the run with its reason and exit code 3, and nothing is left of it", () => {
  test.each([
    ["throws", withFault('throw new Error("boom");'), /a worker stopped: boom/],
    ["fails in a task", withFault("message = { ...message, task: { kind: 'chunk' } };"), /a worker failed: /],
    ["ends", withFault("process.exit(7);"), /a worker ended before its work was done \(exit code 7\)/],
    ["ends as if all were well", withFault("process.exit(0);"), /a worker ended before .*\(exit code 0\)/],
    [
      "runs out of memory",
      withFault(OUT_OF_MEMORY, { options: "{ resourceLimits: { maxOldGenerationSizeMb: 40 } }" }),
      /a worker stopped: .*memory/,
    ],
    [
      "has no memory to start with",
      withFault("", { options: "{ resourceLimits: { maxOldGenerationSizeMb: 3 } }" }),
      /a worker stopped: .*memory/,
    ],
    ["cannot be started", ONE_WORKER_ONLY, /worker 2 of 2 cannot be started: .*EAGAIN/],
  ] as const)(
    "one that %s",
    (_, fault, reason) => {
      expectFault(LONG, fault, reason);
    },
    60_000,
  );
});

describe("a study's thread that fails ends the command in the same way", () => {
  test.each([
    ["throws", withFault('throw new Error("boom");', { at: 0 }), /the study stopped: boom/],
    ["ends as if all were well", withFault("process.exit(0);", { at: 0 }), /the study ended before .*\(exit code 0\)/],
    [
      "runs out of memory",
      withFault(OUT_OF_MEMORY, { at: 0, options: "{ resourceLimits: { maxOldGenerationSizeMb: 40 } }" }),
      /the study stopped: .*memory/,
    ],
  ] as const)("one that %s", (_, fault, reason) => {
    expectFault(["centre", ROLLER, "-q"], fault, reason);
  });
});
