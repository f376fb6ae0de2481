import { readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { beforeAll, describe, expect, test } from "vitest";
import { parse, stringify } from "yaml";
import { onTerminal, seatspread, withoutMarks, workFolder } from "../support/cli.ts";

/** Many scenarios in one study. `SEATSPREAD_TEST_LOAD=1000` does it at the full size. */
const MANY = Number(process.env.SEATSPREAD_TEST_LOAD ?? 40);

const folder = workFolder();
const SMALL = ["--samples", "1024"];
const file = (variants: number) => `variants-${variants}.yaml`;

/** A press roller with so many variants: other temperatures and clearance groups. */
function writeVariants(count: number): void {
  const scenario = parse(readFileSync(join(folder, "scenarios/press-roller-variants.yaml"), "utf8"));
  scenario.variants = Array.from({ length: count }, (_, place) => ({
    name: `case ${place + 1}`,
    set: {
      "states.hot.housing": `${(60 + (60 * place) / count).toFixed(2)} ±6 degC`,
      "bearings.both.clearanceGroup": ["CN", "C3", "C4"][place % 3],
    },
  }));
  writeFileSync(join(folder, file(count)), stringify(scenario));
}

/** A press roller with so many shims in its stack, and a list that moves the thickness of each between two values. */
function writeParameters(count: number): void {
  const scenario = parse(readFileSync(join(folder, "scenarios/press-roller-variants.yaml"), "utf8"));
  const names = Array.from({ length: count }, (_, place) => `leaf ${place + 1}`);
  scenario.variants = undefined;
  for (const name of names) {
    scenario.chain.push({ name, side: "shaft", length: "0.05 mm" });
    scenario.chain.push({ name: `seat of ${name}`, side: "housing", length: "0.05 mm" });
  }
  writeFileSync(join(folder, "parameters.yaml"), stringify(scenario));
  const line = (name: string, place: number) => `chain.${name}.length = 0.05 mm, ${0.051 + 0.001 * (place % 9)} mm`;
  writeFileSync(join(folder, "parameters.txt"), names.map(line).join("\n"));
}

beforeAll(() => {
  writeVariants(MANY);
  writeParameters(MANY);
});

describe(`${MANY} scenarios in one study`, { timeout: 1_200_000 }, () => {
  test("compare shows how far it is and how long it will take, and judges each as a comparison of its own would", () => {
    const shown = onTerminal(folder, 100, ["compare", file(MANY), ...SMALL].join(" "));
    const lines = withoutMarks(shown).filter((line) => /^\d+ % of \d+ variants · \d+ (?:s|min.*) left$/.test(line));
    expect(lines.length).toBeGreaterThan(0);
    expect(shown).toContain("case 1”");

    const result = JSON.parse(readFileSync(join(folder, `out/variants-${MANY}/compare/result.json`), "utf8"));
    expect(result.variants).toHaveLength(MANY + 1);
    const place = Math.floor(MANY / 2);
    const { set } = parse(readFileSync(join(folder, file(MANY)), "utf8")).variants[place];
    const change = `alone: ${Object.entries(set)
      .map(([path, value]) => `${path}=${value}`)
      .join("; ")}`;
    const alone = JSON.parse(seatspread(folder, ["compare", file(MANY), ...SMALL, "--with", change, "--json"]).stdout);
    expect(result.variants[place + 1].shares).toEqual(alone.variants[1].shares);
    expect(result.variants[place + 1].difference).toEqual(alone.variants[1].difference);
  });

  test("a sweep over as many values, and as many values by one, gives the same curve, with its progress", () => {
    const sweep = ["sweep", file(MANY), "--over", `"states.hot.housing=60..140 degC/${MANY}"`, ...SMALL];
    const shown = onTerminal(folder, 100, sweep.join(" "));
    expect(withoutMarks(shown).some((line) => /^\d+ % of \d+ cells · .* left$/.test(line))).toBe(true);
    const read = () => JSON.parse(readFileSync(join(folder, `out/variants-${MANY}/sweep/result.json`), "utf8"));
    const single = read();
    expect(single.series[0].cells).toHaveLength(MANY);
    onTerminal(folder, 100, [...sweep, "--and", "bearings.both.clearanceGroup=CN"].join(" "));
    const group = readFileSync(join(folder, file(MANY)), "utf8").match(/clearanceGroup: (\w+)/)![1];
    expect(group).toBe("CN");
    expect(read().series[0].cells).toEqual(single.series[0].cells);
  });

  test("as many parameters, one at a time, each between two values: with its progress, and the same move has the same effect", () => {
    const shown = onTerminal(folder, 100, ["ranges parameters.yaml --list parameters.txt", ...SMALL].join(" "));
    expect(withoutMarks(shown).some((line) => /^\d+ % of \d+ cells · .* left$/.test(line))).toBe(true);
    const { parameters } = JSON.parse(readFileSync(join(folder, "out/parameters/ranges/result.json"), "utf8"));
    expect(parameters).toHaveLength(MANY);
    for (const [place, { cells }] of parameters.entries()) {
      expect(cells[0].difference.differenceRatio).toBe(0);
      // A shim more by some micrometres is that, whichever of the stack it is.
      const twin = parameters[place % 9].cells[1].shares.good.ratio;
      expect(cells[1].shares.good.ratio).toBeCloseTo(twin, 9);
      expect(Math.abs(cells[1].difference.differenceRatio)).toBeGreaterThan(1e-6);
    }
  });
});
