/** From the words of a person to key material. The only place that knows the seedrandom library. */
import seedrandom from "seedrandom";
import { InternalError } from "../errors.ts";

/** Two 32-bit words that stand for a seed. */
export type SeedKey = readonly [number, number];

/**
 * The key of a scenario's seed. Always a string: the library reads 42 and "42" as two seeds, and an absent one from the clock.
 *
 * @throws InternalError when the seed is not a string
 */
export function seedKey(seed: string): SeedKey {
  if (typeof seed !== "string") throw new InternalError("a seed must be a string");
  const generator = seedrandom(seed);
  return [generator.int32(), generator.int32()];
}
