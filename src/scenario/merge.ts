/** A group of keys put together from what two things have in common and what each has of its own. */
export interface Merged<T> {
  readonly entry: Partial<T>;
  /** Address in the file of a key: where it was written, or where one would write it. */
  readonly pathOf: (key: keyof T & string) => string;
}

/**
 * `own` wins over `common` key by key. Keys that exclude or belong to one another go together: where `own` gives one of
 * a set, the whole set is taken from `own`.
 */
export function mergeEntries<T extends object>(
  common: T | undefined,
  commonPath: string,
  own: T | undefined,
  ownPath: string,
  sets: readonly (readonly (keyof T & string)[])[] = [],
): Merged<T> {
  const base: Partial<T> = { ...common };
  for (const set of sets) {
    if (set.some((key) => own?.[key] !== undefined)) for (const key of set) delete base[key];
  }
  const written = own ?? ({} as T);
  const entry: Partial<T> = { ...base };
  for (const key of Object.keys(written) as (keyof T)[]) if (written[key] !== undefined) entry[key] = written[key];
  const pathOf = (key: keyof T & string): string => {
    const inOwn = written[key] !== undefined || (base[key] === undefined && common === undefined);
    return `${inOwn ? ownPath : commonPath}.${key}`;
  };
  return { entry, pathOf };
}
