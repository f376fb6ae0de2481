import { type Content, html, type Markup } from "../../report/html.ts";
import { LOOKS, type Look, OUTCOME_ORDER, swatch } from "../../report/palette.ts";
import { capital, clip, listing, OUTCOME_NAMES, percent } from "../../report/words.ts";
import { axisBelow, n, picture, scaleOf } from "./svg.ts";
import { panel, type Shown } from "./view.ts";

interface Part {
  readonly words: string;
  readonly ratio: number;
  readonly look: Look;
}

interface Row {
  readonly label: string;
  readonly parts: readonly Part[];
}

const ROW = 52;

/** Stacked bars: what becomes of the units in each state, and of a unit over its whole life. */
export function outcomesPanel(shown: readonly Shown[], width: number): Markup {
  const pictures = shown.map((each) => draw(each, width));
  const seen = OUTCOME_ORDER.filter((outcome) =>
    shown.some(({ picture: { states } }) => states.some((state) => state.outcomes[outcome].shareRatio > 0)),
  );
  const legend = html`<ul class="legend">${seen.map((outcome) => html`<li>${swatch(LOOKS[outcome])} ${OUTCOME_NAMES[outcome]}</li>`)}
<li>${swatch(LOOKS.scrap)} out of the window at the bench</li><li>${swatch(LOOKS.service)} fails in service</li></ul>`;
  return panel("outcomes", "What becomes of the units", shown, pictures, legend);
}

function rowsOf({ picture: { states, overall } }: Shown): Row[] {
  const rows = states.map((state) => ({
    label: state.label,
    parts: OUTCOME_ORDER.map((outcome) => ({
      words: OUTCOME_NAMES[outcome],
      ratio: state.outcomes[outcome].shareRatio,
      look: LOOKS[outcome],
    })),
  }));
  const life = [
    { words: "out of the window at the bench", ratio: overall.failsAtBench.shareRatio, look: LOOKS.scrap },
    { words: "good in every state", ratio: overall.goodInEveryState.shareRatio, look: LOOKS.target },
    { words: "fail in service", ratio: overall.failsInService.shareRatio, look: LOOKS.service },
  ];
  return [...rows, { label: "whole life", parts: life }];
}

function draw(shown: Shown, width: number): Markup {
  const rows = rowsOf(shown);
  const scale = scaleOf(0, 1, 8, width - 20);
  const name = `${shown.name}. ${rows.map(({ label, parts }) => `${capital(label)}: ${spoken(parts)}`).join(". ")}.`;
  const body = rows.map(({ label, parts }, row) => {
    const y = row * ROW + 22;
    let from = 0;
    const bars = parts.map(({ ratio, look }): Content => {
      const x = scale(from);
      from += ratio;
      const wide = scale(from) - x;
      if (wide <= 0) return null;
      const rect = (fill: string) => html`<rect x="${n(x)}" y="${y}" width="${n(wide)}" height="24" fill="${fill}"/>`;
      const text =
        wide < 46
          ? null
          : html`<text x="${n(x + wide / 2)}" y="${y + 17}" text-anchor="middle" class="in-bar" style="fill:${look.ink};stroke:${look.fill}">${percent(ratio)}</text>`;
      return html`${rect(look.fill)}${look.hatch === null ? null : rect(look.hatch)}${text}`;
    });
    return html`<text x="8" y="${y - 6}" class="row-label">${clip(label, Math.floor(width / 8))}</text>${bars}`;
  });
  const below = rows.length * ROW + 10;
  const axis = axisBelow(scaleOf(0, 100, 8, width - 20), below, "share of units, %", width < 420 ? 4 : 5);
  return picture(name, width, below + 44, html`${body}${axis}`);
}

function spoken(parts: readonly Part[]): string {
  return listing(parts.filter(({ ratio }) => ratio > 0).map(({ ratio, words }) => `${percent(ratio)} ${words}`));
}
