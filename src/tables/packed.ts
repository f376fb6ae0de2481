import { InternalError } from "../errors.ts";

/** Plain data taken apart: every number in one column, in order, and what they belong to as text. */
export interface Packed {
  /** JSON. Numbers stand as "#", arrays of them as "n:length", typed arrays as "f64:length" and so on, text as "=text". */
  readonly shape: string;
  readonly numbers: Float64Array;
}

type Column = Float64Array | Int32Array | Uint16Array | Uint8Array;

const COLUMNS = {
  f64: Float64Array,
  i32: Int32Array,
  u16: Uint16Array,
  u8: Uint8Array,
} as const satisfies Record<string, new (size: number) => Column>;

/**
 * Takes plain data apart: objects, arrays, typed arrays, text, numbers, truth values and null. Numbers keep every bit, NaN,
 * infinities and the sign of zero included, which JSON loses. Undefined members are left out.
 *
 * @throws InternalError for anything that is no plain data
 */
export function pack(value: unknown): Packed {
  const parts: ArrayLike<number>[] = [];
  let count = 0;
  const keep = (numbers: ArrayLike<number>) => {
    parts.push(numbers);
    count += numbers.length;
  };
  const shape = JSON.stringify(shapeOf(value, keep));
  const numbers = new Float64Array(count);
  let place = 0;
  for (const part of parts) {
    numbers.set(part, place);
    place += part.length;
  }
  return { shape, numbers };
}

/** A whole number below 2^32 that almost surely changes when a number does (FNV-1a over the 32-bit words). */
export function checksum(numbers: Float64Array): number {
  const copy = numbers.slice();
  let sum = 0x811c9dc5;
  for (const word of new Uint32Array(copy.buffer)) sum = Math.imul(sum ^ word, 0x01000193);
  return sum >>> 0;
}

function shapeOf(value: unknown, keep: (numbers: ArrayLike<number>) => void): unknown {
  if (typeof value === "number") {
    keep([value]);
    return "#";
  }
  if (typeof value === "string") return `=${value}`;
  if (value === null || typeof value === "boolean") return value;
  if (Array.isArray(value)) {
    if (value.length > 0 && value.every((part) => typeof part === "number")) {
      keep(value);
      return `n:${value.length}`;
    }
    return value.map((part) => shapeOf(part, keep));
  }
  for (const [name, type] of Object.entries(COLUMNS)) {
    if (value instanceof type) {
      keep(value);
      return `${name}:${value.length}`;
    }
  }
  if (typeof value !== "object" || Object.getPrototypeOf(value) !== Object.prototype) {
    throw new InternalError(`${typeof value} is no plain data`);
  }
  return Object.fromEntries(
    Object.entries(value)
      .filter(([, part]) => part !== undefined)
      .map(([key, part]) => [key, shapeOf(part, keep)]),
  );
}

/**
 * Puts plain data together again.
 *
 * @throws InternalError where shape and numbers do not belong together
 */
export function unpack({ shape, numbers }: Packed): unknown {
  let place = 0;
  const take = (count: number): Float64Array => {
    if (!(count >= 0 && place + count <= numbers.length)) throw new InternalError("packed numbers end early");
    place += count;
    return numbers.subarray(place - count, place);
  };
  const value = valueAt(JSON.parse(shape), take);
  if (place !== numbers.length) throw new InternalError("packed numbers are left over");
  return value;
}

function valueAt(shape: unknown, take: (count: number) => Float64Array): unknown {
  if (typeof shape === "string") {
    if (shape === "#") return take(1)[0];
    if (shape.startsWith("=")) return shape.slice(1);
    const [name, length] = shape.split(":");
    const numbers = take(Number(length));
    if (name === "n") return Array.from(numbers);
    if (!Object.hasOwn(COLUMNS, name)) throw new InternalError(`${name} is no kind of column`);
    return COLUMNS[name as keyof typeof COLUMNS].from(numbers);
  }
  if (Array.isArray(shape)) return shape.map((part) => valueAt(part, take));
  if (shape === null || typeof shape !== "object") return shape;
  return Object.fromEntries(Object.entries(shape).map(([key, part]) => [key, valueAt(part, take)]));
}
