/** The uncertainty of a quantity that others are added up to. */
import { InternalError } from "../errors.ts";
import { studentTQuantile } from "../numeric/special.ts";

export interface BudgetTerm {
  /** Standard uncertainty times the magnitude of the sensitivity, in the unit of the result. */
  readonly contribution: number;
  /** Infinite where the standard uncertainty is known. */
  readonly degreesOfFreedom: number;
}

export interface CombinedUncertainty {
  readonly standard: number;
  readonly effectiveDegreesOfFreedom: number;
  readonly coverageFactor: number;
  readonly expanded: number;
}

/**
 * Combined and expanded uncertainty of independent terms: u² = Σ u_i², ν = u⁴/Σ(u_i⁴/ν_i), U = t(ν)·u with ν cut to a whole number.
 *
 * @param coverage of the expanded uncertainty, open (0, 1)
 *
 * Source: JCGM 100:2008, 5.1.2, G.4.1 (Welch and Satterthwaite) and G.6.4.
 */
export function combineUncertainty(terms: readonly BudgetTerm[], coverage = 0.95): CombinedUncertainty {
  if (!(coverage > 0 && coverage < 1)) throw new InternalError(`no coverage ${coverage}`);
  let variance = 0;
  for (const { contribution } of terms) variance += contribution * contribution;
  let sum = 0;
  for (const { contribution, degreesOfFreedom } of terms) {
    if (contribution === 0 || degreesOfFreedom === Number.POSITIVE_INFINITY) continue;
    const share = (contribution * contribution) / variance;
    sum += (share * share) / degreesOfFreedom;
  }
  const effectiveDegreesOfFreedom = sum > 0 ? 1 / sum : Number.POSITIVE_INFINITY;
  // Past a million degrees of freedom t is the normal to six digits.
  const whole = Math.min(1e6, Math.max(1, Math.floor(effectiveDegreesOfFreedom)));
  const coverageFactor = studentTQuantile(0.5 * (1 + coverage), whole);
  const standard = Math.sqrt(variance);
  return { standard, effectiveDegreesOfFreedom, coverageFactor, expanded: coverageFactor * standard };
}
