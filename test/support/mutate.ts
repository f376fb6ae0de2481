import { parse, stringify } from "yaml";

/** A small generator of its own, so that the cases stay the same whatever the program draws. */
export interface Dice {
  /** Uniform in [0, 1). */
  next(): number;
  /** A whole number from 0 to `below` − 1. */
  below(below: number): number;
  pick<T>(list: readonly T[]): T;
}

export function dice(seed: number): Dice {
  let state = seed >>> 0;
  const next = () => {
    state = (state + 0x6d2b79f5) >>> 0;
    let x = Math.imul(state ^ (state >>> 15), state | 1);
    x ^= x + Math.imul(x ^ (x >>> 7), x | 61);
    return ((x ^ (x >>> 14)) >>> 0) / 2 ** 32;
  };
  const below = (limit: number) => Math.floor(next() * limit);
  return { next, below, pick: (list) => list[below(list.length)] };
}

type Json = null | boolean | number | string | Json[] | { [key: string]: Json };
type Place = { readonly holder: Json[] | { [key: string]: Json }; readonly key: string | number };

export interface Mutant {
  readonly text: string;
  /** What was done, one operation after the other. */
  readonly steps: readonly string[];
}

const UNITS = [
  "mm",
  "um",
  "m",
  "N",
  "kN",
  "MPa",
  "GPa",
  "degC",
  "K",
  "%",
  "deg",
  "um/m/K",
  "N/um",
  "rpm",
  "Hz",
  "W",
  "kg",
];
const ODD_TEXTS = [
  "",
  " ",
  "NaN",
  "Infinity",
  "-Infinity mm",
  "1e999 mm",
  "0x10",
  "1e-320 mm",
  "±",
  "± 1",
  "1 ± ± 2",
  "1..",
  "..",
  "5..1 um",
  "0 ±0",
  "0 mm",
  "1e308 mm",
  "9".repeat(400),
  "a".repeat(5000),
  "__proto__",
  "constructor",
  "toString",
  "hasOwnProperty",
  "../../etc/passwd",
  "\u0000",
  "\u202e\u2066",
  "💥",
  "<script>alert(1)</script>",
  "#{7*7}",
  "20 zz99",
  "20 H0",
  "20 k5 k5",
  "null",
  "~",
  "true",
];
const ODD_VALUES: readonly Json[] = [
  null,
  true,
  false,
  0,
  -1,
  1,
  2,
  0.5,
  1e-300,
  1e300,
  Number.MAX_VALUE,
  Number.MIN_VALUE,
  2 ** 53,
  -273.15,
  [],
  {},
  [[]],
  [null],
  { "": null },
  [1, 2, 3],
  { low: 1, high: 0 },
  { uniform: { low: 1, high: 1 } },
  { triangular: { low: 0, mode: 5, high: 1 } },
  { measured: [] },
  { limits: "0 ±0", Cpk: 0 },
];

/**
 * One to four changes to the content of a scenario, by its structure: keys and elements dropped, doubled, renamed, moved;
 * values retyped, scaled, sign-flipped, their units swapped; parts of other scenarios put in; hostile text; at times the text
 * itself damaged.
 */
export function mutant(texts: readonly string[], roll: Dice): Mutant {
  const base = roll.pick(texts);
  if (roll.next() < 0.08) return damaged(base, roll);
  const content = parse(base) as Json;
  const other = parse(roll.pick(texts)) as Json;
  const steps: string[] = [];
  const count = 1 + roll.below(roll.next() < 0.5 ? 1 : 4);
  for (let step = 0; step < count; step += 1) {
    const places = placesOf(content);
    if (places.length === 0) break;
    steps.push(change(roll.pick(places), roll, placesOf(other), places));
  }
  return { text: stringify(content), steps };
}

