import type { FitResult } from "../../studies/fit/result.ts";
import { count, decimal, listing, percent, roundPercent } from "../words.ts";
import { FAMILY_NAMES, RULE_WORDS, valueText, widthText } from "./words.ts";

type Finding = Omit<FitResult, "verdict">;

/** What the measured parts say, most important first: whether one process made them, what to draw, what they reach. */
export function fitVerdict(result: Finding): string[] {
  return [
    [shapeSentence(result), spreadSentence(result)],
    [controlSentence(result), lotSentence(result)],
    [capabilitySentence(result)],
    [instrumentSentence(result), sizeSentence(result), skippedSentence(result)],
  ]
    .map((sentences) => sentences.filter((sentence) => sentence !== "").join(" "))
    .filter((paragraph) => paragraph !== "");
}

function shapeSentence({ choice, mixture, normality, values, candidates }: Finding): string {
  const { unit, count: n } = values;
  if (normality === null) {
    return `${count(n)} ${n === 1 ? "value is" : "values are"} too few or too alike to tell a shape: they can be drawn as measured.`;
  }
  const chance = chanceWords(normality.pRatio);
  if (mixture?.isLikely) {
    const [a, b] = mixture.components;
    return `The ${count(n)} parts look like two populations (about ${roundPercent(a.weightRatio)} around ${valueText(a.mean, unit)} and ${roundPercent(b.weightRatio)} around ${valueText(b.mean, unit)}): find out what differs (machine, tool, lot) before one distribution is fitted. Until then draw them as measured.`;
  }
  if (choice === "normal") {
    return `The ${count(n)} parts agree with a normal distribution (Anderson–Darling, ${chance}): draw them so.`;
  }
  if (choice === "empirical") {
    return `The ${count(n)} parts agree with none of the usual distributions (normal: Anderson–Darling, ${chance}): draw them as measured.`;
  }
  const normal = candidates.find(({ family }) => family === "normal");
  const chosen = candidates.find(({ isChosen }) => isChosen);
  const gain = normal && chosen ? ` (better than a normal by ${decimal(normal.bic - chosen.bic, 0)} of BIC)` : "";
  return `The ${count(n)} parts are best described as ${FAMILY_NAMES[choice]}${gain}: draw them so.`;
}

function chanceWords(p: number): string {
  return p < 0.001 ? "p below 0.001" : `p = ${decimal(p, p < 0.1 ? 3 : 2)}`;
}

function spreadSentence({ values, meanInterval, sdInterval }: Finding): string {
  const { unit, mean, sd } = values;
  return `Mean ${valueText(mean, unit)} (95 %: ${valueText(meanInterval.low, unit)} to ${valueText(meanInterval.high, unit)}), standard deviation ${widthText(sd, unit)} (${widthText(sdInterval.low, unit)} to ${widthText(sdInterval.high, unit)}).`;
}

function controlSentence({ control, values }: Finding): string {
  if (control === null) return "";
  const { signals, shortTermSd } = control;
  if (signals.length === 0) return "In the order of the file the parts look like one steady process.";
  const kinds = [...new Set(signals.map(({ rule }) => RULE_WORDS[rule]))];
  const times = signals.length === 1 ? "once" : `${count(signals.length)} times`;
  return `In the order of the file the process is not steady: ${times} ${listing(kinds)}; from part to part it spreads by ${widthText(shortTermSd, values.unit)}, over all by ${widthText(values.sd, values.unit)}. A capability or a fit holds only for a steady process.`;
}

function lotSentence({ lots, values }: Finding): string {
  if (lots === null) return "";
  const { unit } = values;
  if (lots.batchShareRatio === 0)
    return `Between the ${count(lots.lots)} lots no spread is seen beyond that within them.`;
  return `Of the variance, ${roundPercent(lots.batchShareRatio)} lies between the ${count(lots.lots)} lots (${widthText(lots.betweenSd, unit)} between, ${widthText(lots.withinSd, unit)} within): batchShare in the lines to paste.`;
}

function capabilitySentence({ capability }: Finding): string {
  if (capability === null) return "";
  const { Cp, Cpk, CpkLowerBoundRatio, outsideRatio, counted, n } = capability;
  const outside = outsideRatio.below + outsideRatio.above;
  const seen = counted.below + counted.above;
  const judge =
    CpkLowerBoundRatio >= 4 / 3
      ? "capable even at the lower bound"
      : Cpk.valueRatio >= 4 / 3
        ? "capable as seen, but so few parts do not prove it"
        : "not capable by the usual demand of 1.33";
  return `Cp ${decimal(Cp.valueRatio, 2)} (95 %: ${decimal(Cp.lowRatio, 2)} to ${decimal(Cp.highRatio, 2)}), Cpk ${decimal(Cpk.valueRatio, 2)} (${decimal(Cpk.lowRatio, 2)} to ${decimal(Cpk.highRatio, 2)}; at least ${decimal(CpkLowerBoundRatio, 2)} with 95 % confidence): ${judge}. A normal process like this leaves ${percent(outside)} outside the limits; ${seen === 0 ? "none" : count(seen)} of the ${count(n)} measured ${seen === 1 ? "lies" : "lie"} outside.`;
}

function instrumentSentence({ instrument, values }: Finding): string {
  if (instrument === null) return "";
  const { unit } = values;
  const { observedSd, gaugeSd, partSd, clamped, source } = instrument;
  if (clamped) {
    return `The gauge (${source}) spreads by ${widthText(gaugeSd, unit)}, as much as all the readings (${widthText(observedSd, unit)}): nothing is left for the parts, their spread is set to 0. Measure with a better gauge.`;
  }
  return `The gauge's spread of ${widthText(gaugeSd, unit)} (${source}) is taken out: readings spread by ${widthText(observedSd, unit)}, parts by ${widthText(partSd, unit)}.`;
}

function sizeSentence({ tolerance, values }: Finding): string {
  const { unit, count: n } = values;
  return `With 95 % confidence 95 % of such parts lie from ${valueText(tolerance.low, unit)} to ${valueText(tolerance.high, unit)} if normal; whatever the distribution, the least and the greatest of the ${count(n)} hold ${roundPercent(tolerance.extremesRatio)} between them (95 % need ${count(tolerance.partsFor95)} parts, 99.73 % need ${count(tolerance.partsFor9973)}).`;
}

function skippedSentence({ rows }: Finding): string {
  const { skipped } = rows;
  if (skipped.length === 0) return "";
  const lines = skipped.slice(0, 12).map(({ line }) => String(line));
  const more = skipped.length > lines.length ? ` and ${count(skipped.length - lines.length)} more` : "";
  return `Left out, as asked, ${skipped.length === 1 ? "one row that" : `${count(skipped.length)} rows that`} could not be read: line ${listing(lines)}${more}.`;
}
