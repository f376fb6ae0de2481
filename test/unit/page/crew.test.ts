import { expect, test } from "vitest";
import { createHeldUnits } from "../../../src/engine/held-units.ts";
import { createLocalExecutor } from "../../../src/engine/local.ts";
import { createRunner, type Runner } from "../../../src/engine/runner.ts";
import type { Executor } from "../../../src/engine/tasks.ts";
import { Crew } from "../../../src/page/engine/crew.ts";
import { help } from "../../../src/page/engine/helper.ts";
import type { ResolvedScenario } from "../../../src/scenario/types.ts";
import { runPlain } from "../../../src/studies/plain.ts";
import { shipped } from "../../support/shipped.ts";

const SAMPLES = 40_000;
const SCENARIOS = ["C3", "C4", "C3"].map((group) =>
  shipped("laminating-roller.yaml", { samples: SAMPLES, "bearings.both.clearanceGroup": group }),
);

function setupOf(scenario: ResolvedScenario) {
  return { kernel: "plain", scenario, offset: null, lines: null, variations: [] } as const;
}

/** A worker's own way to a runner, holding columns from one look to the next as the page's do. */
function hand(): (scenario: ResolvedScenario) => Runner {
  const held = createHeldUnits("plain");
  return (scenario) => createRunner(setupOf(scenario), held.partsOf(scenario));
}

/** One that helps the crew, at the other end of a channel. */
function enlist(crew: Crew, runnerOf = hand()): () => void {
  const { port1, port2 } = new MessageChannel();
  crew.join(port1);
  help(port2, runnerOf);
  return () => port1.close();
}

/** Lets what has been posted arrive. */
function arrive(): Promise<void> {
  return new Promise((resolve) => setTimeout(resolve, 20));
}

async function bitsOf(scenario: ResolvedScenario, executor: Executor): Promise<string> {
  const rows: unknown[] = [];
  const found = await runPlain({ scenario }, executor, {
    target: null,
    isOver: () => false,
    onProgress: () => {},
    keepRows: 300,
    onRows: (kept) => rows.push(kept),
  });
  return JSON.stringify({ ...found, rows }, (_, value) => {
    if (ArrayBuffer.isView(value))
      return Buffer.from(value.buffer, value.byteOffset, value.byteLength).toString("base64");
    return typeof value === "number" && !Number.isFinite(value) ? String(value) : value;
  });
}

test("a look that is shared counts what one worker counts, to the bit, look after look", async () => {
  const alone = await Promise.all(
    SCENARIOS.map((scenario) => bitsOf(scenario, createLocalExecutor(setupOf(scenario)))),
  );
  for (const helpers of [0, 1, 3]) {
    const crew = new Crew();
    const dismissals = Array.from({ length: helpers }, () => enlist(crew));
    await arrive();
    const own = hand();
    for (const [place, scenario] of SCENARIOS.entries()) {
      const share = crew.lookAt(scenario);
      const executor = share(own(scenario));
      expect(executor.workers).toBe(helpers + 1);
      expect((await bitsOf(scenario, executor)) === alone[place], `${helpers} helpers, look ${place + 1}`).toBe(true);
    }
    for (const dismiss of dismissals) dismiss();
  }
});

test("whoever has not said that it is ready is not waited for", async () => {
  const crew = new Crew();
  const { port1 } = new MessageChannel();
  crew.join(port1);
  const [scenario] = SCENARIOS as [ResolvedScenario];
  const executor = crew.lookAt(scenario)(hand()(scenario));
  expect(executor.workers).toBe(1);
  await expect(bitsOf(scenario, executor)).resolves.toContain("tally");
  port1.close();
});

test("a helper that fails ends the look with its message, and answers for nothing of the look before", async () => {
  const crew = new Crew();
  const able = hand();
  let looks = 0;
  const dismiss = enlist(crew, (scenario) => {
    looks += 1;
    if (looks === 2) throw new Error("no memory left");
    return able(scenario);
  });
  await arrive();
  const own = hand();
  const [first, second, third] = SCENARIOS as [ResolvedScenario, ResolvedScenario, ResolvedScenario];
  const before = await bitsOf(first, crew.lookAt(first)(own(first)));
  const share = crew.lookAt(second);
  await expect(bitsOf(second, share(own(second)))).rejects.toThrow("a helper failed: no memory left");
  const after = await bitsOf(third, crew.lookAt(third)(own(third)));
  expect(after === before).toBe(true);
  dismiss();
});
