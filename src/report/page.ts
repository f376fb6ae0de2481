import { COPY_SCRIPT_HASH, copyScript } from "./copy-button.ts";
import { type Content, html, type Markup, raw } from "./html.ts";
import { hatches } from "./palette.ts";
import { STYLE } from "./style.ts";

export interface PageParts {
  readonly title: string;
  readonly description: string;
  /** One line above the title: what made the page. */
  readonly maker: string;
  readonly verdict: readonly string[];
  readonly body: readonly Content[];
  readonly foot: string;
  /** Whether something on the page can be copied by a button. */
  readonly copies?: boolean;
}

/** One file that asks the network for nothing and runs nothing but a button that copies; the policy in its head says so. */
export function page(parts: PageParts): Markup {
  const [lead = "", ...others] = parts.verdict;
  const scripts = parts.copies ? `; script-src '${COPY_SCRIPT_HASH}'` : "";
  return html`<!doctype html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta http-equiv="Content-Security-Policy" content="${raw(`default-src 'none'; style-src 'unsafe-inline'; img-src data:${scripts}`)}">
<meta name="viewport" content="width=device-width, initial-scale=1">
<meta name="color-scheme" content="light dark">
<meta name="generator" content="${parts.maker}">
<title>${parts.title}</title>
<link rel="icon" href="data:,">
<style>${raw(STYLE)}</style>
</head>
<body>
${hatches()}
<main>
<header>
<p class="maker">${parts.maker}</p>
<h1>${parts.title}</h1>
${parts.description === "" ? null : html`<p class="description">${parts.description}</p>`}
</header>
<section class="verdict" aria-label="Verdict">
<p class="lead">${lead}</p>
${others.map((paragraph) => html`<p>${paragraph}</p>`)}
</section>
${parts.body}
</main>
<footer><p>${parts.foot}</p></footer>
${parts.copies ? copyScript() : null}</body>
</html>
`;
}
