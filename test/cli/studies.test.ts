import { readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, test } from "vitest";
import { stringify } from "yaml";
import type { AuditResult } from "../../src/studies/audit/result.ts";
import type { BatchStudyResult } from "../../src/studies/batch/result.ts";
import type { FitResult } from "../../src/studies/fit/result.ts";
import { contents, seatspread, workFolder } from "../support/cli.ts";
import { HOSTILE } from "../support/hostile.ts";
import { changed } from "../support/scenario.ts";

const folder = workFolder();
const read = (name: string) => readFileSync(join(folder, name), "utf8");
const write = (name: string, text: string) => writeFileSync(join(folder, name), text);

describe("seatspread fit", () => {
  const SPACERS = "scenarios/measured/spacers.csv";

  test("says what to draw, prints a line to paste, and writes its four files", () => {
    const { code, stdout } = seatspread(folder, [
      "fit",
      SPACERS,
      "--column",
      "length",
      "--limits",
      "31.766 ±0.004",
      "--lots",
      "lot",
    ]);
    expect(code).toBe(0);
    expect(stdout).toContain("{ measuredFile: spacers.csv, column: length");
    expect(stdout).toMatch(/\{ normal: \{ mean: 31\.766\d* mm, sd: 1\.\d+ um \}, batchShare: 0\.\d+ \}/);
    expect(stdout).toMatch(/Cpk 1\.00/);
    expect(Object.keys(contents(join(folder, "out/spacers-length")))).toEqual([
      "report.html",
      "result.json",
      "summary.arrow",
      "values.arrow",
    ]);
  });

  test("takes a gauge study's spread out of it", () => {
    const args = [
      "fit",
      SPACERS,
      "--column",
      "length",
      "--gauge-study",
      "scenarios/measured/micrometer-study.csv",
      "--json",
    ];
    const result = JSON.parse(seatspread(folder, args).stdout) as FitResult;
    expect(result.instrument!.partSd).toBeLessThan(result.instrument!.observedSd);
    expect(result.gaugeStudy!.rows).toHaveLength(4);
    expect(result.paste.empirical).toContain("gaugeSd: ");
  });

  test("refuses bad rows by their lines and writes nothing; leaves them out when asked, and lists them", () => {
    write("bad.csv", "part;length [mm]\r\n1;10,0\r\n2;x\r\n3;10,2\r\n4;\r\n5;10,1\r\n");
    const args = ["fit", "bad.csv", "--column", "length", "--separator", ";", "--decimal", ",", "--out", "fits"];
    const refused = seatspread(folder, args);
    expect(refused.code).toBe(2);
    expect(refused.stderr).toContain("bad.csv:3:");
    expect(refused.stderr).toContain("bad.csv:5:");
    expect(contents(join(folder, "fits"))).toEqual({});
    const { code, stdout } = seatspread(folder, [...args, "--skip-bad"]);
    expect(code).toBe(0);
    expect(stdout.replace(/\s+/g, " ")).toContain("2 rows that could not be read: line 3 and 5");
  });

  test("refuses what is no table, no column, no unit", () => {
    const wrong = (...args: string[]) => seatspread(folder, ["fit", ...args]);
    expect(wrong("missing.csv").code).toBe(2);
    expect(wrong("scenarios").code).toBe(2);
    expect(wrong(SPACERS).stderr).toContain("one of the columns part, lot, length");
    expect(wrong(SPACERS, "--column", "lengt").stderr).toContain('Did you mean "length"?');
    expect(wrong(SPACERS, "--column", "part").stderr).toContain("--unit mm");
    expect(wrong(SPACERS, "--column", "length", "--decimal", ";").code).toBe(2);
  });
});

