import type { RunResult } from "../../studies/result.ts";
import { type Content, html, type Markup } from "../html.ts";
import { aimOf, drawingWords } from "../verdict/change.ts";
import { goodWords, requirement } from "../verdict/fate.ts";
import {
  capital,
  count,
  isSetByDevice,
  micrometres,
  percent,
  shareInterval,
  shareValue,
  tidyNewtons,
  tidyPercent,
  windowWords,
} from "../words.ts";

type Result = Omit<RunResult, "verdict">;

/** The figures to decide by, set like the title block of a drawing. */
export function keyNumbers(result: Result): Markup {
  const { overall, batch, nominal, limits } = result;
  const several = result.states.length > 1;
  const aim = aimOf(result);
  return html`<section class="block" aria-label="Key figures">
${cell(capital(goodWords(result)).replace(/^In the window in every state$/, "Good in every state"), shareValue(overall.goodInEveryState), `95 % interval: ${shareInterval(overall.goodInEveryState)}`, "main")}
${cell("Required yield", result.requiredYieldRatio === null ? "not stated" : tidyPercent(result.requiredYieldRatio), requirementWords(result), "main")}
${cell("Fails at the bench", shareValue(overall.failsAtBench), `scrap or rework: about ${count(batch.benchFailures.expected)} of ${count(batch.size)}`)}
${several ? cell("Fails in service", shareValue(overall.failsInService), `warranty: about ${count(batch.serviceFailures.expected)} of ${count(batch.size)}`) : null}
${several ? cell("Averaged over states", percent(overall.averagedOverStates.shareRatio), "by duty; not the yield of a unit") : null}
${cell("No machining can mend", shareValue(result.window.empty), result.window.empty.count === 0 ? `${shareInterval(result.window.empty)} (95 %); states that exclude each other` : "their states exclude each other")}
${cell("Window", windowWords(limits), `binds from ${tidyNewtons(limits.bindN)}`)}
${cell(isSetByDevice(result.method) ? "Offset as set" : "Offset as drawn", micrometres(nominal.machinedOffsetMm), aim === null ? "no unit has a window" : `needed: ${micrometres(aim.windowLowMm)} to ${micrometres(aim.windowHighMm)}, typical unit`)}
${callout(drawingWords(result))}
</section>
`;
}

function cell(label: string, value: Content, note: string, kind = ""): Markup {
  return html`<div class="cell ${kind}"><span class="label">${label}</span> <span class="value">${value}</span> <span class="note">${note}</span></div>`;
}

function callout(words: string): Markup {
  return html`<div class="cell callout"><span class="label">For the drawing</span> <span class="value">${words}</span></div>`;
}

function requirementWords(result: Result): string {
  const kind = requirement(result);
  if (kind === "none") return "the scenario asks for none";
  return kind === "cannot tell" ? "cannot be told yet: more samples" : kind;
}
