import type { PreparedDistribution } from "../distributions/prepared.ts";

/**
 * The law of shift + factor·X.
 *
 * @param factor not 0; below 0 the tails change places
 */
export function stretched(law: PreparedDistribution, factor: number, shift: number): PreparedDistribution {
  if (factor === 1 && shift === 0) return law;
  const back = (x: number) => (x - shift) / factor;
  const move = (x: number) => shift + factor * x;
  const size = Math.abs(factor);
  const rises = factor > 0;
  return {
    low: move(rises ? law.low : law.high),
    high: move(rises ? law.high : law.low),
    mean: move(law.mean),
    standardDeviation: size * law.standardDeviation,
    quantile: (p) => move(rises ? law.quantile(p) : law.upperQuantile(p)),
    upperQuantile: (q) => move(rises ? law.upperQuantile(q) : law.quantile(q)),
    cdf: rises ? (x) => law.cdf(back(x)) : (x) => law.survival(back(x)),
    survival: rises ? (x) => law.survival(back(x)) : (x) => law.cdf(back(x)),
    pdf: (x) => law.pdf(back(x)) / size,
    transform: (column, count) => {
      // From the other end where the order turns, so that a greater uniform still gives a greater value.
      if (!rises) for (let i = 0; i < count; i += 1) column[i] = 1 - column[i];
      law.transform(column, count);
      for (let i = 0; i < count; i += 1) column[i] = shift + factor * column[i];
    },
  };
}
