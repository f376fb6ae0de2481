import { type Content, html, type Markup } from "../../report/html.ts";
import type { Picture } from "../protocol.ts";

/** One variant as the views see it. */
export interface Shown {
  readonly name: string;
  readonly picture: Picture;
}

/** A panel with a heading, a picture a variant on scales that all of them share, and words below. */
export function panel(
  id: string,
  title: string,
  shown: readonly Shown[],
  pictures: readonly Content[],
  words: Content,
): Markup {
  const take = (format: string) =>
    html`<button type="button" data-take="${format.toLowerCase()}" data-figure-id="${id}" aria-label="Save “${title}” as ${format}">${format}</button>`;
  return html`<div class="panel-head"><h2>${title}</h2><p>${take("SVG")}${take("PNG")}</p></div>
<div class="pictures" data-count="${shown.length}">${pictures.map(
    (picture, place) =>
      html`<div class="picture" data-figure="${id}-${place + 1}">${
        shown.length > 1 ? html`<p class="variant-name">${shown[place]!.name}</p>` : null
      }${picture}</div>`,
  )}</div>
<div class="words">${words}</div>`;
}
