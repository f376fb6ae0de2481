import { iso286Limits } from "../catalogue/iso286.ts";
import { addMm } from "./bearings.ts";
import { type DrawnValue, readDrawn } from "./drawn.ts";
import type { Drawn } from "./schema-drawn.ts";

/** Length of a member of a dimension chain as written: above 0 to 10 m, plain numbers in mm, ISO 286 codes allowed. */
export function readMemberLength(written: Drawn, path: string): DrawnValue {
  return readDrawn(written, {
    dimension: "length",
    path,
    options: { bareUnit: "mm", low: 0, openLow: true, high: 10_000 },
    code: (nominalMm, code) => {
      const { lowMm, highMm, source } = iso286Limits(nominalMm, code, path);
      return { low: addMm(nominalMm, lowMm), high: addMm(nominalMm, highMm), source };
    },
  });
}
