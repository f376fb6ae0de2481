/** The special functions of statistics, built on the elementary ones: the same bits everywhere. */
export { inverseRegularisedBeta, regularisedBeta, regularisedBetaBothSides } from "./beta.ts";
export { logGamma, poissonDensity, regularisedGammaP, regularisedGammaQ } from "./gamma.ts";
export { normalCdf, normalPdf, normalQuantile, normalSurvival } from "./normal.ts";
export { studentTCdf, studentTPdf, studentTQuantile } from "./student.ts";
