/** A distribution as something to integrate over: a parameter in which neither its values nor its weights have singular points. */
import { prepare } from "../distributions/prepare.ts";
import type { PreparedDistribution } from "../distributions/prepared.ts";
import type { Distribution } from "../distributions/types.ts";
import { asin, exp, log, log1p, pow, sin } from "../numeric/elementary.ts";
import { logGamma, normalPdf } from "../numeric/special.ts";
import { stretched } from "./stretched.ts";

export interface Atom {
  readonly value: number;
  readonly probability: number;
}

export interface Measure {
  readonly prepared: PreparedDistribution;
  /** Values at which the density has a kink, a jump or a singular point, and between which all but nothing of it lies. */
  readonly kinks: readonly number[];
  /** Parameters that the integral runs over, rising: the ends, and what must be split at. */
  readonly places: readonly number[];
  /** Values with a probability of their own: readings that occur more than once. */
  readonly atoms?: readonly Atom[];
  /** Whether the CDF costs enough to be tabulated before it is integrated. */
  readonly isSlow?: boolean;
  /** The value at a parameter. */
  value(w: number): number;
  /** dG/dw. */
  weight(w: number): number;
  /** The parameter of a value; outside the support the nearer end. */
  place(value: number): number;
}

/** Where a normal score has weight no longer: Φ(-9) = 1e-19. */
const SCORE_REACH = 9;
/** Kinks of more measured values than this are left to the adaptive rule. */
const MOST_KINKS = 64;

/** The measure of any distribution but a constant. */
export function measureOf(d: Distribution): Measure {
  const prepared = prepare(d);
  switch (d.kind) {
    case "arcsine": {
      const half = 0.5 * (d.high - d.low);
      const middle = d.low + half;
      return {
        prepared,
        kinks: [d.low, d.high],
        places: [-0.5 * Math.PI, 0.5 * Math.PI],
        value: (w) => middle + half * sin(w),
        weight: () => 1 / Math.PI,
        place: (value) => asin(Math.min(1, Math.max(-1, (value - middle) / half))),
      };
    }
    case "lognormal":
      return {
        prepared,
        kinks: [prepared.quantile(1e-9), prepared.upperQuantile(1e-9)],
        places: [-SCORE_REACH, -3, 0, 3, SCORE_REACH],
        value: (w) => d.shift + exp(d.logMean + d.logSd * w),
        weight: normalPdf,
        place: (value) =>
          value <= d.shift ? -SCORE_REACH : clampTo((log(value - d.shift) - d.logMean) / d.logSd, SCORE_REACH),
      };
    case "student-t": {
      // t = w/(1 - w²): the weight stays bounded for one degree of freedom and more.
      const peak = prepared.pdf(d.mean) * d.scale;
      const exponent = -0.5 * (d.degreesOfFreedom + 1);
      return {
        prepared,
        kinks: [1e-6, 0.02].flatMap((p) => [prepared.quantile(p), prepared.upperQuantile(p)]),
        places: [-1, -0.75, -0.4, 0, 0.4, 0.75, 1],
        isSlow: true,
        value: (w) => d.mean + (d.scale * w) / ((1 - w) * (1 + w)),
        weight: (w) => {
          const gap = (1 - w) * (1 + w);
          const t = w / gap;
          return (peak * exp(exponent * log1p((t * t) / d.degreesOfFreedom)) * (1 + w * w)) / (gap * gap);
        },
        place: (value) => {
          const t = (value - d.mean) / d.scale;
          return Math.abs(t) < 1e-8 ? t : (2 * t) / (1 + Math.sqrt(1 + 4 * t * t));
        },
      };
    }
    case "skewed":
      return d.alpha < 1 || d.beta < 1
        ? steepEnds(d, prepared)
        : { ...inValue(prepared, [], prepared.mean), isSlow: true };
    case "truncated-normal":
      return inValue(prepared, [], d.mean);
    case "triangular":
      return inValue(prepared, [d.mode], d.mode);
    case "trapezoidal":
      return inValue(prepared, [d.shoulderLow, d.shoulderHigh], d.shoulderLow);
    case "empirical":
      return {
        ...inValue(prepared, d.values.slice(1, -1), d.values[0], d.values.length > MOST_KINKS),
        atoms: repeated(d.values),
      };
    default:
      return inValue(prepared, [], prepared.mean);
  }
}

