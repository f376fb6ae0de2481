import { html, type Markup } from "../../report/html.ts";
import { count, interval, micrometres, percent, tidyPercent, units } from "../../report/words.ts";
import type { Shown } from "./view.ts";

/** The figures that decide, always in sight. */
export function headline(shown: readonly Shown[]): Markup {
  return html`${shown.map(({ name, picture }) => {
    const { goodInEveryState, failsAtBench, failsInService } = picture.overall;
    const required = picture.requiredYieldRatio;
    const isReached = required === null || goodInEveryState.shareRatio >= required;
    return html`<dl class="headline" data-whole="${picture.isWhole ? "yes" : "no"}">${
      shown.length > 1 ? html`<div class="who"><dt>variant</dt><dd>${name}</dd></div>` : null
    }
<div class="main"><dt>good in every state</dt><dd><b>${percent(goodInEveryState.shareRatio)}</b> <span>${interval(goodInEveryState)}</span></dd></div>
<div><dt>out of the window at the bench</dt><dd><b>${percent(failsAtBench.shareRatio)}</b></dd></div>
<div><dt>fail in service</dt><dd><b>${percent(failsInService.shareRatio)}</b></dd></div>
<div><dt>offset at 20 °C, nominal</dt><dd><b>${micrometres(picture.nominal.machinedOffsetMm)}</b></dd></div>
${required === null ? null : html`<div><dt>yield required</dt><dd><b>${tidyPercent(required)}</b> <span>${isReached ? "reached" : "not reached"}</span></dd></div>`}
<p class="basis">${picture.isWhole ? `Whole run: ${units(picture.samples)}, the same numbers as the command line` : `Quick look: the first ${count(picture.samples)} units, by plain sampling`}, in ${count(picture.elapsedMs)} ms.</p></dl>`;
  })}`;
}

/** The sentence that a screen reader is told when a whole run is done. */
export function spokenHeadline(shown: readonly Shown[]): string {
  return shown
    .map(({ name, picture: { overall } }) => {
      const who = shown.length > 1 ? `${name}: ` : "";
      return `${who}${percent(overall.goodInEveryState.shareRatio)} good in every state, ${percent(overall.failsAtBench.shareRatio)} out of the window at the bench, ${percent(overall.failsInService.shareRatio)} fail in service.`;
    })
    .join(" ");
}

/** The verdict of the last whole run, in the words of the report. */
export function verdictPanel(shown: readonly Shown[], latest: readonly (readonly string[] | null)[]): Markup {
  const isOld = shown.some(({ picture }) => !picture.isWhole);
  return html`<h2>The verdict</h2><div class="verdicts" data-old="${isOld ? "yes" : "no"}">${shown.map(
    ({ name }, place) => {
      const words = latest[place];
      return html`<div>${shown.length > 1 ? html`<p class="variant-name">${name}</p>` : null}${
        words === null || words === undefined
          ? html`<p class="soft">A whole run is needed for the verdict.</p>`
          : words.map((paragraph, index) => html`<p class="${index === 0 ? "lead" : "plain"}">${paragraph}</p>`)
      }</div>`;
    },
  )}</div>${isOld ? html`<p class="soft">These words are from the last whole run.</p>` : null}`;
}
