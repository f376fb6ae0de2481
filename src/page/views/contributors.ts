import { html, type Markup } from "../../report/html.ts";
import { clip, ORIGIN_NAMES, points, units } from "../../report/words.ts";
import type { Contributors } from "../../studies/result.ts";
import { axisBelow, n, picture, scaleOf } from "./svg.ts";
import { panel, type Shown } from "./view.ts";

const MOST_ROWS = 8;
const ROW = 42;

/**
 * What each cause costs, from the last whole run of each variant.
 *
 * @param latest one a variant; null before its first whole run
 */
export function contributorsPanel(
  shown: readonly Shown[],
  latest: readonly (Contributors | null)[],
  width: number,
): Markup {
  const most = Math.max(
    0.005,
    ...latest.flatMap((each) => each?.yieldGain.slice(0, MOST_ROWS).map((row) => row.gainRatio) ?? []),
  );
  const pictures = shown.map((each, place) => {
    const found = latest[place];
    if (found === null || found === undefined)
      return html`<p class="soft">Found by the whole run: let go of the slider.</p>`;
    return draw(each, found, most, width);
  });
  const isOld = shown.some(({ picture: each }) => !each.isWhole);
  const found = latest.find((each) => each !== null);
  const words = html`<p class="soft">${
    found
      ? `From ${units(found.samples)}, each evaluated again with one cause held at its median. Gains do not add up. An asterisk marks an assumption. `
      : ""
  }${isOld ? "These bars are from the last whole run." : ""}</p>`;
  return panel("contributors", "What costs yield", shown, pictures, words);
}

function draw(shown: Shown, { yieldGain }: Contributors, most: number, width: number): Markup {
  const rows = yieldGain
    .filter(({ gainRatio }, place) => place === 0 || Math.abs(gainRatio) >= 5e-4)
    .slice(0, MOST_ROWS);
  const low = Math.min(0, ...rows.map(({ gainRatio }) => gainRatio));
  const x = scaleOf(low * 100, most * 100, 10, width - 60);
  const name = `${shown.name}. Gain of yield were a cause exactly at its median: ${rows
    .map(({ groupLabel, gainRatio, origin }) => `${groupLabel} (${ORIGIN_NAMES[origin]}) ${points(gainRatio)}`)
    .join(", ")}.`;
  const bars = rows.map(({ groupLabel, gainRatio, origin }, row) => {
    const y = row * ROW + 20;
    const [from, to] = [x(0), x(gainRatio * 100)];
    const words = `${groupLabel.replace(/^the /, "")}${origin === "assumption" ? " *" : ""}`;
    return html`<text x="10" y="${y - 5}">${clip(words, Math.floor(width / 7.4))}</text>
<rect x="${n(Math.min(from, to))}" y="${y}" width="${n(Math.abs(to - from))}" height="14" fill="var(--bar-edge)"/>
<text x="${n(Math.max(from, to) + 6)}" y="${y + 12}" class="strong">${gainRatio >= 0 ? "+" : ""}${points(gainRatio).replace(/ points?/, "")}</text>`;
  });
  const below = rows.length * ROW + 12;
  return picture(
    name,
    width,
    below + 44,
    html`${bars}<path d="M${n(x(0))},4V${below}" stroke="var(--ink)"/>${axisBelow(x, below, "gain of yield, points", width < 420 ? 4 : 6)}`,
  );
}
