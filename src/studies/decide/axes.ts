import { InputError } from "../../errors.ts";
import type { Axis } from "../../scenario/axis.ts";
import type { Warning } from "../../warnings.ts";
import type { SweepAxis } from "./result.ts";

const MOST_CELLS = 10_000;

/** Refuses more cells than anybody looks at. */
export function refuseTooMany(cells: number, option: string): void {
  if (cells <= MOST_CELLS) return;
  throw new InputError({
    code: "too-large",
    path: option,
    expected: `at most ${MOST_CELLS} cells`,
    got: String(cells),
  });
}

/** An axis as a result keeps it. */
export function axisOf({ path, unit, values, kept }: Axis): SweepAxis {
  return { path, label: labelOf(path), unit, values, kept };
}

/** The end of an address in words: `states.hot.housing` → `housing in hot`. */
function labelOf(path: string): string {
  const parts = path.split(".").filter((part) => part !== "both");
  const spaced = parts.map((part) => part.replace(/([a-z])([A-Z])/g, "$1 $2").toLowerCase());
  if (parts[0] === "states" && parts.length === 3) return `temperature of the ${spaced[2]} in state ${parts[1]}`;
  if (parts[0] === "chain" && parts.length === 3) return `${spaced[2]} of the ${parts[1]}`;
  return spaced.length < 2 ? spaced.join(" ") : `${spaced.at(-1)} of the ${spaced.at(-2)}`;
}

/** What to say of an axis that takes a spread away. */
export function droppedSpread({ path, dropsSpread }: Axis): Warning[] {
  if (!dropsSpread) return [];
  const message = "the swept values are taken as exact; write a tolerance into the sweep to keep a spread";
  return [{ code: "unlikely-value", path, message }];
}
