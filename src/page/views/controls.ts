import { html, type Markup } from "../../report/html.ts";
import {
  type DrawingText,
  halfWidth,
  nominalTravel,
  readDrawingText,
  type Travel,
  tidy,
  toleranceTravel,
  withHalfWidth,
  writeDrawingText,
} from "../model/drawing-text.ts";
import { type Field, valueAt } from "../model/field.ts";
import { type FieldGroup, fieldGroups } from "../model/fields.ts";

/** What the controls tell: a value that is only tried while a slider moves, or one that is set. */
export interface ControlEvents {
  readonly onTry: (path: string, value: unknown) => void;
  readonly onSet: (path: string, value: unknown) => void;
}

/** The controls of a scenario. They are laid out anew when the scenario asks for other ones, and else only filled. */
export class Controls {
  readonly #root: HTMLElement;
  readonly #events: ControlEvents;
  #groups: readonly FieldGroup[] = [];
  #layout = "";
  /** Content that the sliders' travels go by: the file's own. */
  #base: unknown = null;
  #content: unknown = null;

  constructor(root: HTMLElement, events: ControlEvents) {
    this.#root = root;
    this.#events = events;
    root.addEventListener("input", (event) => this.#heard(event.target, false));
    root.addEventListener("change", (event) => this.#heard(event.target, true));
  }

  show(base: unknown, content: unknown): void {
    this.#content = content;
    const groups = withSliders(fieldGroups(content), base);
    const layout = JSON.stringify(groups);
    if (layout !== this.#layout || base !== this.#base) {
      const open = new Set(
        [...this.#root.querySelectorAll("details[open]")].map((each) => each.getAttribute("data-group")),
      );
      const isFirst = this.#layout === "";
      this.#layout = layout;
      this.#base = base;
      this.#groups = groups;
      const focused = document.activeElement?.id;
      this.#root.innerHTML =
        html`${groups.map((group, place) => groupMarkup(group, isFirst ? group.isOpen && (place === 0 || window.innerWidth > 860) : open.has(group.title), base, content))}`.text;
      if (focused) document.getElementById(focused)?.focus();
    }
    this.#fill();
  }

  /** Marks the fields that problems speak of. */
  mark(paths: readonly string[]): void {
    for (const box of this.#root.querySelectorAll<HTMLElement>("[data-path]")) {
      const path = this.#pathInWords(box.dataset.path!);
      const isWrong = paths.some(
        (wrong) => wrong !== "" && (path === wrong || path.startsWith(`${wrong}.`) || wrong.startsWith(`${path}.`)),
      );
      for (const input of box.querySelectorAll("input,select")) {
        if (isWrong) input.setAttribute("aria-invalid", "true");
        else input.removeAttribute("aria-invalid");
      }
    }
  }

  /** Problems name members of a list; the controls number them. */
  #pathInWords(path: string): string {
    const parts = path.split(".");
    return parts
      .map((part, place) => {
        const name = valueAt(this.#content, `${parts.slice(0, place + 1).join(".")}.name`);
        return /^\d+$/.test(part) && typeof name === "string" ? name : part;
      })
      .join(".");
  }

  #fill(): void {
    for (const field of this.#groups.flatMap((group) => group.fields)) {
      const box = this.#root.querySelector<HTMLElement>(`[data-path="${CSS.escape(field.path)}"]`);
      if (box === null) continue;
      const value = valueAt(this.#content, field.path);
      for (const input of box.querySelectorAll<HTMLInputElement | HTMLSelectElement>("input,select")) {
        fillOne(input, field, value);
      }
    }
  }

  #heard(target: EventTarget | null, isDone: boolean): void {
    if (!(target instanceof HTMLInputElement || target instanceof HTMLSelectElement)) return;
    const path = target.closest<HTMLElement>("[data-path]")?.dataset.path;
    const field = this.#groups.flatMap((group) => group.fields).find((each) => each.path === path);
    if (field === undefined) return;
    const isSlider = target instanceof HTMLInputElement && target.type === "range";
    if (!isDone && !isSlider) return;
    const value = valueGiven(target, field, valueAt(this.#content, field.path));
    if (value === undefined) return;
    if (isDone) this.#events.onSet(field.path, value);
    else this.#events.onTry(field.path, value);
  }
}

function valueGiven(input: HTMLInputElement | HTMLSelectElement, field: Field, current: unknown): unknown {
  if (field.kind === "choice") return field.choices?.[Number(input.value)]?.value;
  if (input.dataset.role === "text") {
    const text = input.value.trim();
    return text !== "" && /^-?\d+(?:\.\d+)?(?:e\d+)?$/i.test(text) && field.path !== "seed" ? Number(text) : text;
  }
  const read = readDrawingText(current);
  if (read === null) return undefined;
  const moved = Number(input.value);
  return writeDrawingText(input.dataset.role === "nominal" ? { ...read, nominal: moved } : withHalfWidth(read, moved));
}

function fillOne(input: HTMLInputElement | HTMLSelectElement, field: Field, value: unknown): void {
  if (field.kind === "choice") {
    const place = field.choices?.findIndex((choice) => isSame(choice.value, value)) ?? -1;
    input.value = String(place);
    return;
  }
  if (input.dataset.role === "text") {
    if (document.activeElement !== input || input.getAttribute("aria-invalid") !== "true")
      input.value = value === undefined ? "" : String(value);
    return;
  }
  const read = readDrawingText(value);
  input.disabled = read === null;
  if (read === null) return;
  const number = input.dataset.role === "nominal" ? read.nominal : halfWidth(read);
  input.value = String(number);
  const words = `${input.dataset.role === "nominal" ? "" : "±"}${tidy(number)} ${unitWords(read)}`;
  input.setAttribute("aria-valuetext", words);
  const shown = input.parentElement?.querySelector("output");
  if (shown) shown.textContent = words;
}

function isSame(a: unknown, b: unknown): boolean {
  return String(a) === String(b) && JSON.stringify(a) === JSON.stringify(b)
    ? true
    : typeof a !== "object" && String(a) === String(b);
}

function unitWords({ unit }: DrawingText): string {
  if (unit === "") return "mm";
  return unit.replace("degC", "°C").replace(/^um$/, "µm").replace("N.mm", "N·mm");
}

/** A text that cannot be read as limits stays where the sliders are, so that it can be mended in its place. */
function withSliders(groups: readonly FieldGroup[], base: unknown): FieldGroup[] {
  const slid = new Set(
    fieldGroups(base).flatMap((group) => group.fields.filter(({ kind }) => kind === "limits").map(({ path }) => path)),
  );
  return groups.map((group) => ({
    ...group,
    fields: group.fields.map((field) =>
      field.kind === "text" && slid.has(field.path) ? { ...field, kind: "limits" as const } : field,
    ),
  }));
}

function groupMarkup(group: FieldGroup, isOpen: boolean, base: unknown, content: unknown): Markup {
  return html`<details data-group="${group.title}"${isOpen ? html` open` : null}><summary>${group.title}</summary>
${group.fields.map((field) => fieldMarkup(field, base, content))}</details>`;
}

function fieldMarkup(field: Field, base: unknown, content: unknown): Markup {
  const id = `field-${field.path.replace(/[^\w]/g, "-")}`;
  const hint = field.hint === undefined ? null : html`<small>${field.hint}</small>`;
  if (field.kind === "choice") {
    const value = valueAt(content, field.path);
    const isKnown = field.choices?.some((choice) => isSame(choice.value, value)) ?? false;
    return html`<div class="field" data-path="${field.path}"><label for="${id}">${field.label}</label><select id="${id}">
${isKnown ? null : html`<option value="-1">${value === undefined ? (field.absent ?? "not given") : `as in the file: ${String(value)}`}</option>`}
${(field.choices ?? []).map((choice, place) => html`<option value="${place}">${choice.words}</option>`)}</select>${hint}</div>`;
  }
  const read =
    field.kind === "limits"
      ? (readDrawingText(valueAt(base, field.path)) ?? readDrawingText(valueAt(content, field.path)))
      : null;
  if (read === null) {
    return html`<div class="field" data-path="${field.path}"><label for="${id}">${field.label}</label><input id="${id}" data-role="text" type="text" autocomplete="off" spellcheck="false">${hint}</div>`;
  }
  const unit = unitWords(read);
  const slider = (role: "nominal" | "tolerance", words: string, travel: Travel) =>
    html`<label class="slide"><span>${words}, ${unit}</span><input id="${id}-${role}" type="range" data-role="${role}" min="${tidy(travel.low)}" max="${tidy(travel.high)}" step="${tidy(travel.step)}" aria-label="${field.label}, ${words}, ${unit}"><output></output></label>`;
  return html`<fieldset class="field limits" data-path="${field.path}"><legend>${field.label}</legend>
<label class="as-drawn"><span>limits, ${unit}</span><input id="${id}" data-role="text" type="text" autocomplete="off" spellcheck="false" aria-label="${field.label}, with limits, ${unit}"></label>
${slider("nominal", "nominal", nominalTravel(read))}${halfWidth(read) > 0 ? slider("tolerance", "tolerance ±", toleranceTravel(read)) : null}</fieldset>`;
}
