/** One place in which two results are not the same. */
export interface Difference {
  /** Address in result.json, such as `states.2.preloadN.mean`. */
  readonly path: string;
  /** As it stands in the file and as it came out now; undefined where it is missing. */
  readonly before: unknown;
  readonly now: unknown;
}

/** What came of doing a study again. */
export interface Reproduction {
  readonly isSame: boolean;
  /** Numbers that were compared. */
  readonly numbers: number;
  /** Versions, hash and the like that are others now. */
  readonly provenance: readonly Difference[];
  /** Everything else that differs, in the order of the file. */
  readonly differences: readonly Difference[];
  /** Sentences of the verdict that another version of the program puts otherwise. They are no difference. */
  readonly words: readonly Difference[];
}

/** Who made a result. Where the numbers are the same, another maker is told of and makes no difference. */
const MAKER_PATHS = ["provenance.platform", "provenance.version", "provenance.catalogueVersion"];

/**
 * Compares a result with an earlier one, number by number, to the last bit.
 *
 * @param before content of the earlier result.json
 * @param now the new result; it goes through JSON like the other
 */
export function compareResults(before: unknown, now: object): Reproduction {
  const found: Difference[] = [];
  const counted = { numbers: 0 };
  collect(before, JSON.parse(JSON.stringify(now)), "", found, counted);
  const provenance = found.filter(({ path }) => path.startsWith("provenance."));
  const isOfOther = provenance.some(({ path }) => path === "provenance.version");
  const isWords = ({ path }: Difference) => isOfOther && path.startsWith("verdict.");
  const differences = found.filter((each) => !each.path.startsWith("provenance.") && !isWords(each));
  const isSame = differences.length === 0 && provenance.every(({ path }) => MAKER_PATHS.includes(path));
  return { isSame, numbers: counted.numbers, provenance, differences, words: found.filter(isWords) };
}

function collect(before: unknown, now: unknown, path: string, found: Difference[], counted: { numbers: number }): void {
  if (typeof before === "number") counted.numbers += 1;
  const isGroup = (value: unknown): value is Record<string, unknown> => typeof value === "object" && value !== null;
  if (isGroup(before) && isGroup(now) && Array.isArray(before) === Array.isArray(now)) {
    for (const key of new Set([...Object.keys(before), ...Object.keys(now)])) {
      collect(before[key], now[key], path === "" ? key : `${path}.${key}`, found, counted);
    }
  } else if (!Object.is(before, now)) {
    found.push({ path, before, now });
  }
}
