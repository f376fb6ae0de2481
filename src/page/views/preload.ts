import { html, type Markup } from "../../report/html.ts";
import { lineSwatch, swatch } from "../../report/palette.ts";
import { quantileOf } from "../../report/quantile.ts";
import { capital, clip, newtons, percent, tidyNewtons, windowWords } from "../../report/words.ts";
import { type Rebinned, rebin } from "../model/rebin.ts";
import { axisBelow, n, picture, type Scale, scaleOf, stepPath } from "./svg.ts";
import { panel, type Shown } from "./view.ts";

const BINS = 72;
const ROW = 104;

/** The distribution of the preload in every state against the window, on one axis for all variants. */
export function preloadPanel(shown: readonly Shown[], width: number): Markup {
  const high = axisHigh(shown);
  const bins = shown.map(({ picture: each }) => each.preload.map((state) => rebin(state, 0, high, BINS)));
  const peak = Math.max(1e-9, ...bins.flat().map(({ shares }) => Math.max(...shares)));
  const pictures = shown.map((each, place) => draw(each, bins[place]!, high, peak, width));
  const words = html`<ul class="legend"><li>${swatch({ fill: "var(--band)", ink: "", hatch: null })} wanted preload</li>
<li>${swatch({ fill: "var(--bar)", ink: "", hatch: null })} units with preload</li><li>${lineSwatch("var(--bind)", "6 3")} bind limit</li></ul>`;
  return panel("preload", "Preload in each state", shown, pictures, words);
}

/** The axis ends past the window and most units; a bind limit far out does not squeeze the rest. */
function axisHigh(shown: readonly Shown[]): number {
  return Math.max(
    ...shown.map(({ picture: { limits, states } }) => {
      const reach = Math.max(0, ...states.map(({ preloadN }) => quantileOf(preloadN, 0.99)).filter(Number.isFinite));
      const most = Math.max(limits.highN * 1.4, Math.min(reach, Math.max(limits.bindN * 1.15, limits.highN * 10)));
      return limits.bindN < most * 1.25 ? Math.max(most, limits.bindN * 1.08) : most;
    }),
  );
}

function draw(shown: Shown, bins: readonly Rebinned[], high: number, peak: number, width: number): Markup {
  const { states, limits } = shown.picture;
  const x = scaleOf(0, high, 10, width - 16);
  const name = `${shown.name}. Preload, window ${windowWords(limits)}. ${states
    .map(
      ({ label, preloadN, outcomes }) =>
        `${capital(label)}: median ${newtons(quantileOf(preloadN, 0.5))}, nine in ten from ${newtons(quantileOf(preloadN, 0.05))} to ${newtons(quantileOf(preloadN, 0.95))}, ${percent(outcomes.target.shareRatio)} in the window`,
    )
    .join(". ")}.`;
  const rows = states.map((state, place) => {
    const base = (place + 1) * ROW - 6;
    const noPreload = state.outcomes.play.shareRatio;
    const facts = [`${percent(state.outcomes.target.shareRatio)} in the window`];
    if (noPreload > 0) facts.push(`${percent(noPreload)} no preload`);
    const past =
      bins[place]!.aboveRatio > 0
        ? html`<text x="${n(x(high))}" y="${base - 44}" text-anchor="end" class="soft">${percent(bins[place]!.aboveRatio)} past the axis</text>`
        : null;
    return html`${band(limits, x, base)}<path d="${outline(bins[place]!.shares, x, peak, base)}" fill="var(--bar)" stroke="var(--bar-edge)"/>
${limits.bindN <= high ? html`<path d="M${n(x(limits.bindN))},${base - 60}V${base}" stroke="var(--bind)" stroke-width="2" stroke-dasharray="6 3"/>` : null}
<path d="M${n(x(0))},${base}H${n(x(high))}" stroke="var(--ink)"/>
<text x="10" y="${base - 82}" class="row-label">${clip(state.label, Math.floor(width / 8))}</text><text x="10" y="${base - 66}" class="soft">${facts.join(", ")}</text>${past}`;
  });
  const below = states.length * ROW;
  const axis = axisBelow(x, below - 6, "preload, N", width < 420 ? 4 : 8);
  return picture(name, width, below + 36, html`${rows}${axis}`);
}

function band({ lowN, highN }: { lowN: number; highN: number }, x: Scale, base: number): Markup {
  const end = Math.min(highN, x.high);
  return html`<rect x="${n(x(lowN))}" y="${base - 60}" width="${n(x(end) - x(lowN))}" height="60" fill="var(--band)"><title>${tidyNewtons(lowN)} to ${tidyNewtons(highN)}</title></rect>`;
}

function outline(shares: Float64Array, x: Scale, peak: number, base: number): string {
  const edges = Array.from({ length: shares.length + 1 }, (_, index) => x((x.high * index) / shares.length));
  return stepPath(
    edges,
    Array.from(shares, (share) => base - (58 * share) / peak),
    base,
  );
}
