/** The part of jstat 1.9 that is used; the package ships no types. */
declare module "jstat" {
  interface Family<P extends number[]> {
    pdf(x: number, ...parameters: P): number;
    cdf(x: number, ...parameters: P): number;
    inv(p: number, ...parameters: P): number;
    mean(...parameters: P): number;
    variance(...parameters: P): number;
  }
  const jStat: {
    readonly normal: Family<[mean: number, sd: number]>;
    readonly lognormal: Family<[logMean: number, logSd: number]>;
    readonly beta: Family<[alpha: number, beta: number]>;
    readonly studentt: Family<[degreesOfFreedom: number]>;
    readonly uniform: Family<[low: number, high: number]>;
    readonly triangular: Family<[low: number, high: number, mode: number]>;
    readonly arcsine: Family<[low: number, high: number]>;
  };
  /** A CommonJS package: Node hands all of it over as its default. */
  const jstat: { readonly jStat: typeof jStat };
  export default jstat;
}
