/**
 * How the yield answers to every mean and every spread, from one set of samples: the score function on the failures.
 */
import { InternalError } from "../errors.ts";

/** Sums over samples, for each variable. Plain data; merges by addition. */
export interface ScoreSums {
  count: number;
  readonly mean: Float64Array;
  readonly meanSquares: Float64Array;
  readonly spread: Float64Array;
  readonly spreadSquares: Float64Array;
}

/** Sums over nothing, one column entry a variable. */
export function emptyScoreSums(variables: number): ScoreSums {
  const column = () => new Float64Array(variables);
  return { count: 0, mean: column(), meanSquares: column(), spread: column(), spreadSquares: column() };
}

/**
 * Adds a block.
 *
 * @param scores normal scores of the variables, one column each; for a variable that is not normal, Φ⁻¹ of its own probability
 * @param failures chance that the unit fails: 0 or 1, or a conditional probability between
 */
export function addScores(
  into: ScoreSums,
  scores: readonly Float64Array[],
  failures: ArrayLike<number>,
  count: number,
): void {
  if (scores.length !== into.mean.length) throw new InternalError(`no score sums of ${scores.length} variables`);
  into.count += count;
  for (let variable = 0; variable < scores.length; variable += 1) {
    const column = scores[variable];
    let [mean, meanSquares, spread, spreadSquares] = [0, 0, 0, 0];
    for (let i = 0; i < count; i += 1) {
      const failure = failures[i];
      if (failure === 0) continue;
      const z = column[i];
      const byMean = failure * z;
      const bySpread = failure * (z * z - 1);
      mean += byMean;
      meanSquares += byMean * byMean;
      spread += bySpread;
      spreadSquares += bySpread * bySpread;
    }
    into.mean[variable] += mean;
    into.meanSquares[variable] += meanSquares;
    into.spread[variable] += spread;
    into.spreadSquares[variable] += spreadSquares;
  }
}

/** Adds what another block has gathered. */
export function mergeScoreSums(into: ScoreSums, other: ScoreSums): void {
  if (other.mean.length !== into.mean.length) throw new InternalError("score sums of unlike variables do not merge");
  into.count += other.count;
  for (let variable = 0; variable < into.mean.length; variable += 1) {
    into.mean[variable] += other.mean[variable];
    into.meanSquares[variable] += other.meanSquares[variable];
    into.spread[variable] += other.spread[variable];
    into.spreadSquares[variable] += other.spreadSquares[variable];
  }
}

export interface Slope {
  readonly value: number;
  /** For independent samples; NaN below two. */
  readonly standardError: number;
}

export interface YieldSlope {
  /** Change of the yield for a shift of the mean, per unit of the standard deviation given. */
  readonly byMean: Slope;
  /** Change of the yield for a change of the standard deviation, the same. */
  readonly bySpread: Slope;
}

/**
 * The slopes of the yield Y by a variable's mean μ and standard deviation σ.
 *
 * Equation: dY/dμ = -E[F·z]/σ, dY/dσ = -E[F·(z² - 1)]/σ, F the failure, z = (x - μ)/σ. Failures alone carry the sum: the same mean as over the good units, with
 * less spread where failures are rare. With σ = 1 the slopes are those by the normal score: exact for a normal variable, for another
 * the answer to a shift or a stretch of its normal score, which at a rounded or one-sided limit of its support is not that of its own mean.
 *
 * @param sd σ, > 0, in the variable's unit
 *
 * Source: R. Y. Rubinstein, A. Shapiro, Discrete Event Systems, 1993 (score function; from memory).
 */
export function yieldSlope(sums: ScoreSums, variable: number, sd = 1): YieldSlope {
  if (!(sd > 0)) throw new InternalError(`no slope by a standard deviation of ${sd}`);
  const slope = (sum: number, squares: number): Slope => {
    const mean = sum / sums.count;
    const variance = Math.max(0, squares / sums.count - mean * mean) / (sums.count - 1);
    return { value: -mean / sd, standardError: sums.count > 1 ? Math.sqrt(variance) / sd : Number.NaN };
  };
  return {
    byMean: slope(sums.mean[variable], sums.meanSquares[variable]),
    bySpread: slope(sums.spread[variable], sums.spreadSquares[variable]),
  };
}
