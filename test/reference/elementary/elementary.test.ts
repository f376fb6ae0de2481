import { describe, expect, it } from "vitest";
import * as all from "../../../src/numeric/elementary.ts";
import cases from "./cases.json" with { type: "json" };

const elementary = { ...all };

type Name = Exclude<keyof typeof cases, "default">;

/** One unit in the last place of a double. */
function ulp(value: number): number {
  const view = new DataView(new ArrayBuffer(8));
  view.setFloat64(0, Math.abs(value));
  view.setBigInt64(0, view.getBigInt64(0) + 1n);
  return view.getFloat64(0) - Math.abs(value);
}

// The bounds are those of the docstrings.
const BOUND_ULP: Partial<Record<Name, number>> = { atan2: 2 };

describe("elementary functions against mpmath (source: SOURCE.md)", () => {
  for (const name of Object.keys(cases).filter((key) => key !== "default") as Name[]) {
    it(`${name} stays within its stated error`, () => {
      const own = elementary[name] as (...args: number[]) => number;
      for (const { args, nearest, rest } of cases[name]) {
        const errorUlp = Math.abs(own(...args) - nearest - rest) / ulp(nearest);
        expect(errorUlp, `${name}(${args.join(", ")})`).toBeLessThan(BOUND_ULP[name] ?? 1);
      }
    });
  }
});
