import { html, type Markup } from "../report/html.ts";
import type { Picture } from "./protocol.ts";
import { contributorsPanel } from "./views/contributors.ts";
import { headline, spokenHeadline, verdictPanel } from "./views/headline.ts";
import { outcomesPanel } from "./views/outcomes.ts";
import { preloadPanel } from "./views/preload.ts";
import { sectionPanel } from "./views/section.ts";
import type { Shown } from "./views/view.ts";
import { windowPanel } from "./views/window.ts";

export interface ToolState {
  readonly canUndo: boolean;
  readonly canRedo: boolean;
  readonly isChanged: boolean;
  readonly names: readonly string[];
  readonly active: number;
}

/** Puts markup in its places on the page. */
export class Screen {
  #told = "";
  #states = "";

  /** Whether what is shown answers what was last asked. */
  settled(isSettled: boolean): void {
    document.body.dataset.whole = isSettled ? "yes" : "no";
    document.getElementById("results")!.setAttribute("aria-busy", isSettled ? "false" : "true");
  }

  /** Which question the page answers now; what drives the page from outside waits for it. */
  answered(id: number): void {
    document.body.dataset.answered = String(id);
  }

  problems(words: readonly string[]): void {
    const text =
      words.length === 0
        ? ""
        : html`<p>This cannot be worked out:</p><ul>${words.map((each) => html`<li>${each}</li>`)}</ul>`.text;
    const place = document.getElementById("problems")!;
    if (place.innerHTML !== text) place.innerHTML = text;
    document.body.dataset.problems = words.length === 0 ? "no" : "yes";
  }

  tools({ canUndo, canRedo, isChanged, names, active }: ToolState): void {
    const able = (id: string, isAble: boolean) => {
      (document.getElementById(id) as HTMLButtonElement).disabled = !isAble;
    };
    able("undo", canUndo);
    able("redo", canRedo);
    able("reset", isChanged);
    document.getElementById("split")!.textContent =
      names.length > 1 ? "Keep this variant alone" : "Compare two variants";
    const variants = document.getElementById("variants")!;
    variants.hidden = names.length < 2;
    variants.innerHTML = html`<span>controls change</span>${names.map(
      (name, place) =>
        html`<label><input type="radio" name="variant" value="${place}"${place === active ? html` checked` : null}> ${name}</label>`,
    )}`.text;
  }

  /** @param latest the last whole run of each variant that is shown */
  draw(title: string, shown: readonly Shown[], latest: readonly (Picture | null)[]): void {
    // Measured before anything is changed: afterwards the browser would have to lay the page out anew to answer.
    const width = pictureWidth(shown.length);
    put("title", html`${title}`);
    put("headline", headline(shown));
    this.#stateChoice(shown);
    document.querySelector<HTMLOptionElement>("#export option[value=extended]")!.hidden = !shown.every(
      ({ picture }) => picture.hasExtended,
    );
    const state = Number((document.getElementById("state") as HTMLSelectElement).value) || 0;
    put("view-outcomes", outcomesPanel(shown, width));
    put("view-preload", preloadPanel(shown, width));
    put("view-window", windowPanel(shown, width));
    put("view-section", sectionPanel(shown, state, width));
    put(
      "view-contributors",
      contributorsPanel(
        shown,
        latest.map((each) => each?.contributors ?? null),
        width,
      ),
    );
    put(
      "view-verdict",
      verdictPanel(
        shown,
        latest.map((each) => each?.verdict ?? null),
      ),
    );
    this.#tell(shown);
  }

  /** Only whole runs are told, so that a moving slider does not talk over itself. */
  #tell(shown: readonly Shown[]): void {
    if (document.body.dataset.whole !== "yes") return;
    const words = spokenHeadline(shown);
    if (words === this.#told) return;
    this.#told = words;
    document.getElementById("told")!.textContent = words;
  }

  #stateChoice(shown: readonly Shown[]): void {
    const options = html`${shown[0]!.picture.nominal.states.map(
      (_, place) => html`<option value="${place}">${shown[0]!.picture.states[place]!.label}</option>`,
    )}`.text;
    if (options === this.#states) return;
    this.#states = options;
    const choice = document.getElementById("state") as HTMLSelectElement;
    const chosen = choice.value;
    choice.innerHTML = options;
    if ([...choice.options].some(({ value }) => value === chosen)) choice.value = chosen;
  }
}

/** What stands in each place. */
const placed = new Map<string, string>();

/** What has not changed stays as it is. */
function put(id: string, { text }: Markup): void {
  if (placed.get(id) === text) return;
  placed.set(id, text);
  document.getElementById(id)!.innerHTML = text;
}

/** Pictures are drawn as wide as their place, so that text keeps its size: two beside one another on a wide page. */
function pictureWidth(count: number): number {
  const room = document.getElementById("results")!.clientWidth - 2;
  const isBeside = count > 1 && room >= 700;
  return Math.max(300, Math.floor(isBeside ? (room - 24) / 2 : Math.min(room, 860)));
}