/** The measure of shift + factor·X, factor not 0. */
export function stretchedMeasure(measure: Measure, factor: number, shift: number): Measure {
  return {
    prepared: stretched(measure.prepared, factor, shift),
    kinks: measure.kinks.map((kink) => shift + factor * kink),
    places: measure.places,
    isSlow: measure.isSlow,
    atoms: measure.atoms?.map(({ value, probability }) => ({ value: shift + factor * value, probability })),
    value: (w) => shift + factor * measure.value(w),
    weight: measure.weight,
    place: (value) => measure.place((value - shift) / factor),
  };
}

/** Readings that stand more than once: each step between neighbours carries 1/(n - 1), also a step of no width. */
function repeated(values: readonly number[]): Atom[] {
  const atoms = new Map<number, number>();
  for (let k = 1; k < values.length; k += 1) {
    if (values[k] === values[k - 1]) atoms.set(values[k], (atoms.get(values[k]) ?? 0) + 1 / (values.length - 1));
  }
  return Array.from(atoms, ([value, probability]) => ({ value, probability }));
}

/** Over the values themselves, between limits outside of which 1e-17 lies at most. */
function inValue(prepared: PreparedDistribution, inner: readonly number[], peak: number, manyKinks = false): Measure {
  const low = Math.max(prepared.low, prepared.quantile(1e-18));
  const high = Math.min(prepared.high, prepared.upperQuantile(1e-18));
  const sd = prepared.standardDeviation;
  const guides = [-8, -4, -2, 0, 2, 4, 8].map((z) => peak + z * sd);
  const places = [low, ...inner, ...guides, high].filter((x) => x >= low && x <= high).sort((a, b) => a - b);
  return {
    prepared,
    kinks: manyKinks ? [low, high] : [low, ...inner, high],
    places: places.filter((x, k) => k === 0 || x > places[k - 1]),
    value: (w) => w,
    weight: prepared.pdf,
    place: (value) => Math.min(high, Math.max(low, value)),
  };
}

/**
 * A beta distribution whose density has no bound at an end: x = (1 + w)^q/2 in the lower half, 1 - x = (1 - w)^q/2 in the upper, with q = 2/shape at a steep
 * end, so that dG/dw goes to zero there: x^(α-1)·dx ∝ (1 + w)^(qα-1)·dw.
 */
function steepEnds(d: Extract<Distribution, { kind: "skewed" }>, prepared: PreparedDistribution): Measure {
  const width = d.high - d.low;
  const logBeta = logGamma(d.alpha) + logGamma(d.beta) - logGamma(d.alpha + d.beta);
  const half = (own: number, other: number) => {
    const q = own < 2 ? 2 / own : 1;
    const scale = q * exp(-own * Math.LN2 - logBeta);
    return {
      distance: (v: number) => 0.5 * pow(v, q),
      weight: (v: number) => scale * pow(v, q * own - 1) * pow(1 - 0.5 * pow(v, q), other - 1),
      parameter: (distance: number) => pow(2 * distance, 1 / q),
    };
  };
  const lower = half(d.alpha, d.beta);
  const upper = half(d.beta, d.alpha);
  return {
    prepared,
    kinks: [d.low, d.high],
    places: [-1, 0, 1],
    isSlow: true,
    value: (w) => (w < 0 ? d.low + width * lower.distance(1 + w) : d.high - width * upper.distance(1 - w)),
    weight: (w) => (w < 0 ? lower.weight(1 + w) : upper.weight(1 - w)),
    place: (value) => {
      const x = (value - d.low) / width;
      if (x <= 0 || x >= 1) return x <= 0 ? -1 : 1;
      return x < 0.5 ? lower.parameter(x) - 1 : 1 - upper.parameter((d.high - value) / width);
    },
  };
}

function clampTo(x: number, reach: number): number {
  return Math.min(reach, Math.max(-reach, x));
}
