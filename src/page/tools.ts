import { download, pngOf, standaloneSvg } from "./download.ts";
import { EXPORT_KINDS, type ExportKind } from "./protocol.ts";

export interface Tools {
  readonly undo: () => void;
  readonly redo: () => void;
  readonly reset: () => void;
  readonly split: () => void;
  readonly activate: (place: number) => void;
  readonly save: () => void;
  readonly make: (what: ExportKind) => void;
  /** The drawing has to be made again: another state, another width. */
  readonly drawn: () => void;
}

/** Ties buttons, menus and keys to what they do. */
export function bindTools(tools: Tools): void {
  const on = (id: string, action: () => void) => document.getElementById(id)!.addEventListener("click", action);
  on("undo", tools.undo);
  on("redo", tools.redo);
  on("reset", tools.reset);
  on("split", tools.split);
  on("save", tools.save);
  const menu = document.getElementById("export") as HTMLSelectElement;
  menu.addEventListener("change", () => {
    const what = EXPORT_KINDS.find((kind) => kind === menu.value);
    menu.value = "";
    if (what !== undefined) tools.make(what);
  });
  document.getElementById("state")!.addEventListener("change", tools.drawn);
  document.getElementById("variants")!.addEventListener("change", (event) => {
    if (event.target instanceof HTMLInputElement) tools.activate(Number(event.target.value));
  });
  document.getElementById("controls-form")!.addEventListener("submit", (event) => event.preventDefault());
  document.addEventListener("keydown", (event) => {
    if (!(event.ctrlKey || event.metaKey) || event.altKey) return;
    const key = event.key.toLowerCase();
    const action =
      key === "s"
        ? tools.save
        : key === "y" || (key === "z" && event.shiftKey)
          ? tools.redo
          : key === "z"
            ? tools.undo
            : null;
    // In a text that is being written, undo is the text's own.
    const isWriting = event.target instanceof HTMLInputElement && event.target.type === "text";
    if (action === null || (isWriting && key !== "s")) return;
    event.preventDefault();
    action();
  });
  document.getElementById("results")!.addEventListener("click", (event) => {
    const button = event.target instanceof Element ? event.target.closest<HTMLElement>("[data-take]") : null;
    if (button !== null) void takeFigures(button.dataset.figureId!, button.dataset.take === "png");
  });
  let width = window.innerWidth;
  window.addEventListener("resize", () => {
    if (window.innerWidth === width) return;
    width = window.innerWidth;
    tools.drawn();
  });
}

async function takeFigures(id: string, asPixels: boolean): Promise<void> {
  for (const box of document.querySelectorAll<HTMLElement>(`[data-figure^="${id}-"]`)) {
    const svg = box.querySelector<SVGSVGElement>("svg[role=img]");
    if (svg === null) continue;
    const name = box.dataset.figure!;
    if (asPixels) download(`${name}.png`, "image/png", await pngOf(svg));
    else download(`${name}.svg`, "image/svg+xml", standaloneSvg(svg));
  }
}
