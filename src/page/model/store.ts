import type { Override } from "../../scenario/overrides.ts";
import type { Source } from "../protocol.ts";

/** One variant: the changes made to the scenario, each address once, in the order in which they were first made. */
export type Variant = readonly Override[];

/** Everything that undo goes back over. */
export interface Work {
  readonly source: Source;
  readonly content: unknown;
  /** One variant, or two beside one another. */
  readonly variants: readonly Variant[];
  readonly active: number;
}

const MOST_STEPS = 500;

/** The work with its past and future. While a slider moves, a value is only tried; it counts when the slider is let go. */
export class Store {
  #past: Work[] = [];
  #future: Work[] = [];
  #work: Work;
  #tried: Work | null = null;

  constructor(work: Work) {
    this.#work = work;
  }

  get work(): Work {
    return this.#tried ?? this.#work;
  }

  get canUndo(): boolean {
    return this.#past.length > 0;
  }

  get canRedo(): boolean {
    return this.#future.length > 0;
  }

  /** Shows a change without remembering it. */
  try(path: string, value: unknown): void {
    this.#tried = changed(this.#work, path, value);
  }

  set(path: string, value: unknown): void {
    this.replace(changed(this.#work, path, value));
  }

  replace(work: Work): void {
    this.#tried = null;
    this.#past = [...this.#past.slice(-MOST_STEPS), this.#work];
    this.#future = [];
    this.#work = work;
  }

  undo(): boolean {
    const last = this.#past.pop();
    this.#tried = null;
    if (last === undefined) return false;
    this.#future.push(this.#work);
    this.#work = last;
    return true;
  }

  redo(): boolean {
    const next = this.#future.pop();
    this.#tried = null;
    if (next === undefined) return false;
    this.#past.push(this.#work);
    this.#work = next;
    return true;
  }

  /** Takes every change of the active variant back, as one step that can be undone. */
  reset(): void {
    const { active } = this.#work;
    this.replace({
      ...this.#work,
      variants: this.#work.variants.map((variant, place) => (place === active ? [] : variant)),
    });
  }

  /** Puts a copy of the active variant beside it. */
  split(): void {
    const variant = this.#work.variants[this.#work.active]!;
    this.replace({ ...this.#work, variants: [variant, variant], active: 1 });
  }

  /** Goes on with the active variant alone. */
  join(): void {
    this.replace({ ...this.#work, variants: [this.#work.variants[this.#work.active]!], active: 0 });
  }

  activate(active: number): void {
    this.#tried = null;
    this.#work = { ...this.#work, active };
  }
}

function changed(work: Work, path: string, value: unknown): Work {
  const variants = work.variants.map((variant, place) =>
    place === work.active ? withChange(variant, path, value) : variant,
  );
  return { ...work, variants };
}

/** A new value at an address; what was set inside it before goes. */
export function withChange(variant: Variant, path: string, value: unknown): Variant {
  const kept = variant.filter((override) => !override.path.startsWith(`${path}.`));
  const change = { path, value };
  return kept.some((override) => override.path === path)
    ? kept.map((override) => (override.path === path ? change : override))
    : [...kept, change];
}
