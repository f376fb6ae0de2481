import { type Content, html, type Markup } from "../../report/html.ts";
import { tick } from "../../report/words.ts";

/** A straight scale from figures to places on the picture. */
export interface Scale {
  (value: number): number;
  readonly low: number;
  readonly high: number;
}

export function scaleOf(low: number, high: number, from: number, to: number): Scale {
  const span = high > low ? high - low : 1;
  return Object.assign((value: number) => from + ((value - low) / span) * (to - from), { low, high });
}

/** Round figures along a scale, at most so many. */
function ticksOf({ low, high }: Scale, most: number): number[] {
  const rough = (high - low) / Math.max(1, most);
  if (!(rough > 0 && Number.isFinite(rough))) return [];
  const power = 10 ** Math.floor(Math.log10(rough));
  const step = power * ([1, 2, 5, 10].find((factor) => factor * power >= rough) ?? 10);
  const ticks: number[] = [];
  for (let index = Math.ceil(low / step); index * step <= high * (1 + 1e-12); index += 1) ticks.push(index * step);
  return ticks;
}

/** The axis under a picture, with the quantity and its unit in words. */
export function axisBelow(scale: Scale, y: number, words: string, most = 7): Markup {
  const [from, to] = [scale(scale.low), scale(scale.high)];
  return html`<g class="axis"><path d="M${n(from)},${n(y)}H${n(to)}"/>${ticksOf(scale, most).map(
    (value) =>
      html`<path d="M${n(scale(value))},${n(y)}v5"/><text x="${n(scale(value))}" y="${n(y + 19)}" text-anchor="middle">${tick(value)}</text>`,
  )}<text x="${n((from + to) / 2)}" y="${n(y + 37)}" text-anchor="middle">${words}</text></g>`;
}

/** A picture as wide as its place, with a name that is read out for it. */
export function picture(name: string, width: number, height: number, body: Content): Markup {
  return html`<svg xmlns="http://www.w3.org/2000/svg" role="img" aria-label="${name}" viewBox="0 0 ${n(width)} ${n(height)}" width="${n(width)}" height="${n(height)}">${body}</svg>`;
}

/** A place on a picture, to a hundredth of a pixel. */
export function n(value: number): string {
  return Number.isFinite(value) ? String(Math.round(value * 100) / 100) : "0";
}

/** The outline of a row of bars as a path, closed on the base line. */
export function stepPath(edges: readonly number[], tops: readonly number[], base: number): string {
  let path = `M${n(edges[0]!)},${n(base)}`;
  for (const [index, top] of tops.entries()) path += `V${n(top)}H${n(edges[index + 1]!)}`;
  return `${path}V${n(base)}Z`;
}

export function linePath(points: readonly (readonly [number, number])[]): string {
  return points.map(([x, y], index) => `${index === 0 ? "M" : "L"}${n(x)},${n(y)}`).join("");
}
