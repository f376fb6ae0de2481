import { execFileSync } from "node:child_process";
import { writeFileSync } from "node:fs";
import { join } from "node:path";
import { beforeAll, describe, expect, it } from "vitest";
import { type CliResult, seatspread, workFolder } from "../support/cli.ts";

const folder = workFolder();

/** The help of the program, that of every command, and the long options that it names. */
let help: CliResult;
let helps: Map<string, string>;
let commands: Map<string, string[]>;

beforeAll(() => {
  help = seatspread(folder, ["--help"]);
  const names = [...help.stdout.matchAll(/^ {2}([a-z]+) (?:\[|<| {2})/gm)].map((match) => match[1]!);
  helps = new Map(
    names.filter((name) => name !== "help").map((name) => [name, seatspread(folder, [name, "--help"]).stdout]),
  );
  const optionsIn = (text: string) => [...text.matchAll(/^ {2}(?:-\w, )?(--[\w-]+)/gm)].map((match) => match[1]!);
  commands = new Map([...helps].map(([name, text]) => [name, optionsIn(text)]));
  writeFileSync(join(folder, "complete.bash"), seatspread(folder, ["completion", "bash"]).stdout);
}, 60_000);

it("help states exit codes and cautions, and an example of every command", () => {
  expect(help.code).toBe(0);
  expect(helps.size).toBeGreaterThan(15);
  for (const [name, text] of [["", help.stdout] as const, ...helps]) {
    expect(text, name).toMatch(/Exit codes:[\s\S]*130/);
    if (name !== "") expect(text, name).toMatch(/Examples?:\n {2}seatspread/);
    if (name === "" || name === "run") expect(text, name).toMatch(/Cautions:[\s\S]*licensed engineering practice/);
  }
});

describe("completion in bash", () => {
  const complete = (...words: string[]): string[] => {
    const script =
      // biome-ignore lint/suspicious/noTemplateCurlyInString: it is of the shell
      'source ./complete.bash; COMP_WORDS=("$@"); COMP_CWORD=$(($# - 1)); _seatspread; printf "%s\\n" "${COMPREPLY[@]}"';
    const found = execFileSync("bash", ["-c", script, "bash", "seatspread", ...words], {
      cwd: folder,
      encoding: "utf8",
    });
    return found.split("\n").filter((line) => line !== "");
  };

  it("offers every command", () => {
    expect(commands.size).toBeGreaterThan(7);
    expect(complete("")).toEqual(expect.arrayContaining([...commands.keys()]));
    expect(complete("wor")).toEqual(["workbench"]);
  });

  it("offers every option of a command, the values of a choice, and files", () => {
    for (const [name, options] of commands) expect(complete(name, "--").sort(), name).toEqual([...options].sort());
    expect(complete("run", "x.yaml", "--kernel", "")).toEqual(["fast", "plain"]);
    expect(complete("run", "scenarios/laminating-roller.y")).toEqual(["scenarios/laminating-roller.yaml"]);
    expect(complete("completion", "").sort()).toEqual(["bash", "fish", "zsh"]);
  });
});

describe.each(["zsh", "fish"])("completion in %s", (shell) => {
  it("names every command and every option of it", () => {
    const { stdout, code } = seatspread(folder, ["completion", shell]);
    expect(code).toBe(0);
    for (const [name, options] of commands) {
      const lines = stdout.split("\n");
      const from = lines.findIndex((line) => line.startsWith(`    ${name}) `));
      const to = lines.findIndex((line, place) => place >= from && line.endsWith(";;"));
      const own = shell === "zsh" ? lines.slice(from, to + 1) : lines.filter((line) => line.includes(`from ${name}'`));
      expect(stdout).toContain(shell === "zsh" ? `'${name}:` : `-a ${name} `);
      for (const option of options) {
        const mark = shell === "zsh" ? option : ` -l ${option.slice(2)}`;
        expect(
          own.some((line) => line.includes(mark)),
          `${name} ${option}`,
        ).toBe(true);
      }
    }
  });
});

it("refuses a shell that it does not know", () => {
  const { code, stderr } = seatspread(folder, ["completion", "tcsh"]);
  expect(code).toBe(2);
  expect(stderr).toContain("one of bash, zsh, fish");
});
