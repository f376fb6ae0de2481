import { studentTCdf, studentTPdf, studentTQuantile } from "../numeric/special.ts";
import { type InverseTable, LEAST_TABULATED, lookUp, tabulate } from "./inverse-table.ts";
import type { PreparedDistribution } from "./prepared.ts";

/** mean + scale·t, t of Student with ν degrees of freedom (JCGM 101:2008, 6.4.9): variance scale²·ν/(ν − 2) for ν > 2. */
export function prepareStudentT(mean: number, scale: number, degreesOfFreedom: number): PreparedDistribution {
  const nu = degreesOfFreedom;
  let table: InverseTable | null = null;
  return {
    low: Number.NEGATIVE_INFINITY,
    high: Number.POSITIVE_INFINITY,
    mean: nu > 1 ? mean : Number.NaN,
    standardDeviation: nu > 2 ? scale * Math.sqrt(nu / (nu - 2)) : Number.POSITIVE_INFINITY,
    quantile: (p) => mean + scale * studentTQuantile(p, nu),
    upperQuantile: (q) => mean - scale * studentTQuantile(q, nu),
    cdf: (x) => studentTCdf((x - mean) / scale, nu),
    survival: (x) => studentTCdf((mean - x) / scale, nu),
    pdf: (x) => studentTPdf((x - mean) / scale, nu) / scale,
    transform: (column, count) => {
      table ??= tabulate((v) => studentTQuantile(v, nu), 1e-11);
      for (let i = 0; i < count; i++) {
        const u = column[i];
        const v = Math.min(u, 1 - u);
        let t = v >= LEAST_TABULATED ? lookUp(table, v) : Number.NaN;
        if (Number.isNaN(t)) t = studentTQuantile(v, nu);
        column[i] = u < 0.5 ? mean + scale * t : mean - scale * t;
      }
    },
  };
}
