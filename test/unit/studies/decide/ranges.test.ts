import { describe, expect, it } from "vitest";
import { rangesVerdict, rangesView } from "../../../../src/report/decide/ranges.ts";
import { decisionPage } from "../../../../src/report/decide/view.ts";
import { parseAxis } from "../../../../src/scenario/axis.ts";
import { parseAxisList } from "../../../../src/scenario/axis-list.ts";
import { createAssessor } from "../../../../src/studies/decide/assess.ts";
import { sweepRanges } from "../../../../src/studies/decide/ranges.ts";
import { finish } from "../../../../src/studies/steps.ts";
import { rangesRows } from "../../../../src/tables/decide.ts";
import { problemsOf } from "../../../support/scenario.ts";
import { shippedVariable, TEST_MAKER } from "../../../support/variable.ts";

const source = shippedVariable("press-roller-variants.yaml");
const size = { points: 256, samples: 4096 };

const LIST = `# of the press roller
states.hot.housing = 80..160 degC/3   # the roller's skin

bearings.both.clearanceGroup = CN,C3
clamp.force=1e3..1.001e3 N/2
`;

describe("a list of parameters", () => {
  it("has one a line; remarks and empty lines are left out, a hash inside a name is none", () => {
    const axes = parseAxisList(LIST.replaceAll("\n", "\r\n"), "list.txt", source);
    expect(axes.map(({ path }) => path)).toEqual(["states.hot.housing", "bearings.both.clearanceGroup", "clamp.force"]);
    expect(axes[0]).toEqual(parseAxis("states.hot.housing=80..160 degC/3", "--over", source));
    expect(parseAxisList("chain.part#2.length=1,2", "list.txt", source)[0].path).toBe("chain.part#2.length");
  });

  it("is refused with every line that is none", () => {
    const problems = problemsOf(() => parseAxisList("a\n\nb=1..2/1\nclamp.force=1,2", "list.txt", source));
    expect(problems.map(({ file, line, code }) => [file, line, code])).toEqual([
      ["list.txt", 1, "usage"],
      ["list.txt", 3, "usage"],
    ]);
  });
});

describe("parameters one at a time", () => {
  const parameters = parseAxisList(LIST, "list.txt", source);
  const steps: string[] = [];
  const finding = finish(sweepRanges(source, { parameters, size, maker: TEST_MAKER }), (done, total) => {
    steps.push(`${done}/${total}`);
  });
  const result = { ...finding, verdict: rangesVerdict(finding) };

  it("give at every value what the scenario with this value alone gives, and tell how far they are", () => {
    expect(steps).toEqual(["1/7", "2/7", "3/7", "4/7", "5/7", "6/7", "7/7"]);
    const assessor = createAssessor(size);
    for (const { path, values, cells } of finding.parameters) {
      values.forEach(({ text }, place) => {
        const alone = assessor.assess(source.vary([{ path, value: text }]));
        expect(cells[place].shares, `${path}=${text}`).toEqual(alone.shares);
      });
    }
  });

  it("know their lowest and highest value, and the span between them on the same units", () => {
    for (const { cells, least, most, span } of finding.parameters) {
      const ratios = cells.map(({ shares }) => shares.good.ratio);
      expect(ratios[least]).toBe(Math.min(...ratios));
      expect(ratios[most]).toBe(Math.max(...ratios));
      expect(span.differenceRatio).toBeCloseTo(ratios[most] - ratios[least], 12);
      for (const { shares, difference } of cells) {
        expect(difference.differenceRatio).toBeCloseTo(shares.good.ratio - finding.base.shares.good.ratio, 12);
      }
    }
    // What stands in the scenario already changes nothing.
    const group = finding.parameters[1];
    expect(source.at("bearings.both.clearanceGroup")).toBe(group.values[0].text);
    expect(group.cells[0].difference).toEqual({ differenceRatio: 0, lowRatio: 0, highRatio: 0 });
  });

  it("are told the furthest first, on a page with a picture and as rows", () => {
    const order = finding.parameters.slice().sort((a, b) => b.span.differenceRatio - a.span.differenceRatio);
    expect(result.verdict[0]).toContain(`The ${order[0].label} takes the yield furthest: from `);
    const page = decisionPage(result, rangesView(result));
    expect(page.match(/<figure>/g)).toHaveLength(1);
    expect(page).not.toMatch(/NaN|undefined/);
    const table = page.slice(page.indexOf("All parameters"));
    const places = order.map(({ label }) => table.indexOf(`>${label}<`));
    expect(Math.min(...places)).toBeGreaterThan(0);
    expect(places).toEqual(places.slice().sort((a, b) => a - b));
    const items = new Set(rangesRows(result).map(({ item }) => item));
    for (const item of ["as it stands", "states.hot.housing=120 ±6 degC", "clamp.force"]) expect(items).toContain(item);
  });

  it("are refused twice, not at all, too many, and at a value that makes no scenario", () => {
    const refused = (texts: readonly string[]) => {
      const given = texts.map((text) => parseAxis(text, "--over", source));
      return problemsOf(() => finish(sweepRanges(source, { parameters: given, size, maker: TEST_MAKER })))[0];
    };
    expect(refused([]).code).toBe("missing");
    expect(refused(["clamp.force=1,2", "clamp.force=3,4"])).toMatchObject({ code: "conflict", path: "clamp.force" });
    expect(refused(Array.from({ length: 11 }, (_, i) => `a${i}=1..2/1000`)).code).toBe("too-large");
    expect(refused(["bearings.both.clearanceGroup=C9,C3"]).path).toBe("C9: bearings.both.clearanceGroup");
  });
});