describe("seatspread audit", () => {
  const ROLL = "scenarios/winder-roll-audit.yaml";

  test("decides on the unit, says what to mend, and ends with 1 where it is no go", () => {
    const { code, stdout } = seatspread(folder, ["audit", ROLL, "--samples", "20000"]);
    expect(code).toBe(1);
    expect(stdout).toContain("Cannot tell: the chance that unit 17");
    expect(stdout).toContain("Best mend in steps of 10.0 µm");
    expect(stdout.trim()).toMatch(/Report: out\/winder-roll-audit\/audit\/report\.html$/);
  });

  test("takes readings from a table, beside the limits of error that the scenario gives", () => {
    write(
      "unit.csv",
      "housing shoulder spacing [mm],spacer [mm],play a [um],play b [um]\n48.000,47.872,112,103\n48.001,47.873,113,102\n48.001,,,\n",
    );
    const args = ["audit", ROLL, "--readings", "unit.csv", "--samples", "20000", "--json", "-q"];
    const { code, stdout } = seatspread(folder, args);
    const result = JSON.parse(stdout) as AuditResult;
    expect(result.decision).toBe("go");
    expect(code).toBe(0);
    expect(
      result.offset.budget.find(({ label }) => label === "readings, housing shoulder spacing")?.degreesOfFreedom,
    ).toBe(2);
    expect(result.offset.budget.find(({ label }) => label === "readings, spacer")?.degreesOfFreedom).toBe(1);
    expect(result.from).toBe("unit.csv");
  });

  test("is refused without anything measured, and of a dimension that does not exist", () => {
    expect(seatspread(folder, ["audit", "scenarios/laminating-roller.yaml"]).stderr).toContain("--readings");
    write("wrong.csv", "spacr [mm]\n47.87\n");
    const { code, stderr } = seatspread(folder, ["audit", ROLL, "--readings", "wrong.csv"]);
    expect(code).toBe(2);
    expect(stderr).toContain('Did you mean "spacer"?');
  });
});

describe("seatspread batch", () => {
  const PUMP = "scenarios/pump-motor-batch.yaml";

  test("counts whole batches, prices them, and judges sampling and check", () => {
    const { code, stdout } = seatspread(folder, ["batch", PUMP, "--samples", "60000"]);
    expect(code).toBe(0);
    expect(stdout).toContain("Of the next 300 units");
    expect(stdout).toMatch(/Failures cost about \d+ EUR a batch of 300/);
    expect(stdout).toMatch(/A sample of 32 accepted with up to 4 failing/);
    expect(stdout).toContain("Gauging the friction torque of every unit");
    const result = JSON.parse(read("out/pump-motor-batch/batch/result.json")) as BatchStudyResult;
    expect(result.batches).toBe(200);
    expect(result.verdict[0]).toContain("300");
  });

  test("ends with 1 where fewer than half of the batches reach the required yield", () => {
    expect(
      seatspread(folder, ["batch", "scenarios/belt-tensioner.yaml", "--size", "100", "--samples", "20000"]).code,
    ).toBe(1);
  });
});

describe("results of studies", () => {
  test("stay when the scenario is run again, and a run does not take them for foreign files", () => {
    const scenario = "scenarios/winder-roll-audit.yaml";
    seatspread(folder, ["audit", scenario, "--samples", "5000", "--out", "kept"]);
    const before = contents(join(folder, "kept/winder-roll-audit/audit"));
    expect(Object.keys(before)).toContain("result.json");
    expect(seatspread(folder, ["run", scenario, "--samples", "1000", "--no-rare", "--out", "kept"]).code).toBe(0);
    expect(seatspread(folder, ["run", scenario, "--samples", "1100", "--no-rare", "--out", "kept"]).code).toBe(0);
    expect(contents(join(folder, "kept/winder-roll-audit/audit"))).toEqual(before);
    expect(Object.keys(contents(join(folder, "kept/winder-roll-audit")))).toContain("report.html");
  });

  test("escape what a scenario or a table says", () => {
    const content = changed({
      title: HOSTILE,
      samples: 3000,
      batch: { size: 50 },
      audit: { unit: HOSTILE, readings: [{ name: "spacer", values: ["40 mm", "40.001 mm"] }] },
      costs: { warranty: "5 <b>" },
    });
    write("hostile.yaml", stringify(content));
    for (const command of ["audit", "batch"]) {
      const { code, stdout } = seatspread(folder, [command, "hostile.yaml", "--out", "h"]);
      expect(code).toBeLessThan(2);
      expect(stdout).not.toContain("\u001b");
      const page = read(`h/hostile/${command}/report.html`);
      expect(page).toContain("&lt;script&gt;");
      expect(page).not.toMatch(/<script|<img|<b>|onerror=alert\(2\)>/);
    }
    write("hostile.csv", `"<img src=x onerror=alert(1)> [mm]"\n1\n2\n3\n`);
    expect(seatspread(folder, ["fit", "hostile.csv", "--out", "h"]).code).toBe(0);
    expect(read("h/hostile-img-src-x-onerror-alert-1/report.html")).not.toContain("<img");
  });
});
