import { expect, test } from "vitest";
import { yieldSetup } from "../../../src/studies/yield.ts";
import { fixedPair } from "../../support/fixed-pair.ts";
import { problemsOf } from "../../support/scenario.ts";

const states = (count: number) =>
  Array.from({ length: count }, (_, index) => ({ name: `s${index}`, housing: `${20 + index} degC` }));

test("more states than their sets can be counted are refused: 16 run, 17 and 34 do not", () => {
  expect(yieldSetup(fixedPair({ states: states(16) })).plan.states).toHaveLength(16);
  for (const count of [17, 34]) {
    expect(problemsOf(() => yieldSetup(fixedPair({ states: states(count) })))).toMatchObject([
      { code: "too-large", path: "states", got: String(count) },
    ]);
  }
});

test("a scenario with a batch of a million runs; a larger one is no scenario, so that no command takes what another refuses", () => {
  expect(yieldSetup(fixedPair({ "batch.size": 1_000_000 })).scenario.batchSize).toBe(1_000_000);
  expect(problemsOf(() => fixedPair({ "batch.size": 1_000_001 }))).toMatchObject([
    { code: "out-of-range", path: "batch.size", got: "1000001", hint: expect.stringContaining("production lot") },
  ]);
});

test("the name of the bench after service is taken where rings can walk", () => {
  const changes = {
    states: [...states(1), { name: "bench-after-service", housing: "40 degC" }],
    "seats.shaft.both.retained": false,
  };
  expect(problemsOf(() => yieldSetup(fixedPair(changes)))).toMatchObject([
    { code: "conflict", path: "states.bench-after-service" },
  ]);
  expect(yieldSetup(fixedPair({ states: changes.states })).plan.states).toHaveLength(2);
});
