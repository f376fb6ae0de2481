/** Factors of the basic load ratings over γ = Dw·cos α/Dpw, as the standards print them. */
import { InputError } from "../errors.ts";

/**
 * f₀ at γ = 0.00, 0.01 … 0.40 for radial and angular-contact ball bearings.
 *
 * Source: ISO 76:2006, Table 1 (as in GOST 18854-2013).
 */
const STATIC_FACTORS: readonly number[] = [
  14.7, 14.9, 15.1, 15.3, 15.5, 15.7, 15.9, 16.1, 16.3, 16.5, 16.4, 16.1, 15.9, 15.6, 15.4, 15.2, 14.9, 14.7, 14.4,
  14.2, 14.0, 13.7, 13.5, 13.2, 13.0, 12.8, 12.5, 12.3, 12.1, 11.8, 11.6, 11.4, 11.2, 10.9, 10.7, 10.5, 10.3, 10.0, 9.8,
  9.6, 9.4,
];

/**
 * f_c at γ = 0.01, 0.02 … 0.40 for single-row radial and angular-contact ball bearings.
 *
 * Source: ISO 281:2007, Table 2 (as in GOST 18855-2013).
 */
const DYNAMIC_FACTORS: readonly number[] = [
  29.1, 35.8, 40.3, 43.8, 46.7, 49.1, 51.1, 52.8, 54.3, 55.5, 56.6, 57.5, 58.2, 58.8, 59.3, 59.6, 59.8, 59.9, 60.0,
  59.9, 59.8, 59.6, 59.3, 59.0, 58.6, 58.2, 57.7, 57.1, 56.6, 56.0, 55.3, 54.6, 53.9, 53.2, 52.4, 51.7, 50.9, 50.0,
  49.2, 48.4,
];

/** Last row of both tables. */
const HIGHEST_GAMMA_RATIO = 0.4;

/**
 * f₀ by linear interpolation, as the standard allows for values between the rows.
 *
 * @param gammaRatio γ, 0 to 0.40
 * @throws InputError outside the range of the table
 */
export function staticFactor(gammaRatio: number): number {
  return interpolate(STATIC_FACTORS, 0, gammaRatio);
}

/** f_c by linear interpolation, γ from 0.01 to 0.40; otherwise as `staticFactor`. */
export function dynamicFactor(gammaRatio: number): number {
  return interpolate(DYNAMIC_FACTORS, 1, gammaRatio);
}

function interpolate(rows: readonly number[], firstHundredth: number, gammaRatio: number): number {
  const place = gammaRatio * 100 - firstHundredth;
  const last = rows.length - 1;
  // A γ that stands on the last row may come out a rounding error beyond it.
  if (!(place >= -1e-9 && place <= last + 1e-9)) {
    throw new InputError({
      code: "out-of-range",
      path: "gammaRatio",
      expected: `a ratio Dw·cos(α)/Dpw from ${firstHundredth / 100} to ${HIGHEST_GAMMA_RATIO}`,
      got: String(gammaRatio),
      hint: "The standard's table of load ratings ends there; check ball and pitch diameter",
    });
  }
  const row = Math.min(last - 1, Math.max(0, Math.floor(place)));
  return rows[row] + (place - row) * (rows[row + 1] - rows[row]);
}
