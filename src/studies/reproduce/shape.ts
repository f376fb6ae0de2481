/** Whether a value read from a file has the shape that is needed of it. */
export type Shape = (value: unknown) => boolean;

export const isText: Shape = (value) => typeof value === "string";
export const isFlag: Shape = (value) => typeof value === "boolean";
export const isPresent: Shape = (value) => value !== undefined;

/** A finite number between two ends, both included. */
export function between(low: number, high: number): Shape {
  return (value) => typeof value === "number" && value >= low && value <= high;
}

export function wholeBetween(low: number, high: number): Shape {
  return (value) => Number.isInteger(value) && between(low, high)(value);
}

export function orNull(shape: Shape): Shape {
  return (value) => value === null || shape(value);
}

export function orMissing(shape: Shape): Shape {
  return (value) => value === undefined || shape(value);
}

export function oneOf(...choices: readonly unknown[]): Shape {
  return (value) => choices.includes(value);
}

/** A list, with at most so many elements. */
export function listOf(shape: Shape, most: number): Shape {
  return (value) => Array.isArray(value) && value.length <= most && value.every(shape);
}

/** A group with at least these keys. */
export function groupOf(parts: Readonly<Record<string, Shape>>): Shape {
  return (value) => {
    if (typeof value !== "object" || value === null || Array.isArray(value)) return false;
    const group = value as Record<string, unknown>;
    return Object.entries(parts).every(([key, shape]) => shape(Object.hasOwn(group, key) ? group[key] : undefined));
  };
}

/** A group whose values are all of one shape, whatever its keys. */
export function tableOf(shape: Shape): Shape {
  return (value) =>
    typeof value === "object" && value !== null && !Array.isArray(value) && Object.values(value).every(shape);
}
