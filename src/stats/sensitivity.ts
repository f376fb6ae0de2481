/**
 * First-order sensitivity indices from samples that were drawn anyway: S = Var(E[y|x])/Var(y), by sorting the samples into bins of the input.
 */
import { InternalError } from "../errors.ts";

/** Counts, sums and sums of squares of the output over equiprobable bins of one input. Plain data; merges by addition. */
export interface BinnedOutput {
  /** Taken off every output before it is squared: anything near its mean, the same in all that are merged. */
  readonly shift: number;
  readonly counts: Float64Array;
  readonly sums: Float64Array;
  readonly squares: Float64Array;
}

/** @param bins 2 to 4096; 32 to 64 suit 10^4 samples and more */
export function emptyBinnedOutput(bins: number, shift = 0): BinnedOutput {
  if (!(Number.isInteger(bins) && bins >= 2 && bins <= 4096))
    throw new InternalError(`no sensitivity over ${bins} bins`);
  return {
    shift,
    counts: new Float64Array(bins),
    sums: new Float64Array(bins),
    squares: new Float64Array(bins),
  };
}

/**
 * Adds a block.
 *
 * @param uniforms the input's own probability (its CDF at the drawn value), closed [0, 1]: equal parts of it are equiprobable bins
 * @param outputs finite
 */
export function addBinnedOutput(
  into: BinnedOutput,
  uniforms: ArrayLike<number>,
  outputs: ArrayLike<number>,
  count: number,
): void {
  const { counts, sums, squares, shift } = into;
  const bins = counts.length;
  for (let index = 0; index < count; index += 1) {
    const bin = Math.min(bins - 1, Math.floor(uniforms[index] * bins));
    const value = outputs[index] - shift;
    counts[bin] += 1;
    sums[bin] += value;
    squares[bin] += value * value;
  }
}

/** Adds what another block, of the same bins and shift, has gathered. */
export function mergeBinnedOutput(into: BinnedOutput, other: BinnedOutput): void {
  if (other.counts.length !== into.counts.length || other.shift !== into.shift) {
    throw new InternalError("binned outputs of unlike bins or shift do not merge");
  }
  for (let bin = 0; bin < into.counts.length; bin += 1) {
    into.counts[bin] += other.counts[bin];
    into.sums[bin] += other.sums[bin];
    into.squares[bin] += other.squares[bin];
  }
}

export interface FirstOrderIndex {
  /** The index with the bias of finite bins taken off; may fall a little below 0 where there is no effect. */
  readonly indexRatio: number;
  /** Standard error that an input without effect would show: an index below twice this cannot be told from none. */
  readonly noiseRatio: number;
}

/**
 * The first-order index of the input over whose bins the outputs were gathered.
 *
 * Equation: S = (v_b - (B - 1)/N·v_w)/V, v_b = Σ n_b(m_b - m)²/N between the bins, v_w = Σ SS_b/(N - B) within them, V = SS/N, over the B bins that
 * hold samples. Without an effect v_b/v_w spreads as χ² with B - 1 degrees of freedom over N, whence the noise √(2(B - 1))/N·v_w/V.
 *
 * Accuracy: the slope within a bin is lost, about 1/B² of the index for a uniform input and 1 % at 32 bins for a normal one.
 *
 * @returns zeros when nothing varies; NaN with fewer samples than bins + 1
 *
 * Source: the correlation ratio of K. Pearson, 1905, with the analysis of variance's correction (as ω², W. L. Hays, 1963; from memory).
 */
export function firstOrderIndex(binned: BinnedOutput): FirstOrderIndex {
  let total = 0;
  let sum = 0;
  let squares = 0;
  let filled = 0;
  for (let bin = 0; bin < binned.counts.length; bin += 1) {
    if (binned.counts[bin] === 0) continue;
    filled += 1;
    total += binned.counts[bin];
    sum += binned.sums[bin];
    squares += binned.squares[bin];
  }
  if (total <= filled || filled < 2) return { indexRatio: Number.NaN, noiseRatio: Number.NaN };
  const mean = sum / total;
  let between = 0;
  for (let bin = 0; bin < binned.counts.length; bin += 1) {
    const count = binned.counts[bin];
    if (count === 0) continue;
    const deviation = binned.sums[bin] / count - mean;
    between += count * deviation * deviation;
  }
  const all = squares - sum * mean;
  if (!(all > 1e-14 * squares)) return { indexRatio: 0, noiseRatio: 0 };
  const within = Math.max(0, all - between) / (total - filled);
  return {
    indexRatio: (between - (filled - 1) * within) / all,
    noiseRatio: (Math.sqrt(2 * (filled - 1)) * within) / all,
  };
}
