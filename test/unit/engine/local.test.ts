import { afterEach, expect, test, vi } from "vitest";
import { createLocalExecutor } from "../../../src/engine/local.ts";
import { CHUNK_SIZE, runContributorTasks, runSamples } from "../../../src/engine/run.ts";
import { yieldSetup } from "../../../src/studies/yield.ts";
import { shipped } from "../../support/shipped.ts";

/** The executor of this thread gives way between two tasks, in Node's way and in the browsers'. */
const setup = yieldSetup(shipped("laminating-roller.yaml"));
const CHUNKS = 3;

afterEach(() => vi.unstubAllGlobals());

/** Moments and counts of some chunks, and how many of them were done when a timer that was set before had its turn. */
async function sampled() {
  const executor = createLocalExecutor(setup);
  let done = 0;
  let doneAtTimer = -1;
  setTimeout(() => {
    doneAtTimer = done;
  }, 0);
  const moments = await runSamples(
    executor,
    0,
    CHUNKS * CHUNK_SIZE,
    null,
    0,
    () => {},
    (count) => {
      done = count / CHUNK_SIZE;
    },
  );
  return { found: { moments, collected: await executor.collect() }, doneAtTimer };
}

test("what waits has its turn between two tasks, in Node and where there are only channels, with the same bits", async () => {
  const inNode = await sampled();
  vi.stubGlobal("setImmediate", undefined);
  const inBrowser = await sampled();
  expect(inBrowser.found).toEqual(inNode.found);
  for (const { doneAtTimer } of [inNode, inBrowser]) {
    expect(doneAtTimer).toBeGreaterThan(0);
    expect(doneAtTimer).toBeLessThan(CHUNKS);
  }
});

test("the causes of several blocks are those of each, added up", async () => {
  const executor = createLocalExecutor(setup);
  const both = await runContributorTasks(executor, 6000);
  const first = await runContributorTasks(executor, 4096);
  expect(both.count).toBe(6000);
  expect(first.count).toBe(4096);
  expect(both.base).toBeGreaterThan(first.base);
  both.gained.forEach((gained, place) => {
    expect(gained).toBeGreaterThanOrEqual(first.gained[place]);
  });
});
