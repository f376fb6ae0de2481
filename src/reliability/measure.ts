/** A distribution as something to integrate over: a parameter in which neither its values nor its weights have singular points. */
import { prepare } from "../distributions/prepare.ts";
import type { PreparedDistribution } from "../distributions/prepared.ts";
import type { Distribution } from "../distributions/types.ts";
import { asin, exp, log, sin } from "../numeric/elementary.ts";
import { normalPdf } from "../numeric/special.ts";

export interface Measure {
  readonly prepared: PreparedDistribution;
  /** Values at which the density has a kink, a jump or a singular point; the ends of the support where they are finite. */
  readonly kinks: readonly number[];
  /** Parameters that the integral runs over, rising: the ends, and what must be split at. */
  readonly places: readonly number[];
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
        kinks: [],
        places: [-SCORE_REACH, -3, 0, 3, SCORE_REACH],
        value: (w) => d.shift + exp(d.logMean + d.logSd * w),
        weight: normalPdf,
        place: (value) =>
          value <= d.shift ? -SCORE_REACH : clampTo((log(value - d.shift) - d.logMean) / d.logSd, SCORE_REACH),
      };
    case "student-t":
      // t = w/(1 - w²): the weight stays bounded for one degree of freedom and more.
      return {
        prepared,
        kinks: [],
        places: [-1, -0.75, -0.4, 0, 0.4, 0.75, 1],
        value: (w) => d.mean + (d.scale * w) / Math.max((1 - w) * (1 + w), 1e-300),
        weight: (w) => {
          const gap = Math.max((1 - w) * (1 + w), 1e-300);
          return (prepared.pdf(d.mean + (d.scale * w) / gap) * d.scale * (1 + w * w)) / (gap * gap);
        },
        place: (value) => {
          const t = (value - d.mean) / d.scale;
          return Math.abs(t) < 1e-8 ? t : (2 * t) / (1 + Math.sqrt(1 + 4 * t * t));
        },
      };
    case "skewed":
      return d.alpha < 1 || d.beta < 1 ? inProbability(prepared) : inValue(prepared, [], prepared.mean);
    case "truncated-normal":
      return inValue(prepared, [], d.mean);
    case "triangular":
      return inValue(prepared, [d.mode], d.mode);
    case "trapezoidal":
      return inValue(prepared, [d.shoulderLow, d.shoulderHigh], d.shoulderLow);
    case "empirical":
      return inValue(prepared, d.values.slice(1, -1), d.values[0], d.values.length > MOST_KINKS);
    default:
      return inValue(prepared, [], prepared.mean);
  }
}

/** Over the values themselves, between limits outside of which 1e-17 lies at most. */
function inValue(prepared: PreparedDistribution, inner: readonly number[], peak: number, manyKinks = false): Measure {
  const low = Math.max(prepared.low, prepared.quantile(1e-18));
  const high = Math.min(prepared.high, prepared.upperQuantile(1e-18));
  const sd = prepared.standardDeviation;
  const guides = [-8, -4, -2, 0, 2, 4, 8].map((z) => peak + z * sd);
  const places = [low, ...inner, ...guides, high].filter((x) => x >= low && x <= high).sort((a, b) => a - b);
  const ends = [prepared.low, prepared.high].filter(Number.isFinite);
  return {
    prepared,
    kinks: manyKinks ? ends : [...ends, ...inner],
    places: places.filter((x, k) => k === 0 || x > places[k - 1]),
    value: (w) => w,
    weight: prepared.pdf,
    place: (value) => Math.min(high, Math.max(low, value)),
  };
}

/** Over the probability, where the density has no bound; the upper half counted from the top. */
function inProbability(prepared: PreparedDistribution): Measure {
  return {
    prepared,
    kinks: [prepared.low, prepared.high],
    places: [-0.5, 0, 0.5],
    value: (w) => (w < 0 ? prepared.quantile(0.5 + w) : prepared.upperQuantile(0.5 - w)),
    weight: () => 1,
    place: (value) => {
      const below = prepared.cdf(value);
      return below < 0.5 ? below - 0.5 : 0.5 - prepared.survival(value);
    },
  };
}

function clampTo(x: number, reach: number): number {
  return Math.min(reach, Math.max(-reach, x));
}
