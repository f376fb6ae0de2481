import { describe, expect, it } from "vitest";
import {
  acceptanceByShare,
  acceptanceOfBatch,
  shareAtAcceptance,
  usualSample,
} from "../../../src/stats/acceptance-sampling.ts";

describe("operating characteristic of single plans (ISO 2859-1)", () => {
  it.each([
    [13, 0, 0.394, 16.2],
    [32, 1, 1.12, 11.6],
    [50, 1, 0.712, 7.56],
    [80, 2, 1.03, 6.52],
    [125, 3, 1.1, 5.27],
    [200, 5, 1.31, 4.59],
  ])("plan (%d, %d) accepts %d %% failing with 95 %% and %d %% with 10 %%", (n, c, producer, consumer) => {
    expect(Math.abs((100 * shareAtAcceptance(n, c, 0.95)) / producer - 1)).toBeLessThan(0.006);
    expect(Math.abs((100 * shareAtAcceptance(n, c, 0.1)) / consumer - 1)).toBeLessThan(0.006);
    expect(acceptanceByShare(n, c, shareAtAcceptance(n, c, 0.1))).toBeCloseTo(0.1, 10);
  });

  it.each([
    [8, 2],
    [50, 8],
    [300, 50],
    [500, 50],
    [501, 80],
    [1200, 80],
    [3200, 125],
    [10_000, 200],
    [1_000_000, 1250],
    [1, 1],
  ])("takes from a batch of %d the sample of level II: %d", (size, sample) => {
    expect(usualSample(size)).toBe(sample);
  });
});

describe("acceptance of a batch without replacement", () => {
  it.each([
    [32, 3, 300, 30, 0.5991295616159152],
    [500, 4, 100_000, 900, 0.5314402347392183],
    [10, 1, 50, 5, 0.7418999792331363],
  ])("sample %d, accept %d, batch %d with %d failing: exact fraction", (n, c, size, failing, chance) => {
    expect(acceptanceOfBatch(n, c, size, failing)).toBeCloseTo(chance, 10);
  });

  it("is sure where no more fail than are accepted, and never where all fail", () => {
    expect(acceptanceOfBatch(50, 3, 300, 3)).toBe(1);
    expect(acceptanceOfBatch(50, 3, 300, 300)).toBe(0);
    expect(acceptanceOfBatch(300, 3, 300, 4)).toBeCloseTo(0, 12);
  });

  it("nears the binomial as the batch grows", () => {
    expect(acceptanceOfBatch(50, 2, 1_000_000, 40_000)).toBeCloseTo(acceptanceByShare(50, 2, 0.04), 4);
  });
});
