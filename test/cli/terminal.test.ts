import { describe, expect, it } from "vitest";
import { ESCAPE, seatspread, onTerminal as terminalOutput, withoutMarks, workFolder } from "../support/cli.ts";

const folder = workFolder();
const onTerminal = (columns: number, args: string, env?: Record<string, string | undefined>) =>
  terminalOutput(folder, columns, args, env);

describe("on a terminal", { timeout: 120_000 }, () => {
  it("shows progress with rate and time left on a line that fits, and takes it off again", () => {
    const text = onTerminal(60, "run scenarios/laminating-roller.yaml -n 8e5 --workers 1 --no-rare --quiet");
    expect(text).not.toContain("million a second");
    const shown = onTerminal(60, "run scenarios/laminating-roller.yaml -n 8e5 --workers 1 --no-rare");
    const lines = withoutMarks(shown).filter((line) => /^\d+ % of 800000 samples · \d/.test(line));
    expect(lines.length).toBeGreaterThan(0);
    expect(lines[0]).toMatch(/million a second/);
    for (const line of lines) expect(line.length).toBeLessThan(60);
    expect(shown.lastIndexOf(`${ESCAPE}[2K`)).toBeGreaterThan(shown.lastIndexOf("million a second"));
  });

  it("keeps the summary inside a narrow terminal", () => {
    const { stdout } = seatspread(folder, ["check", "scenarios/laminating-roller.yaml"]);
    expect(Math.max(...stdout.split("\n").map((line) => line.length))).toBeGreaterThan(48);
    const text = onTerminal(48, "run scenarios/laminating-roller.yaml -n 2000 --quiet");
    expect(text).toContain("good in every state");
    const wide = withoutMarks(text).filter((line) => line.length > 48);
    expect(wide).toEqual([]);
  });

  it.each([
    ["check", "check scenarios/laminating-roller.yaml"],
    ["unit", "unit scenarios/laminating-roller.yaml 812"],
    ["run with notes", "run scenarios/laminating-roller.yaml -n 5000"],
    ["compare", "compare scenarios/press-roller-variants.yaml -n 300"],
    ["shims", "shims scenarios/laminating-roller.yaml --batch 400 -n 300"],
    ["batch", "batch scenarios/pump-motor-batch.yaml -n 20000"],
    ["audit", "audit scenarios/winder-roll-audit.yaml -n 5000"],
    ["a refusal", "sweep scenarios/laminating-roller.yaml --over chain.shimm.length=2..3/4"],
  ])("keeps every line of %s inside 40 columns, but for the path of the report, which stays whole", (_, args) => {
    const lines = withoutMarks(onTerminal(40, args));
    expect(lines.length).toBeGreaterThan(1);
    expect(lines.filter((line) => line.length > 40 && !line.startsWith("Report: "))).toEqual([]);
  });

  it("says a note on one line where nobody has a narrow terminal", () => {
    const { stderr } = seatspread(folder, ["run", "scenarios/laminating-roller.yaml", "-n", "5000"]);
    const notes = stderr.trimEnd().split("\n");
    expect(notes.filter((line) => !line.startsWith("note: "))).toEqual([]);
    expect(Math.max(...notes.map((line) => line.length))).toBeGreaterThan(60);
  });

  it("colours on a terminal, and neither with NO_COLOR nor in a pipe", () => {
    const colour = new RegExp(`${ESCAPE}\\[[0-9;]*m`);
    const args = "run scenarios/fan-spindle.yaml -n 2000 --no-rare --quiet";
    expect(onTerminal(100, args)).toMatch(colour);
    expect(onTerminal(100, args, { NO_COLOR: "1" })).not.toMatch(colour);
    expect(seatspread(folder, args.split(" ")).stdout).not.toContain(ESCAPE);
  });
});