function change(place: Place, roll: Dice, others: readonly Place[], places: readonly Place[]): string {
  const { holder, key } = place;
  const value = get(place);
  const where = String(key);
  const kind = roll.below(14);
  switch (kind) {
    case 0:
      if (Array.isArray(holder)) holder.splice(Number(key), 1);
      else delete holder[key];
      return `drop ${where}`;
    case 1:
      if (Array.isArray(holder)) holder.splice(Number(key), 0, clone(value));
      else holder[`${key}2`] = clone(value);
      return `double ${where}`;
    case 2: {
      if (Array.isArray(holder)) return `keep ${where}`;
      const known = places.filter((each) => typeof each.key === "string").map((each) => String(each.key));
      const name = roll.next() < 0.5 ? misspelt(String(key), roll) : roll.pick([...known, ...ODD_TEXTS]);
      delete holder[key];
      Object.defineProperty(holder, name, { value, enumerable: true, configurable: true, writable: true });
      return `rename ${where} to ${name.slice(0, 40)}`;
    }
    case 3:
      set(place, retyped(value));
      return `retype ${where}`;
    case 4:
    case 5:
    case 6: {
      const factor = roll.pick([0, -1, 1e-9, 1e-3, 0.1, 0.5, 0.9, 1.1, 2, 10, 100, 1e3, 1e6, 1e15, 1e200]);
      set(place, withNumbers(value, factor, roll));
      return `scale ${where} by ${factor}`;
    }
    case 7:
    case 8:
      set(place, withUnit(value, roll.pick(UNITS)));
      return `other unit in ${where}`;
    case 9:
    case 10: {
      const same = others.filter((each) => each.key === key);
      const from = roll.pick(same.length > 0 && roll.next() < 0.8 ? same : others);
      set(place, clone(get(from)));
      return `splice ${String(from.key)} into ${where}`;
    }
    case 11:
      set(place, roll.pick(ODD_TEXTS));
      return `odd text in ${where}`;
    case 12:
      set(place, clone(roll.pick(ODD_VALUES)));
      return `odd value in ${where}`;
    default: {
      const from = roll.pick(places);
      const moved = clone(get(from));
      set(from, clone(value));
      set(place, moved);
      return `swap ${where} with ${String(from.key)}`;
    }
  }
}

function damaged(text: string, roll: Dice): Mutant {
  const at = roll.below(text.length);
  const bits = [
    "\t",
    "{",
    "[",
    "}",
    ":",
    "- ",
    "&a ",
    "*a ",
    "!!js/function ",
    "|",
    "\u0000",
    "\ufeff",
    "#",
    "'",
    '"',
    "---\n",
  ];
  switch (roll.below(4)) {
    case 0:
      return { text: text.slice(0, at), steps: [`cut at ${at}`] };
    case 1:
      return { text: text.slice(0, at) + roll.pick(bits) + text.slice(at), steps: [`insert at ${at}`] };
    case 2:
      return { text: text.slice(0, at) + text.slice(at + 1 + roll.below(40)), steps: [`hole at ${at}`] };
    default:
      return { text: text.replaceAll("\n", "\r\n"), steps: ["CRLF"] };
  }
}

function placesOf(node: Json, found: Place[] = []): Place[] {
  if (Array.isArray(node)) {
    node.forEach((part, key) => {
      found.push({ holder: node, key });
      placesOf(part, found);
    });
  } else if (node !== null && typeof node === "object") {
    for (const [key, part] of Object.entries(node)) {
      found.push({ holder: node, key });
      placesOf(part, found);
    }
  }
  return found;
}

function get({ holder, key }: Place): Json {
  return (holder as Record<string | number, Json>)[key] ?? null;
}

function set({ holder, key }: Place, value: Json): void {
  (holder as Record<string | number, Json>)[key] = value;
}

function clone(value: Json): Json {
  return structuredClone(value);
}

function misspelt(key: string, roll: Dice): string {
  const at = roll.below(Math.max(1, key.length));
  return key.slice(0, at) + roll.pick(["", "x", key[at] ?? "", key.charAt(at).toUpperCase()]) + key.slice(at + 1);
}

function retyped(value: Json): Json {
  if (typeof value === "number") return String(value);
  if (typeof value === "string") return Number.parseFloat(value) || [value];
  if (typeof value === "boolean") return String(value);
  if (value === null) return 0;
  return Array.isArray(value)
    ? Object.fromEntries(value.map((part, index) => [String(index), part]))
    : Object.values(value);
}

/** Every number in a text times a factor, or one of them only. */
function withNumbers(value: Json, factor: number, roll: Dice): Json {
  if (typeof value === "number") return value * factor;
  if (typeof value !== "string") return value;
  const only = roll.next() < 0.5 ? roll.below(3) : -1;
  let place = 0;
  return value.replace(/[+-]?\d+(?:\.\d+)?/g, (digits) => {
    const here = place;
    place += 1;
    return only >= 0 && only !== here ? digits : String(Number(digits) * factor);
  });
}

function withUnit(value: Json, unit: string): Json {
  if (typeof value === "number") return `${value} ${unit}`;
  if (typeof value !== "string") return unit;
  return /[a-z%°][\w/%°]*$/i.test(value) ? value.replace(/\s*[a-z%°][\w/%°]*$/i, ` ${unit}`) : `${value} ${unit}`;
}
