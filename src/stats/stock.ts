/** How many of each kind to keep so that a batch can be served: joint chance of a multinomial demand. */
import { InternalError } from "../errors.ts";
import { poissonDensity } from "../numeric/special.ts";
import { binomialQuantile } from "./batch-counts.ts";

/** Batches beyond this are served kind by kind (Bonferroni), which keeps a little more than is needed. */
const LARGEST_EXACT = 2000;

/**
 * Chance that a batch of n asks for no more of any kind than there is: P(X_1 ≤ s_1, …, X_m ≤ s_m), X multinomial.
 *
 * Equation (Levin): n!·e^n/n^n · Π P(Y_k ≤ s_k) · P(ΣY'_k = n), Y_k Poisson with mean n·p_k, Y'_k the same cut at s_k. The sum's law by
 * convolution; exact but for rounding (1e-12 at n = 2000).
 *
 * @param shares p_k, sum 1 within 1e-9
 * @param stock s_k, whole numbers from 0
 * Source: B. Levin, "A representation for multinomial cumulative distribution functions", Ann. Statist. 9 (1981) 1123-1126.
 */
export function coverChance(n: number, shares: readonly number[], stock: readonly number[]): number {
  if (shares.length !== stock.length) throw new InternalError("as many stocks as shares");
  let law = new Float64Array(n + 1);
  law[0] = 1;
  for (const [kind, share] of shares.entries()) {
    const mean = n * share;
    const most = Math.min(n, stock[kind]);
    const own = poisson(mean, most);
    const next = new Float64Array(n + 1);
    for (let have = 0; have <= n; have += 1) {
      if (law[have] === 0) continue;
      const reach = Math.min(most, n - have);
      for (let more = 0; more <= reach; more += 1) next[have + more] += law[have] * own[more];
    }
    law = next;
  }
  return Math.min(1, law[n] / poissonDensity(n, n));
}

/** Poisson probabilities 0 … most. */
function poisson(mean: number, most: number): Float64Array {
  return Float64Array.from({ length: most + 1 }, (_, k) => (mean === 0 ? Number(k === 0) : poissonDensity(k, mean)));
}

/**
 * The stock of each kind with which a batch of n is served with a chance of at least `serviceRatio`: the same quantile of every
 * kind's own binomial demand, as low as the joint chance allows.
 *
 * @returns stocks and the joint chance that they give (a lower bound beyond n = 2000)
 */
export function stockFor(
  n: number,
  shares: readonly number[],
  serviceRatio: number,
): { readonly stock: readonly number[]; readonly coverRatio: number } {
  const at = (miss: number) =>
    shares.map((share) => (share === 0 ? 0 : binomialQuantile(1 - miss, n, Math.min(1, share))));
  const kinds = shares.filter((share) => share > 0).length;
  const safe = (1 - serviceRatio) / Math.max(1, kinds);
  if (n > LARGEST_EXACT) return { stock: at(safe), coverRatio: serviceRatio };
  let low = safe;
  let high = 1 - serviceRatio;
  let stock = at(low);
  let coverRatio = coverChance(n, shares, stock);
  for (let step = 0; step < 12; step += 1) {
    const middle = Math.sqrt(low * high);
    const tried = at(middle);
    const cover = coverChance(n, shares, tried);
    if (cover >= serviceRatio) {
      low = middle;
      stock = tried;
      coverRatio = cover;
    } else high = middle;
  }
  return { stock, coverRatio };
}
