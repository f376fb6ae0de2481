import { describe, expect, test } from "vitest";
import { reproductionText } from "../../../src/report/reproduction-text.ts";
import { compareResults } from "../../../src/studies/reproduce/differences.ts";
import { makeFixture } from "../../support/result-fixture.ts";

describe("two results beside one another", () => {
  const result = { ...makeFixture().result, verdict: ["92 % of the units are good.", "More of it."] };
  interface Before {
    provenance: Record<string, unknown>;
    verdict: string[];
    states: { preloadN: { mean: number } }[];
  }
  const again = (change: (result: Before) => void) => {
    const before = JSON.parse(JSON.stringify(result));
    change(before);
    const found = compareResults(before, result);
    return { ...found, text: reproductionText(found, "result.json") };
  };

  test("another platform, program or catalogue version is told of and no difference, nor is how that version words the verdict", () => {
    const { isSame, text, words } = again(({ provenance, verdict }) => {
      provenance.platform = "node 20 elsewhere";
      provenance.version = "0.0.1";
      provenance.catalogueVersion = "older";
      verdict[0] = "Put otherwise.";
      verdict.pop();
    });
    expect(isSame).toBe(true);
    expect(text).toMatch(/^The same: \d+ numbers/);
    for (const key of ["platform", "version", "catalogueVersion"]) expect(text).toContain(`provenance.${key}: `);
    expect(words.map(({ path }) => path)).toEqual(["verdict.0", "verdict.1"]);
    expect(text).toContain("words the verdict otherwise");
  });

  test("the same version says the same; another version with other numbers is not the same", () => {
    expect(again(({ verdict }) => verdict.pop()).differences).toEqual([
      { path: "verdict.1", before: undefined, now: "More of it." },
    ]);
    const other = again(({ provenance, states }) => {
      provenance.version = "0.0.1";
      states[0].preloadN.mean += 1;
    });
    expect(other.isSame).toBe(false);
    expect(other.text).toMatch(
      /Made otherwise[\s\S]*provenance\.version[\s\S]*1 value differs[\s\S]*states\.0\.preloadN\.mean/,
    );
  });

  test.each(["streamVersion", "scenarioHash", "seed", "samples", "schemaVersion"])(
    "another %s is a difference, whatever the numbers are",
    (key) => {
      const found = again(({ provenance }) => {
        provenance[key] = "another";
      });
      expect(found.isSame).toBe(false);
      expect(found.text).toContain(`provenance.${key}: "another", `);
    },
  );

  test("a number that is missing, too many, no number, or zero of the other sign is a difference", () => {
    for (const [value, count] of [
      [undefined, 1],
      [null, 1],
      ["0", 1],
      [-0, 0],
    ] as const) {
      const before = { value };
      // JSON has no negative zero: it stands as 0 in both.
      expect(compareResults(JSON.parse(JSON.stringify(before)), { value: 0 }).differences).toHaveLength(count);
    }
    expect(compareResults({ list: [1, 2, 3] }, { list: [1, 2] }).differences).toEqual([
      { path: "list.2", before: 3, now: undefined },
    ]);
  });
});
