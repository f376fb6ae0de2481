import { prepare } from "./prepare.ts";
import type { ColumnTransform } from "./prepared.ts";
import type { Distribution } from "./types.ts";

/**
 * The function that turns open uniforms (0 < u < 1) into values, in place, by the inverse CDF: one uniform a value, so that a draw has an
 * address. Constants are worked out here, once; the column loop allocates nothing.
 */
export function transformInPlace(d: Distribution): ColumnTransform {
  return prepare(d).transform;
}
