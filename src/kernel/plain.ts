import type { NormalLaw, UniformLaw } from "../distributions/prepared.ts";
import { transformByLaw } from "../distributions/transform.ts";
import { fillOpenUniforms } from "../random/xoshiro128.ts";
import { momentsOf } from "../stats/moments.ts";
import type { Kernel } from "./kernel.ts";
import * as fill from "./plain/fill.ts";
import { fillPairOffsets } from "./plain/offsets.ts";
import { solvePairs } from "./plain/pairs.ts";
import { anyAbove, preparePairs, settlePairs } from "./plain/settle.ts";
import * as statistics from "./plain/statistics.ts";

/** The kernel in plain TypeScript: the reference. */
export const PLAIN_KERNEL: Kernel = {
  name: "plain",
  column: (size) => new Float64Array(size),
  bytes: (size) => new Uint8Array(size),
  words: (size) => new Uint16Array(size),
  scoped: (work) => work(),
  mark: () => () => {},
  fillUniforms(states, columns, count) {
    columns.forEach((column, stream) => {
      fillOpenUniforms(states.subarray(4 * stream, 4 * stream + 4), column, count);
    });
  },
  transform: (law: NormalLaw | UniformLaw, column, count) => transformByLaw(law, column, count),
  ...fill,
  preparePairs,
  solvePairs,
  fillPairOffsets,
  anyAbove,
  settlePairs,
  moments: momentsOf,
  ...statistics,
};
