import { describe, expect, it } from "vitest";
import { ESCAPE, seatspread, onTerminal as terminalOutput, withoutMarks, workFolder } from "../support/cli.ts";

const folder = workFolder();
const onTerminal = (columns: number, args: string, env?: Record<string, string | undefined>) =>
  terminalOutput(folder, columns, args, env);

describe("on a terminal", { timeout: 120_000 }, () => {
  it("shows progress with rate and time left on a line that fits, and takes it off again", () => {
    const text = onTerminal(60, "run scenarios/laminating-roller.yaml -n 2e6 --workers 1 --quiet");
    expect(text).not.toContain("million a second");
    const shown = onTerminal(60, "run scenarios/laminating-roller.yaml -n 2e6 --workers 1");
    const lines = withoutMarks(shown).filter((line) => /^\d+ % of 2000000 samples · \d/.test(line));
    expect(lines.length).toBeGreaterThan(0);
    expect(lines[0]).toMatch(/million a second/);
    for (const line of lines) expect(line.length).toBeLessThan(60);
    expect(shown.lastIndexOf(`${ESCAPE}[2K`)).toBeGreaterThan(shown.lastIndexOf("million a second"));
  });

  it("keeps the summary inside a narrow terminal", () => {
    const { stdout } = seatspread(folder, ["check", "scenarios/laminating-roller.yaml"]);
    expect(Math.max(...stdout.split("\n").map((line) => line.length))).toBeGreaterThan(48);
    const text = onTerminal(48, "run scenarios/laminating-roller.yaml -n 20000 --quiet");
    expect(text).toContain("good in every state");
    const wide = withoutMarks(text).filter((line) => line.length > 48);
    expect(wide).toEqual([]);
  });

  it("colours on a terminal, and neither with NO_COLOR nor in a pipe", () => {
    const colour = new RegExp(`${ESCAPE}\\[[0-9;]*m`);
    const args = "run scenarios/laminating-roller.yaml -n 20000 --quiet";
    expect(onTerminal(100, args)).toMatch(colour);
    expect(onTerminal(100, args, { NO_COLOR: "1" })).not.toMatch(colour);
    expect(seatspread(folder, args.split(" ")).stdout).not.toContain(ESCAPE);
  });
});
