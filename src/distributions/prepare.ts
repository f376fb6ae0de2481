import { prepareEmpirical } from "./empirical.ts";
import { prepareLognormal } from "./lognormal.ts";
import { prepareNormal, prepareTruncatedNormal } from "./normal.ts";
import type { PreparedDistribution } from "./prepared.ts";
import { prepareSkewed } from "./skewed.ts";
import { prepareArcsine, prepareConstant, prepareTrapezoidal, prepareTriangular, prepareUniform } from "./straight.ts";
import { prepareStudentT } from "./student-t.ts";
import type { Distribution } from "./types.ts";

/** Works out the constants of a valid distribution once; use it wherever a function of the same distribution is called often. */
export function prepare(d: Distribution): PreparedDistribution {
  switch (d.kind) {
    case "constant":
      return prepareConstant(d.value);
    case "normal":
      return prepareNormal(d.mean, d.sd);
    case "truncated-normal":
      return prepareTruncatedNormal(d.mean, d.sd, d.low, d.high);
    case "uniform":
      return prepareUniform(d.low, d.high);
    case "triangular":
      return prepareTriangular(d.low, d.mode, d.high);
    case "trapezoidal":
      return prepareTrapezoidal(d.low, d.shoulderLow, d.shoulderHigh, d.high);
    case "skewed":
      return prepareSkewed(d.low, d.high, d.alpha, d.beta);
    case "lognormal":
      return prepareLognormal(d.logMean, d.logSd, d.shift);
    case "student-t":
      return prepareStudentT(d.mean, d.scale, d.degreesOfFreedom);
    case "arcsine":
      return prepareArcsine(d.low, d.high);
    case "empirical":
      return prepareEmpirical(d.values);
  }
}
