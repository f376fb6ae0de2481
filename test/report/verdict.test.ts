import { describe, expect, it } from "vitest";
import { moveWords } from "../../src/report/verdict/change.ts";
import { verdict } from "../../src/report/verdict.ts";
import type { RunResult, Share } from "../../src/studies/result.ts";
import { type FixtureOptions, makeFixture, THREE_STATES } from "../support/result-fixture.ts";

type Finding = Omit<RunResult, "verdict">;

function words(options: FixtureOptions = {}, change: (finding: Finding) => Finding = (finding) => finding): string[] {
  return verdict(change(makeFixture(options).result)).map((text) => text.replace(/[\u00a0\u202f]/g, " "));
}

function share(shareRatio: number, lowRatio: number, highRatio: number): Share {
  return { count: Math.round(shareRatio * 4000), shareRatio, lowRatio, highRatio, method: "wilson" };
}

function withYield(found: Share): (finding: Finding) => Finding {
  return (finding) => ({ ...finding, overall: { ...finding.overall, goodInEveryState: found } });
}

describe("the first paragraph", () => {
  it("counts the batch with the range of 90 % of batches, bench and service apart", () => {
    const { result } = makeFixture();
    const [first = ""] = words();
    const { good, benchFailures } = result.batch;
    expect(first).toContain(
      `Of 400 units, expect about ${Math.round(good.expected)} in the window in every state (90 % of batches: ${good.low} to ${good.high}).`,
    );
    expect(first).toContain(`(${Math.round(benchFailures.expected)}) are outside it at the bench`);
    expect(first).toMatch(/scrap or rework\. A further [\d.]+ % pass the bench and then fail in service/);
  });

  it("says reached only where the whole 95 % interval lies at or above the requirement", () => {
    expect(words({}, withYield(share(0.93, 0.9, 0.95)))[0]).toContain("The required yield of 90 % is reached");
    expect(words({}, withYield(share(0.93, 0.899, 0.95)))[0]).toContain("cannot be told yet");
    expect(words({}, withYield(share(0.89, 0.88, 0.9)))[0]).toContain("cannot be told yet");
    expect(words({}, withYield(share(0.88, 0.87, 0.8999)))[0]).toContain("The required yield of 90 % is not reached");
    expect(words({ requiredYieldRatio: null })[0]).not.toContain("required");
  });

  it("names an assumption that alone decides more than three points, and what to measure", () => {
    expect(words()[0]).toContain(
      "No figure was given for the stand-out of the bearings; that alone decides 18 points of yield: measure it on five bearings.",
    );
    const given = words({}, (finding) => ({
      ...finding,
      contributors: {
        ...finding.contributors,
        yieldGain: finding.contributors.yieldGain.map((row) => ({ ...row, origin: "given" as const })),
      },
    }));
    expect(given[0]).not.toContain("No figure was given");
    const small = words({}, (finding) => ({
      ...finding,
      contributors: {
        ...finding.contributors,
        yieldGain: finding.contributors.yieldGain.map((row) => ({ ...row, gainRatio: 0.03 })),
      },
    }));
    expect(small[0]).not.toContain("No figure was given");
  });

  it("names an assumption inside whose range the requirement is crossed, and no other", () => {
    const [first = ""] = words({ requiredYieldRatio: 0.7 });
    expect(first).toContain(
      "The answer changes inside the range assumed for the groove conformity, inner ring: 61 % of the units are good at 0.512, 74 % at 0.518; 70 % are required.",
    );
    expect(first).not.toContain("seat friction");
    const edge = makeFixture().result.overall.goodInEveryState.shareRatio;
    expect(words({ requiredYieldRatio: edge + 0.002 })[0]).not.toContain("seat friction");
    expect(words({ requiredYieldRatio: 0.8 })[0]).not.toContain("The answer changes");
  });

  it("names the assumption of the widest range in full and others that cross the requirement by name", () => {
    const [first = "", second = ""] = words({ requiredYieldRatio: 0.7 }, (finding) => ({
      ...finding,
      contributors: {
        ...finding.contributors,
        assumptions: [
          ...finding.contributors.assumptions,
          {
            label: "the stand-out of the bearings",
            source: "",
            lowEnd: { value: "−15 µm", yieldRatio: 0.2 },
            highEnd: { value: "15 µm", yieldRatio: 0.3 },
          },
        ],
      },
    }));
    expect(first).toContain(
      "The answer changes inside the range assumed for the stand-out of the bearings: 20 % of the units are good at −15 µm, 30 % at 15 µm; 70 % are required. So it does for the groove conformity, inner ring.",
    );
    expect(second).not.toContain("Much hangs");
  });

  it("speaks of one unit as a chance, with its interval", () => {
    const [first = ""] = words({ batchSize: 1 });
    expect(first).toMatch(
      /^The one unit has a chance of [\d.]+ % of being in the window in every state \(95 % interval/,
    );
  });

  it("says none and all plainly", () => {
    expect(words({ machinedOffsetMm: 0.02 })[0]).toMatch(
      /^Of 400 units, expect none in the window in every state\. Practically all \(400\) are outside it at the bench/,
    );
    const all = words({}, (finding) => ({
      ...finding,
      batch: { ...finding.batch, good: { expected: 400, low: 400, high: 400 } },
    }));
    expect(all[0]).toMatch(/^Expect all 400 units in the window in every state\./);
  });

  it("does not speak of service where there is only the bench", () => {
    expect(words({ states: THREE_STATES.slice(0, 1) }).join(" ")).not.toContain("service");
  });
});

describe("the second paragraph", () => {
  it("names the costliest causes in their order, and an assumed range that moves the yield by ten points", () => {
    expect(words()[1]).toBe(
      "What costs most yield is the stand-out of the bearings: were it exactly at its median in every unit, the yield would gain 18 points. Next come the radial clearance of the bearings (9.4 points) and the housing spacer (4.1 points). Much hangs on the value assumed for the groove conformity, inner ring: 61 % of the units are good at 0.512, 74 % at 0.518.",
    );
  });

  it("says so where no single spread explains the losses", () => {
    const flat = (finding: Finding): Finding => ({
      ...finding,
      contributors: {
        ...finding.contributors,
        assumptions: [],
        yieldGain: finding.contributors.yieldGain.map((row) => ({ ...row, gainRatio: 0.001 })),
      },
    });
    expect(words({}, flat)[1]).toBe("No single spread costs as much as half a point of yield.");
    expect(words({ machinedOffsetMm: 0.2 }, flat)[1]).toContain("The nominal values themselves miss the window.");
  });
});

describe("what to change", () => {
  // Back-to-back: offset = housing spacing less shaft spacing; face-to-face: the other way round (derivation).
  it.each([
    ["back-to-back", 0.012, "increase the housing spacing (or reduce the shaft spacing) by about 12.0 µm"],
    ["back-to-back", -0.012, "reduce the housing spacing (or increase the shaft spacing) by about 12.0 µm"],
    ["face-to-face", 0.012, "reduce the housing spacing (or increase the shaft spacing) by about 12.0 µm"],
    ["face-to-face", -0.012, "increase the housing spacing (or reduce the shaft spacing) by about 12.0 µm"],
  ])("names the spacing to change: %s, move %f mm", (arrangement, moveMm, expected) => {
    expect(moveWords(arrangement, moveMm).replace(/\u00a0/g, " ")).toBe(expected);
  });

  it("moves the machined offset towards the middle of the typical window", () => {
    expect(words({ machinedOffsetMm: 0.08 }).join(" ")).toMatch(
      /increase the housing spacing .* by about 2[67]\.\d µm/,
    );
    expect(words({ machinedOffsetMm: 0.13 }).join(" ")).toMatch(/reduce the housing spacing .* by about 2[23]\.\d µm/);
    expect(words({ machinedOffsetMm: 0.107 }).join(" ")).toContain("The nominal offset is well placed");
  });

  it("says how many units no machining can make good, and which states exclude each other", () => {
    const states = THREE_STATES.map((state, index) => ({ ...state, shiftMm: index * 0.008 }));
    const text = words({ states }).join(" ");
    expect(text).toMatch(
      /[\d.]+ % of the units cannot be made good by any machining: the offset they need at the bench is not the one they need in the state “hot soak”\./,
    );
    expect(words({ offsetSdMm: 0.001 }).join(" ")).not.toContain("cannot be made good");
  });
});

describe("where most units have no window", () => {
  it("gives no advice on spacings, because none would help", () => {
    const states = THREE_STATES.map((state, index) => ({ ...state, shiftMm: index * 0.03 }));
    const text = words({ states }).join(" ");
    expect(text).toContain("Practically none of the units can be made good by machining");
    expect(text).not.toMatch(/spacing/);
  });
});

describe("flags", () => {
  it("are said in plain words with the state where they are seen", () => {
    const { result } = makeFixture();
    const ratio = result.states[2]?.flags["outer-seat-lost-b"].shareRatio ?? 0;
    expect(words().at(-1)).toBe(
      `In ${(ratio * 100).toFixed(1)} % of the units the outer ring of bearing b is loose in the housing in the state “hot soak” (at 80 °C), and no fit keeps a loose ring from creeping.`,
    );
  });

  it("of both bearings are one sentence where both happen alike", () => {
    const both = words({}, (finding) => ({
      ...finding,
      states: finding.states.map((state) => ({
        ...state,
        flags: { ...state.flags, "inner-seat-lost-a": share(1, 0.99, 1), "inner-seat-lost-b": share(0.999, 0.99, 1) },
      })),
    }));
    expect(both.at(-1)).toContain(
      "In practically all units the inner rings are loose on the shaft in every state, and no fit keeps a loose ring from creeping.",
    );
    expect(both.at(-1)?.match(/inner ring/g)?.length).toBe(1);
  });

  it("give no paragraph where none is set", () => {
    const clear = words({ states: THREE_STATES.slice(0, 2) });
    expect(clear.join(" ")).not.toContain("loose");
  });
});
