/** Text that is already markup. Only {@link html}, {@link raw} and {@link join} make it, so nothing else goes unescaped. */
export class Markup {
  readonly text: string;

  constructor(text: string) {
    this.text = text;
  }
}

export type Content = Markup | string | number | null | readonly Content[];

const NAMES: Readonly<Record<string, string>> = { "&": "&amp;", "<": "&lt;", ">": "&gt;", '"': "&quot;", "'": "&#39;" };

/** Control characters, which no page may hold, go. */
export function withoutControls(text: string): string {
  return text.replace(/[^\P{Cc}\t\n]/gu, "");
}

/** Makes any text safe between tags and inside quoted attributes. */
export function escapeText(text: string): string {
  return withoutControls(text).replace(/[&<>"']/g, (mark) => NAMES[mark]!);
}

/** Template of markup: everything put in is escaped unless it is markup itself. */
export function html(parts: TemplateStringsArray, ...contents: Content[]): Markup {
  let text = parts[0] as string;
  for (const [index, content] of contents.entries()) text += render(content) + parts[index + 1];
  return new Markup(text);
}

/** Declares a string that this program made itself to be markup. Never for text from a scenario. */
export function raw(text: string): Markup {
  return new Markup(text);
}

function render(content: Content): string {
  if (content === null) return "";
  if (content instanceof Markup) return content.text;
  if (Array.isArray(content)) return (content as readonly Content[]).map(render).join("");
  return escapeText(String(content));
}
