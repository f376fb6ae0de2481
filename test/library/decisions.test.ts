import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import {
  allocateScenario,
  centreScenario,
  compareScenario,
  compareScenarioMethods,
  InputError,
  openScenario,
  parseScenario,
  studyScenarioBatch,
} from "../../src/index.ts";
import { seatspread, workFolder } from "../support/cli.ts";

const folder = workFolder();
const source = (name: string) => openScenario(readFileSync(`scenarios/${name}`, "utf8"), name);

/** The result of a command as data, but for who made it. */
function commandLine(words: readonly string[]): unknown {
  const { stdout, stderr } = seatspread(folder, [...words, "--json", "--quiet"]);
  expect(stderr).toBe("");
  return unsigned(JSON.parse(stdout));
}

/** As it would stand in result.json, but for who made it. */
function unsigned(result: { readonly provenance: object }): unknown {
  const copy = JSON.parse(JSON.stringify(result));
  delete copy.provenance.platform;
  return copy;
}

/** The library against the program's own command line: the same question gives the same figures to the last bit. */
describe("decisions from the library give what the command line gives", { timeout: 120_000 }, () => {
  const roller = source("laminating-roller.yaml");
  const file = "scenarios/laminating-roller.yaml";

  it("compare", () => {
    const change = "clearance C2: bearings.both.clearanceGroup=C2";
    expect(unsigned(compareScenario(roller, [change]))).toEqual(commandLine(["compare", file, "--with", change]));
  });

  it("centre, by yield and by the scenario's costs", () => {
    expect(unsigned(centreScenario(roller.base))).toEqual(commandLine(["centre", file]));
    const pump = source("pump-motor-batch.yaml").base;
    expect(centreScenario(pump).objective).toBe("cost");
    expect(centreScenario(pump, { prices: null }).objective).toBe("yield");
  });

  it("allocate, on a step and by grades", () => {
    const feed = source("feed-roller-tolerances.yaml");
    const words = ["allocate", "scenarios/feed-roller-tolerances.yaml", "--yield", "97%"];
    // 2000 units on the command line are 128 points a replicate.
    const size = { points: 128, samples: 2000 };
    expect(unsigned(allocateScenario(feed, 0.97, { size }))).toEqual(commandLine([...words, "-n", "2000"]));
    expect(unsigned(allocateScenario(feed, 0.97, { size, step: "grades", keepsNominal: true }))).toEqual(
      commandLine([...words, "-n", "2000", "--grades", "--keep-nominal"]),
    );
  });

  it("methods", () => {
    expect(unsigned(compareScenarioMethods(roller, { groups: [2], prices: { spring: 2.4 } }))).toEqual(
      commandLine(["methods", file, "--groups", "2", "--price", "spring=2.4"]),
    );
  });

  it("batch", () => {
    const name = "pump-motor-batch.yaml";
    const scenario = parseScenario(readFileSync(`scenarios/${name}`, "utf8"), name, [
      { path: "samples", value: 30_000 },
    ]);
    expect(unsigned(studyScenarioBatch(scenario))).toEqual(
      commandLine(["batch", `scenarios/${name}`, "--samples", "30000"]),
    );
  });

  it("names the variant that makes no scenario", () => {
    expect(() => compareScenario(roller, ["loose: bearings.both.clearanceGroup=C9"])).toThrow(InputError);
    expect(() => compareScenario(roller, [])).toThrow(InputError);
  });
});
