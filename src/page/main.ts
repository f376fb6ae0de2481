import { html } from "../report/html.ts";
import { applyOverrides } from "../scenario/overrides.ts";
import { App } from "./app.ts";
import { pickFile } from "./pick-file.ts";
import type { Source } from "./protocol.ts";

/** Starts the page: its scenario and its engine stand in it as text. */
function start(): void {
  const textOf = (id: string) => document.getElementById(id)?.textContent ?? "";
  const source = JSON.parse(textOf("scenario")) as Source | null;
  const app = new App(textOf("engine"), applyOverrides);
  pickFile((text, fileName) => app.open({ text, fileName, measured: [] }));
  if (source === null) {
    document.getElementById("title")!.innerHTML = html`Open a scenario file, or drop one here`.text;
  } else app.open(source);
}

start();
