import { transformNormal } from "./normal.ts";
import { prepare } from "./prepare.ts";
import type { ColumnTransform, NormalLaw, UniformLaw } from "./prepared.ts";
import { transformUniform } from "./straight.ts";
import type { Distribution } from "./types.ts";

/**
 * The function that turns open uniforms (0 < u < 1) into values, in place, by the inverse CDF: one uniform a value, so that a draw has an
 * address. Constants are worked out here, once; the column loop allocates nothing.
 */
export function transformInPlace(d: Distribution): ColumnTransform {
  return prepare(d).transform;
}

/** The same for one of the hot laws, given in numbers alone. */
export function transformByLaw(law: NormalLaw | UniformLaw, column: Float64Array, count: number): void {
  if (law.kind === "normal") transformNormal(law, column, count);
  else transformUniform(law, column, count);
}
