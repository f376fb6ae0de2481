import { describe, expect, it } from "vitest";
import { resolved } from "../../support/scenario.ts";

const correlations = (...entries: [string[], number][]) => {
  const scenario = resolved({ correlations: entries.map(([between, coefficient]) => ({ between, coefficient })) });
  return scenario.correlations.map(({ variables, matrix }) => ({
    names: variables.map((index) => scenario.variables[index].name),
    matrix,
  }));
};

describe("correlations", () => {
  const [a, b] = ["bearings.a.clearance", "bearings.b.clearance"];
  const [spacer, housing] = ["chain.spacer", "chain.housing spacing"];

  it("one pair is one matrix", () => {
    expect(correlations([[b, a], 0.5])).toEqual([{ names: [a, b], matrix: [1, 0.5, 0.5, 1] }]);
  });

  it("pairs that share a variable make one group, uncorrelated where nothing is given", () => {
    const groups = correlations([[a, b], 0.5], [[b, spacer], 0.3]);
    expect(groups).toEqual([{ names: [a, b, spacer], matrix: [1, 0.5, 0, 0.5, 1, 0.3, 0, 0.3, 1] }]);
  });

  it("pairs that share none stay apart, in the order of the plan", () => {
    const groups = correlations([[spacer, housing], 0.9], [[a, b], -0.5]);
    expect(groups.map(({ names }) => names)).toEqual([
      [a, b],
      [housing, spacer],
    ]);
  });

  it("a list of several correlates every two of them", () => {
    expect(correlations([[a, b, spacer], 0.4])[0].matrix).toEqual([1, 0.4, 0.4, 0.4, 1, 0.4, 0.4, 0.4, 1]);
  });

  it("two groups joined by a later pair become one", () => {
    expect(correlations([[a, b], 0.4], [[housing, spacer], 0.4], [[b, spacer], 0.1])).toHaveLength(1);
  });
});
