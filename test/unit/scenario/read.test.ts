import { describe, expect, it } from "vitest";
import { parseScenario } from "../../../src/scenario/parse.ts";
import { LARGEST_SCENARIO_CHARACTERS, readScenarioText } from "../../../src/scenario/read.ts";
import { problemsOf } from "../../support/scenario.ts";

const read = (text: string) => readScenarioText(text, "x.yaml");
const refused = (text: string) => problemsOf(() => read(text));

describe("reading scenario text", () => {
  it("reads YAML and JSON alike, also JSON indented with tabs", () => {
    const json = '{\n\t"seatspread": 1,\n\t"chain": [\n\t\t{ "name": "x" }\n\t]\n}';
    expect(read(json).content).toEqual({ seatspread: 1, chain: [{ name: "x" }] });
    expect(read("seatspread: 1\nchain:\n  - name: x\n").content).toEqual({ seatspread: 1, chain: [{ name: "x" }] });
  });

  it("knows the line of an address, of list elements by name or number, or of the nearest thing around it", () => {
    const { locate } = read("seatspread: 1\nchain:\n  - name: x\n    length: 1\n  - name: y\n    length: 2\n");
    expect(locate("seatspread")).toBe(1);
    expect(locate("chain.x.length")).toBe(4);
    expect(locate("chain.y.length")).toBe(6);
    expect(locate("chain.1.length")).toBe(6);
    expect(locate("chain.y.area")).toBe(5);
    expect(locate("bearings")).toBeUndefined();
  });

  it("refuses text beyond the size limit before taking it apart", () => {
    const [problem] = refused(`title: ${"x".repeat(LARGEST_SCENARIO_CHARACTERS)}`);
    expect(problem).toMatchObject({ code: "too-large", file: "x.yaml", got: "1.00 MB" });
  });

  it("refuses anchors that multiply (a billion laughs)", () => {
    const lines = ["a: &a [x, x, x, x, x, x, x, x, x, x]"];
    for (let i = 0; i < 9; i++) {
      const [from, to] = ["abcdefghijk"[i], "abcdefghijk"[i + 1]];
      lines.push(`${to}: &${to} [${Array(10).fill(`*${from}`).join(", ")}]`);
    }
    expect(refused(lines.join("\n"))[0]).toMatchObject({ code: "too-large", hint: "Write the values out." });
  });

  it("survives an anchor that contains itself", () => {
    const text = "seatspread: 1\nbearings: &b { both: { rings: *b } }\nchain: []\nseats: { shaft: {}, housing: {} }\n";
    expect(problemsOf(() => parseScenario(text, "x.yaml")).length).toBeGreaterThan(0);
  });

  it("takes a few anchors", () => {
    expect(read("a: &m { x: 1 }\nb: *m\n").content).toEqual({ a: { x: 1 }, b: { x: 1 } });
  });

  it("refuses a key that stands twice, with its line", () => {
    expect(refused("a: 1\nb: 2\na: 3\n")[0]).toMatchObject({ code: "syntax", line: 3, hint: /only once/ });
  });

  it.each([
    ["broken YAML", "a: [1, 2", 1],
    ["tabs as indentation", "a:\n\tb: 1", 2],
    ["text with a colon", "title: hot: roller", 1],
    ["an alias of nothing", "a: *nothing", 1],
  ])("refuses %s with its line", (_what, text, line) => {
    const [problem] = refused(text);
    expect(problem.code).toBe("syntax");
    expect(problem.line).toBe(line);
  });

  it.each([
    ["an empty file", ""],
    ["a comment only", "# nothing"],
    ["a list", "- a"],
    ["a word", "scenario"],
  ])("refuses %s: no scenario", (_what, text) => {
    expect(refused(text)[0].code).toBe("wrong-type");
  });

  it.each([
    ["brackets", "[".repeat(200_000)],
    ["closed brackets", `${"[".repeat(2000)}${"]".repeat(2000)}`],
    ["braces", "{a: ".repeat(100_000)],
    ["list marks", "- ".repeat(100_000)],
    ["key marks", "? ".repeat(100_000)],
    ["indentation", Array.from({ length: 1300 }, (_, depth) => `${" ".repeat(depth)}a:`).join("\n")],
  ])("refuses or survives endless nesting by %s", (_what, text) => {
    const [problem] = problemsOf(() => parseScenario(text, "x.yaml"));
    expect(problem.file).toBe("x.yaml");
  });

  it("leaves Object.prototype alone", () => {
    const { content } = read('"__proto__": { polluted: 1 }\nseatspread: 1\n');
    expect(({} as { polluted?: number }).polluted).toBeUndefined();
    expect(Object.getPrototypeOf(content)).toBe(Object.prototype);
  });
});
