/** The elementary functions that results may depend on: the same bits in Node and in every browser. */
export { exp, expm1, log, log1p } from "./exponential.ts";
export { acos, asin, atan, atan2 } from "./inverse-trigonometric.ts";
export { cbrt, hypot, pow } from "./power.ts";
export { cos, sin, tan } from "./trigonometric.ts";
