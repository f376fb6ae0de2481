import { spawnSync } from "node:child_process";
import { mkdirSync, truncateSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { beforeAll, describe, expect, test } from "vitest";
import { stringify } from "yaml";
import { contents, seatspread, workFolder } from "../support/cli.ts";
import { changed } from "../support/scenario.ts";

const folder = workFolder();
const ROLLER = "scenarios/laminating-roller.yaml";

/** A result that was there before: nothing that goes wrong may touch it. */
beforeAll(() => {
  expect(seatspread(folder, ["run", ROLLER, "--samples", "500", "-q"]).code).toBe(0);
}, 60_000);

/** Runs what must be refused: exit code 2, all on stderr, nothing on stdout, nothing written or changed anywhere. */
function refused(args: readonly string[]): string {
  const before = contents(folder);
  const { code, stdout, stderr } = seatspread(folder, args);
  expect(stdout).toBe("");
  expect(code).toBe(2);
  expect(contents(folder)).toEqual(before);
  expect(stderr).not.toMatch(/internal|\bat .*\.js:/);
  return stderr;
}

function file(name: string, content: string | Uint8Array): string {
  writeFileSync(join(folder, name), content);
  return name;
}

describe("a scenario that cannot be meant", () => {
  test("is refused by file, line, place, value, what is expected and how to mend it: all problems at once, one a line", () => {
    const cases: [string, Record<string, unknown>, RegExp][] = [
      ["an unknown key", { "bearings.both.clearence": "5..9 um" }, /clearence: .*Did you mean "clearance"\?/],
      ["a wrong unit", { "chain.spacer.length": "40 N" }, /chain\.spacer\.length: expected a length.*got 40 N/],
      [
        "reversed limits",
        { "chain.housing spacing.length": "40.2..40.1 mm" },
        /length: .*got 40\.2\.\.40\.1 mm.*low limit comes first/,
      ],
      ["an impossible fit", { "seats.shaft.both.fit": "25 k5" }, /fit: .*20 mm, got 25 k5.*Did you mean "20 k5"\?/],
      ["a groove tighter than the ball", { "bearings.both.conformityInner": 0.5 }, /conformityInner: .*0\.5.*got 0\.5/],
      [
        "below absolute zero",
        { states: [{ name: "bench", housing: "-300 degC" }] },
        /housing: .*-273\.15.*got -300 degC/,
      ],
      ["a negative clearance", { "bearings.both.clearance": "-12 mm" }, /both\.clearance: expected .*got -12 mm/],
      ["an escape", { name: "../../escape" }, /name: .*letters, digits.*got \.\.\/\.\.\/escape\. Write escape/],
    ];
    const content = changed(Object.assign({}, ...cases.map(([, changes]) => changes)));
    const lines = refused(["run", file("bad.yaml", stringify(content))])
      .trim()
      .split("\n");
    for (const [what, , message] of cases) {
      const found = lines.filter((line) => message.test(line));
      expect(found, what).not.toEqual([]);
      for (const line of found) expect(line).toMatch(/^seatspread: bad\.yaml:\d+: /);
    }
  });

  test("is refused when its balls do not fit between the rings", () => {
    const balls = { ballCount: 9, ballDiameter: "12 mm", pitchDiameter: "31 mm" };
    const content = changed({ "bearings.both": { designation: "6004", ...balls } });
    expect(refused(["check", file("balls.yaml", stringify(content))])).toMatch(
      /balls\.yaml:\d+: bearings\.both.*got .*\d/,
    );
  });

  test("text that would steer the terminal, without its control characters", () => {
    const content = changed({ "bearings.both.clearance": "5\u001b[31m um", "ti\u001b[2Jtle": "x" });
    const stderr = refused(["run", file("bad.yaml", stringify(content))]);
    expect(stderr).not.toMatch(/[^\P{Cc}\n]/u);
    expect(stderr).toContain("bearings.both.clearance");
  });
});

describe("a file that is no scenario is refused by name", () => {
  test("anchors that explode", () => {
    const lines = ["a: &a [x, x, x, x, x, x, x, x, x]"];
    for (let level = 1; level < 12; level += 1) {
      const [name, before] = ["abcdefghijklm"[level], "abcdefghijklm"[level - 1]];
      lines.push(`${name}: &${name} [${Array(9).fill(`*${before}`).join(", ")}]`);
    }
    const started = performance.now();
    expect(refused(["run", file("laughs.yaml", lines.join("\n"))])).toMatch(/laughs\.yaml.*anchors.*at most 100/);
    expect(performance.now() - started).toBeLessThan(10_000);
  });

  test("100 MB", () => {
    truncateSync(join(folder, file("huge.yaml", "seatspread: 1\n")), 100_000_000);
    expect(refused(["run", "huge.yaml"])).toMatch(/huge\.yaml: expected a scenario of at most 1 MB, got 100\.0 MB/);
    truncateSync(join(folder, "huge.yaml"), 0);
    expect(refused(["run", "huge.yaml"])).toMatch(/huge\.yaml/);
  });

  test("a folder", () => {
    expect(refused(["run", "scenarios"])).toMatch(/scenarios: expected a scenario file, got a folder/);
  });

  test("a missing file, with the one that is there", () => {
    expect(refused(["run", "scenarios/laminating-roller.yml"])).toMatch(
      /no such file\. Did you mean scenarios\/laminating-roller\.yaml\?/,
    );
    expect(refused(["run", "nowhere/at-all.yaml"])).toMatch(/nowhere\/at-all\.yaml: .*no such file/);
  });

  test("bytes that are no text, and a pipe", () => {
    expect(refused(["run", file("binary.yaml", Uint8Array.of(0x73, 0xff, 0xfe, 0x80))])).toMatch(/binary\.yaml.*UTF-8/);
    expect(spawnSync("mkfifo", [join(folder, "pipe.yaml")]).status).toBe(0);
    // A pipe has no content to compare.
    const { code, stderr } = seatspread(folder, ["run", "pipe.yaml"]);
    spawnSync("rm", [join(folder, "pipe.yaml")]);
    expect([code, stderr]).toEqual([2, expect.stringMatching(/pipe\.yaml.*not a regular file/)]);
  });

  test.each([
    ["a list", "- 1\n- 2\n", /a list/],
    ["broken YAML", "seatspread: 1\nchain: [\n", /broken\.yaml:\d+: expected well-formed YAML/],
    ["a key given twice", "seatspread: 1\nseatspread: 1\n", /broken\.yaml:2: .*only once/],
    ["a tab for indentation", "seatspread: 1\nbearings:\n\tboth: {}\n", /Indent with spaces/],
  ])("%s", (_, text, message) => {
    expect(refused(["check", file("broken.yaml", text)])).toMatch(message);
  });
});

describe("a place that cannot be written to is refused before any work", () => {
  test("a file where the folder of results should be", () => {
    file("occupied", "mine");
    expect(refused(["run", ROLLER, "--out", "occupied"])).toMatch(/--out: expected a folder.*got occupied.*--out/);
  });

  test("a file in the place of a result, and a folder that is no result: neither is replaced", () => {
    mkdirSync(join(folder, "mine/laminating-roller"), { recursive: true });
    file("mine/laminating-roller/notes.txt", "keep me");
    expect(refused(["run", ROLLER, "--out", "mine"])).toMatch(
      /an earlier result.*got something else at mine\/laminating-roller/,
    );
    file("mine/belt-tensioner", "keep me");
    expect(refused(["run", "scenarios/belt-tensioner.yaml", "--out", "mine"])).toMatch(/something else at mine\/belt/);
  });
});

describe("a command line that cannot be meant is refused", () => {
  test.each([
    [["rnu", ROLLER], /unknown command 'rnu'[\s\S]*Did you mean run/],
    [["run", ROLLER, "--sample", "5"], /unknown option '--sample'[\s\S]*Did you mean --samples/],
    [["run", ROLLER, "--samples", "0"], /'0' is invalid.*1 to 1e10/],
    [["run", ROLLER, "--workers", "0"], /'0' is invalid.*1 to 256/],
    [["run", ROLLER, "--keep-samples", "-4"], /'-4' is invalid/],
    [["run", ROLLER, "--seed", ""], /seed: expected a text of 1 to 200 characters, got an empty text/],
    [["unit", ROLLER, "1.5"], /'1\.5' is invalid/],
  ])("%j", (args, message) => {
    expect(refused(args)).toMatch(message);
  });
});
