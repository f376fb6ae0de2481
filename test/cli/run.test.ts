import { spawnSync } from "node:child_process";
import { readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { beforeAll, describe, expect, test } from "vitest";
import { stringify } from "yaml";
import type { RunResult } from "../../src/studies/result.ts";
import { type CliResult, contents, PROGRAM, seatspread, workFolder } from "../support/cli.ts";
import { HOSTILE } from "../support/hostile.ts";
import { changed } from "../support/scenario.ts";

const folder = workFolder();
const ROLLER = "scenarios/laminating-roller.yaml";
const read = (name: string) => readFileSync(join(folder, name), "utf8");

describe("seatspread run", () => {
  let first: CliResult;
  beforeAll(() => {
    first = seatspread(folder, ["run", ROLLER, "--samples", "3000", "--workers", "2"]);
  }, 60_000);

  test("ends with 0, a table that a person can act on, and where the report is", () => {
    expect(first.code).toBe(0);
    expect(first.stdout).toContain("Heated laminating roller");
    expect(first.stdout).toMatch(/good in every state +\d+\.?\d* %/);
    expect(first.stdout).toMatch(/fails at the bench/);
    expect(first.stdout).toMatch(/fails in service/);
    expect(first.stdout.trim()).toMatch(/Report: out\/laminating-roller\/report\.html$/);
    // Nothing that only a terminal understands goes into a pipe.
    expect(first.stdout + first.stderr).not.toContain("\u001b");
  });

  test("writes the four files and nothing else", () => {
    expect(Object.keys(contents(join(folder, "out")))).toEqual([
      "laminating-roller",
      "laminating-roller/report.html",
      "laminating-roller/result.json",
      "laminating-roller/samples.arrow",
      "laminating-roller/summary.arrow",
    ]);
    const report = read("out/laminating-roller/report.html");
    expect(report).toMatch(/^<!doctype html>/i);
    expect(report.trimEnd()).toMatch(/<\/html>$/);
  });

  test("records what made the result, with samples and seed as given on the command line", () => {
    const args = ["run", ROLLER, "--samples", "700", "--seed", "42", "--out", "other", "--json", "-q"];
    const { code, stdout, stderr } = seatspread(folder, args);
    expect([code, stderr]).toEqual([0, ""]);
    const result = JSON.parse(stdout) as RunResult;
    expect(result.provenance).toMatchObject({ program: "seatspread", seed: "42", samples: 700, streamVersion: 2 });
    const input = (path: string) => result.inputs.find((candidate) => candidate.path === path)?.value;
    expect([input("samples"), input("seed")]).toEqual(["700", "42"]);
    const [one, other] = [result, JSON.parse(read("out/laminating-roller/result.json")) as RunResult];
    expect(one.provenance.scenarioHash).not.toBe(other.provenance.scenarioHash);
    expect(one.overall.goodInEveryState.count).toBeLessThanOrEqual(700);
  });

  test("prints exactly result.json with --json", () => {
    const { stdout } = seatspread(folder, ["run", ROLLER, "--samples", "600", "--json", "--no-rare", "-q"]);
    expect(stdout).toBe(read("out/laminating-roller/result.json"));
  });

  test("gives the same result on one worker and on three, and twice in a row; only then is a file the same", () => {
    const run = (workers: string) => {
      const { code } = seatspread(folder, [
        "run",
        ROLLER,
        "--samples",
        "40000",
        "--workers",
        workers,
        "--no-rare",
        "-q",
      ]);
      expect(code).toBe(0);
      return contents(join(folder, "out"));
    };
    const one = run("1");
    expect(run("3")).toEqual(one);
  });

  test("ends with 1 when the yield that is required is not reached, with the result written", () => {
    writeFileSync(join(folder, "strict.yaml"), stringify(changed({ requiredYield: "99 %", samples: 2000 })));
    const { code, stdout } = seatspread(folder, ["run", "strict.yaml", "--no-rare", "-q"]);
    expect(code).toBe(1);
    expect(stdout).toMatch(/99 %/);
    expect(JSON.parse(read("out/strict/result.json")).requiredYieldRatio).toBe(0.99);
    writeFileSync(join(folder, "easy.yaml"), stringify(changed({ requiredYield: "0.01 %", samples: 2000 })));
    expect(seatspread(folder, ["run", "easy.yaml", "--no-rare", "-q"]).code).toBe(0);
  });

  test("keeps as many rows as asked for, none too", () => {
    const size = (rows: string) => {
      seatspread(folder, ["run", ROLLER, "--samples", "9000", "--keep-samples", rows, "--no-rare", "-q"]);
      return readFileSync(join(folder, "out/laminating-roller/samples.arrow")).length;
    };
    const [none, all] = [size("0"), size("all")];
    expect(none).toBeGreaterThan(1000);
    // Some sixty columns of eight bytes.
    expect(all - none).toBeGreaterThan(9000 * 8 * 40);
  });

  test("escapes a title with markup in the report and prints no control characters of it", () => {
    const content = changed({ title: HOSTILE, description: HOSTILE, samples: 1000 });
    writeFileSync(join(folder, "hostile.yaml"), stringify(content));
    const { code, stdout, stderr } = seatspread(folder, ["run", "hostile.yaml", "--no-rare"]);
    expect(code).toBe(0);
    expect(stdout + stderr).not.toContain("\u001b");
    expect(read("out/hostile/report.html")).not.toMatch(/<script>alert|<img src=x|<svg onload/);
    const tags = { title: "<script>alert(1)</script><img src=x onerror=alert(2)>", samples: 1000 };
    writeFileSync(join(folder, "tags.yaml"), stringify(changed(tags)));
    expect(seatspread(folder, ["run", "tags.yaml", "--no-rare", "-q"]).code).toBe(0);
    const report = read("out/tags/report.html");
    expect(report).toContain("&lt;script&gt;alert(1)");
    expect(report).not.toMatch(/<script>alert|<img src=x/);
  });

  test("ends quietly when nobody reads on", () => {
    // pipefail: the shell's code is the program's own.
    const line = `set -o pipefail; '${process.execPath}' '${PROGRAM}' schema | head -c 10`;
    const { stdout, stderr, code } = shell(line);
    expect(stdout).toHaveLength(10);
    expect(stderr).toBe("");
    expect(code).toBe(0);
    const json = `set -o pipefail; '${process.execPath}' '${PROGRAM}' run ${ROLLER} -n 500 -q --no-rare --json | head -c 10`;
    expect(shell(json)).toMatchObject({ code: 0, stderr: "" });
  });

  test("stays below 300 MB at 1.5 million samples (1e8 may take 500 MB; kept short here, since memory does not grow with them)", () => {
    const peak =
      "data:text/javascript,process.on('exit',()=>{process.stderr.write('peak '+process.resourceUsage().maxRSS+'\\n')})";
    const { code, stderr } = seatspread(
      folder,
      ["run", "scenarios/router-spindle.yaml", "--samples", "1.5e6", "--workers", "2", "-q"],
      ["--import", peak],
    );
    expect([0, 1]).toContain(code);
    const peaksKB = [...stderr.matchAll(/peak (\d+)/g)].map((match) => Number(match[1]));
    expect(peaksKB.length).toBeGreaterThan(0);
    expect(Math.max(...peaksKB) / 1024).toBeGreaterThan(30);
    expect(Math.max(...peaksKB) / 1024).toBeLessThan(300);
  });
});

describe("the other commands", () => {
  test("check prints every value with its origin and samples nothing", () => {
    const before = contents(folder);
    const { code, stdout } = seatspread(folder, ["check", ROLLER]);
    expect(code).toBe(0);
    for (const word of ["given", "catalogue", "standard", "assumption", "worst case"]) {
      expect(stdout.toLowerCase()).toContain(word);
    }
    expect(contents(folder)).toEqual(before);
    const document = JSON.parse(seatspread(folder, ["check", ROLLER, "--json", "-q"]).stdout);
    expect(document.nominal.states).toHaveLength(3);
    expect(document.inputs.length).toBeGreaterThan(40);
  });

  test("unit opens a unit again and says why it failed", () => {
    const { code, stdout } = seatspread(folder, ["unit", ROLLER, "8123"]);
    expect(code).toBe(0);
    expect(stdout).toContain("8123");
    const unit = JSON.parse(seatspread(folder, ["unit", ROLLER, "8123", "--json"]).stdout);
    expect(unit.index).toBe(8123);
    expect(unit.states.map(({ state }: { state: string }) => state)).toEqual(["bench", "warm-up", "hot"]);
  });

  test("schema prints a JSON Schema that names every key of the main scenario", () => {
    const schema = JSON.parse(seatspread(folder, ["schema"]).stdout);
    expect(Object.keys(schema.properties)).toEqual(
      expect.arrayContaining(["seatspread", "arrangement", "bearings", "chain", "seats", "states", "window", "bind"]),
    );
  });
});

function shell(line: string): CliResult {
  const { status, stdout, stderr } = spawnSync("bash", ["-c", line], {
    cwd: folder,
    encoding: "utf8",
    timeout: 30_000,
  });
  return { code: status, stdout, stderr };
}
