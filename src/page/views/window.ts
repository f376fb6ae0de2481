import { acceptanceCurve } from "../../report/acceptance.ts";
import { html, type Markup } from "../../report/html.ts";
import { lineSwatch, swatch } from "../../report/palette.ts";
import { micrometres, percent, roundPercent, units } from "../../report/words.ts";
import type { WindowColumns } from "../protocol.ts";
import { axisBelow, linePath, n, picture, scaleOf, stepPath } from "./svg.ts";
import { panel, type Shown } from "./view.ts";

const BINS = 60;
const STEPS = 120;
const HEIGHT = 118;

/** The offset as machined against the offsets that the units accept, on one axis for all variants. */
export function windowPanel(shown: readonly Shown[], width: number): Markup {
  const columns = shown.map(({ picture: each }) => (each.window === null ? null : inUm(each.window)));
  const axis = axisOver(columns.filter((each) => each !== null));
  const pictures = shown.map((each, place) =>
    columns[place] === null
      ? html`<p>The offset follows from the device here and is not machined.</p>`
      : draw(each, columns[place]!, axis, width),
  );
  const words = html`<ul class="legend"><li>${swatch({ fill: "var(--bar)", ink: "", hatch: null })} offset as machined</li>
<li>${lineSwatch("var(--line-low)", "7 3")} lower end of the window</li><li>${lineSwatch("var(--line-high)", "2 3")} upper end</li>
<li>${swatch({ fill: "var(--band)", ink: "", hatch: null })} share of units that accept an offset</li></ul>`;
  return panel("window", "Offset as machined, and what the units accept", shown, pictures, words);
}

interface Columns {
  readonly machined: Float64Array;
  readonly low: Float64Array;
  readonly high: Float64Array;
}

function inUm({ machinedMm, lowMm, highMm }: WindowColumns): Columns {
  const isWindow = (unit: number) => lowMm[unit]! <= highMm[unit]!;
  const scaled = (values: Float64Array) => values.map((value) => value * 1000);
  return {
    machined: scaled(machinedMm),
    low: scaled(lowMm).map((value, unit) => (isWindow(unit) ? value : Number.NaN)),
    high: scaled(highMm).map((value, unit) => (isWindow(unit) ? value : Number.NaN)),
  };
}

function axisOver(all: readonly Columns[]): { low: number; high: number } {
  const ends = all.flatMap((columns) =>
    [columns.machined, columns.low, columns.high].flatMap((values) => {
      const sorted = values.filter(Number.isFinite).sort();
      return sorted.length === 0
        ? []
        : [sorted[Math.floor(sorted.length * 0.005)]!, sorted[Math.floor(sorted.length * 0.995)]!];
    }),
  );
  if (ends.length === 0) return { low: 0, high: 1 };
  const low = Math.min(...ends);
  const high = Math.max(...ends);
  const room = Math.max(0.05 * (high - low), 0.5);
  return { low: low - room, high: high + room };
}

function draw(shown: Shown, columns: Columns, axis: { low: number; high: number }, width: number): Markup {
  const x = scaleOf(axis.low, axis.high, 10, width - 16);
  const steps = Array.from({ length: STEPS + 1 }, (_, index) => axis.low + ((axis.high - axis.low) * index) / STEPS);
  const curve = acceptanceCurve(columns.low, columns.high, steps);
  const most = Math.max(...curve.map(({ shareRatio }) => shareRatio));
  const best = middleOf(curve.filter(({ shareRatio }) => shareRatio === most).map(({ offsetMm }) => offsetMm));
  const sorted = columns.machined.slice().sort();
  const median = sorted[Math.floor(sorted.length / 2)] ?? Number.NaN;
  const hists = [columns.machined, columns.low, columns.high].map((values) => binned(values, axis));
  const peak = Math.max(1e-9, ...hists.flatMap((bins) => Array.from(bins)));
  const base = HEIGHT + 14;
  const floor = base + HEIGHT + 30;
  const edges = Array.from({ length: BINS + 1 }, (_, index) => x(axis.low + ((axis.high - axis.low) * index) / BINS));
  const tops = (bins: Float64Array) => Array.from(bins, (share) => base - (HEIGHT * 0.88 * share) / peak);
  const y = (share: number) => floor - HEIGHT * share;
  const noWindow = columns.low.filter(Number.isNaN).length;
  const name = `${shown.name}. Offset at 20 °C as machined: median ${micrometres(median / 1000)}. ${
    most > 0
      ? `At best ${roundPercent(most)} of the units accept one offset, ${micrometres(best / 1000)}.`
      : "No unit has an offset at which it is good in every state."
  }`;
  const anchor = x(best) > width * 0.6 ? "end" : "start";
  return html`${picture(
    name,
    width,
    floor + 44,
    html`<path d="${stepPath(edges, tops(hists[0]!), base)}" fill="var(--bar)" stroke="var(--bar-edge)"/>
${stroke(edges, tops(hists[1]!), "var(--line-low)", "7 3")}${stroke(edges, tops(hists[2]!), "var(--line-high)", "2 3")}
<path d="M10,${base}H${n(width - 16)}" stroke="var(--ink)"/>
<text x="10" y="12" class="soft">how often</text>
<path d="${linePath([[x(axis.low), floor], ...curve.map(({ offsetMm, shareRatio }) => [x(offsetMm), y(shareRatio)] as const), [x(axis.high), floor]])}Z" fill="var(--band)" stroke="var(--target)"/>
<text x="10" y="${base + 22}" class="soft">accepted by this share of units</text>
${most > 0 ? html`<circle cx="${n(x(best))}" cy="${n(y(most))}" r="4.5" fill="var(--target)"/><text x="${n(x(best) + (anchor === "end" ? -9 : 9))}" y="${n(Math.max(y(most) - 6, base + 38))}" text-anchor="${anchor}" class="strong">best ${micrometres(best / 1000)}: ${percent(most)}</text>` : null}
${Number.isFinite(median) ? html`<path d="M${n(x(median))},16V${floor}" stroke="var(--ink)" stroke-dasharray="1 3"/>` : null}
${axisBelow(x, floor, "offset at 20 °C, µm", width < 420 ? 4 : 8)}`,
  )}<p class="soft">${units(columns.machined.length)}; ${noWindow === 0 ? "each has a window" : `${units(noWindow)} without any window: their states ask for offsets that exclude each other`}. Dotted: the median as machined, ${micrometres(median / 1000)}.</p>`;
}

function stroke(edges: readonly number[], tops: readonly number[], colour: string, dashes: string): Markup {
  const points = tops.flatMap((top, index) => [[edges[index]!, top] as const, [edges[index + 1]!, top] as const]);
  return html`<path d="${linePath(points)}" fill="none" stroke="${colour}" stroke-width="2" stroke-dasharray="${dashes}"/>`;
}

function binned(values: Float64Array, { low, high }: { low: number; high: number }): Float64Array {
  const bins = new Float64Array(BINS);
  for (const value of values) {
    const place = Math.floor(((value - low) / (high - low)) * BINS);
    if (place >= 0 && place < BINS) bins[place]! += 1 / values.length;
  }
  return bins;
}

function middleOf(values: readonly number[]): number {
  return values[Math.floor(values.length / 2)] ?? Number.NaN;
}
