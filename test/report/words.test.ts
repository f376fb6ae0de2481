import { describe, expect, it } from "vitest";
import {
  clip,
  listing,
  micrometres,
  newtons,
  percent,
  points,
  shareText,
  tick,
  tidyPercent,
} from "../../src/report/words.ts";

const plain = (text: string) => text.replace(/\u00a0/g, " ");

describe("figures in words", () => {
  it("never print NaN or Infinity", () => {
    for (const value of [Number.NaN, Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY]) {
      expect([micrometres(value), newtons(value), percent(value), tick(value)]).toEqual(["–", "–", "–", "–"]);
    }
  });

  it("round to what a machine shop reads: tenths of a micrometre below 100, none above", () => {
    expect(plain(micrometres(0.01254))).toBe("12.5 µm");
    expect(plain(micrometres(0.09996))).toBe("100 µm");
    expect(plain(micrometres(-0.0031))).toBe("−3.1 µm");
  });

  it("hold a figure and its unit together at the end of a line", () => {
    expect([micrometres(0.01), newtons(49.8), percent(0.5)].join("")).not.toContain(" ");
  });

  it("print shares in ppm where small, and the bound of a count of nothing", () => {
    expect(plain(percent(0.00035))).toBe("350 ppm");
    expect(plain(tidyPercent(0.9))).toBe("90 %");
    expect(plain(tidyPercent(0.995))).toMatch(/^99\.50? %$/);
    const none = { count: 0, shareRatio: 0, lowRatio: 0, highRatio: 0.0000184, method: "clopper-pearson" } as const;
    expect(plain(shareText(none))).toBe("none (below 18 ppm)");
  });

  it("count points of yield in the singular and the plural", () => {
    expect([points(0.01), points(0.018), points(0.183)]).toEqual(["1.0 point", "1.8 points", "18 points"]);
  });

  it("list with commas and a last and", () => {
    expect([listing([]), listing(["a"]), listing(["a", "b"]), listing(["a", "b", "c"])]).toEqual([
      "",
      "a",
      "a and b",
      "a, b and c",
    ]);
  });

  it("clip a label before its closing bracket, so that like labels stay apart", () => {
    expect(clip("short", 10)).toBe("short");
    expect(clip("temperature difference (warming up)", 28)).toBe("temperature di… (warming up)");
    expect(clip("a label without any bracket", 12)).toBe("a label wit…");
  });

  it("label an axis as shortly as the figure allows", () => {
    expect([tick(0), tick(100), tick(0.30000000000000004), tick(12000)]).toEqual(["0", "100", "0.3", "12\u202f000"]);
  });
});
