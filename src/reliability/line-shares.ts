import { normalCdf } from "../numeric/special.ts";
import type { Crossings } from "./line-crossings.ts";

/** Φ(to) − Φ(from), from the tail in which the difference keeps its digits. */
function between(from: number, to: number): number {
  return from > 0 ? normalCdf(-from) - normalCdf(-to) : normalCdf(to) - normalCdf(from);
}

/** The probability that limit `limit` is below 0 on a line: the sum over the stretches where it is. */
export function shareBelow({ limits, starts, places, beginsBelow }: Crossings, line: number, limit: number): number {
  const pair = line * limits + limit;
  let isBelow = beginsBelow[pair] === 1;
  let from = Number.NEGATIVE_INFINITY;
  let sum = 0;
  for (let at = starts[pair]; at < starts[pair + 1]; at += 1) {
    if (isBelow) sum += between(from, places[at]);
    isBelow = !isBelow;
    from = places[at];
  }
  return isBelow ? sum + between(from, Number.POSITIVE_INFINITY) : sum;
}

/** What has to hold of several limits at once. */
export interface Wanted {
  readonly limit: number;
  /** Whether the limit has to be below 0. */
  readonly isBelow: boolean;
}

/** Adds up, line after line, the probability that all of several limits are on the side wanted. */
export function createShareOfAll(crossings: Crossings, wanted: readonly Wanted[]): (line: number) => number {
  const { limits, starts, places, beginsBelow } = crossings;
  let events = new Float64Array(4 * wanted.length);
  let changes = new Int8Array(events.length);
  return (line) => {
    // How many limits are on the wrong side, from the beginning of the line on.
    let wrong = 0;
    let count = 0;
    for (const { limit, isBelow } of wanted) {
      const pair = line * limits + limit;
      let isWrong = (beginsBelow[pair] === 1) !== isBelow;
      if (isWrong) wrong += 1;
      for (let from = starts[pair]; from < starts[pair + 1]; from += 1) {
        if (count === events.length) {
          events = Float64Array.from({ length: 2 * count }, (_, i) => events[i]);
          changes = Int8Array.from({ length: 2 * count }, (_, i) => changes[i]);
        }
        let at = count;
        for (; at > 0 && events[at - 1] > places[from]; at -= 1) {
          events[at] = events[at - 1];
          changes[at] = changes[at - 1];
        }
        events[at] = places[from];
        changes[at] = isWrong ? -1 : 1;
        isWrong = !isWrong;
        count += 1;
      }
    }
    let sum = 0;
    let from = Number.NEGATIVE_INFINITY;
    for (let at = 0; at < count; at += 1) {
      if (wrong === 0) sum += between(from, events[at]);
      wrong += changes[at];
      from = events[at];
    }
    return wrong === 0 ? sum + between(from, Number.POSITIVE_INFINITY) : sum;
  };
}
