/**
 * The orders in which one may read the random numbers as the engine uses them: what looks random down one column need not look so
 * across columns, from block to block or from seed to seed.
 */
import { readFileSync } from "node:fs";
import { fileURLToPath } from "node:url";
import { scoreOfUniform } from "../../src/distributions/normal-score.ts";
import { normalCdf } from "../../src/numeric/normal.ts";
import { BLOCK_SIZE, DRAW_DOMAIN, fillUniform, type SeedKey, seedKey, variableId } from "../../src/random/streams.ts";
import { parseScenario } from "../../src/scenario/parse.ts";

/** Fills one batch of uniforms, the `index`-th of its order. */
type Fill = (index: number, out: Float64Array) => void;

/** How a stretch of uniforms is read. */
export interface Order {
  /** What it asks of the streams. */
  readonly about: string;
  /** Length of a batch. */
  readonly length: number;
  readonly fill: Fill;
  /** Bits of a uniform that come first in a word: its highest 32 of 52, or its lowest. */
  readonly bits: "high" | "low";
}

const SEED = "battery";
const key = seedKey(SEED);

/** The drawn variables of the main scenario, by their addresses. */
function drawnVariables(): (readonly [number, number])[] {
  // From the bundle in the build folder.
  const file = fileURLToPath(new URL("../scenarios/laminating-roller.yaml", import.meta.url));
  return parseScenario(readFileSync(file, "utf8"), file)
    .variables.filter((variable) => variable.distribution.kind !== "constant")
    .map((variable) => variableId(variable.name));
}

/** Reads `columns` of a block sample by sample: all of sample 0, all of sample 1, … */
function across(count: number, column: (block: number, of: number, out: Float64Array) => void): Omit<Order, "about"> {
  const buffer = new Float64Array(BLOCK_SIZE);
  return {
    length: count * BLOCK_SIZE,
    bits: "high",
    fill(block, out) {
      for (let of = 0; of < count; of += 1) {
        column(block, of, buffer);
        for (let index = 0; index < BLOCK_SIZE; index += 1) out[index * count + of] = buffer[index];
      }
    },
  };
}

/** Reads the first number of each of 4096 streams. */
function firsts(open: (index: number, out: Float64Array) => void): Omit<Order, "about"> {
  const one = new Float64Array(1);
  return {
    length: BLOCK_SIZE,
    bits: "high",
    fill(batch, out) {
      for (let index = 0; index < BLOCK_SIZE; index += 1) {
        open(batch * BLOCK_SIZE + index, one);
        out[index] = one[0];
      }
    },
  };
}

const clearance = variableId("bearings.a.clearance");

/** Block after block of one variable. */
const downColumn: Fill = (block, out) => fillUniform(key, clearance, block, out);

/** Every order by its name; made when asked for, since one reads a scenario. */
export const ORDERS: Readonly<Record<string, () => Order>> = {
  column: () => ({
    about: "block after block of one variable, as its column is drawn",
    length: BLOCK_SIZE,
    bits: "high",
    fill: downColumn,
  }),
  lowbits: () => ({
    about: "the same, the lowest 32 of the 52 bits",
    length: BLOCK_SIZE,
    bits: "low",
    fill: downColumn,
  }),
  units: () => {
    const variables = drawnVariables();
    return {
      about: `unit after unit: all ${variables.length} drawn variables of the main scenario side by side`,
      ...across(variables.length, (block, of, out) => fillUniform(key, variables[of], block, out)),
    };
  },
  domains: () => {
    const domains = Object.values(DRAW_DOMAIN);
    return {
      about: "the domains of a draw (units, batches, replicates, …) side by side",
      ...across(domains.length, (block, of, out) => fillUniform(key, clearance, block, out, BLOCK_SIZE, domains[of])),
    };
  },
  blocks: () => ({
    about: "the first number of each block of one variable",
    ...firsts((index, out) => fillUniform(key, clearance, index, out, 1)),
  }),
  seeds: () => {
    const keys: SeedKey[] = [0, 1, 2, 3, 4, 5, 6, 7].map((seed) => seedKey(String(seed)));
    return {
      about: "eight neighbouring seeds side by side",
      ...across(keys.length, (block, of, out) => fillUniform(keys[of], clearance, block, out)),
    };
  },
  names: () => ({
    about: "the first number of each of very many variables with numbered names",
    ...firsts((index, out) => fillUniform(key, variableId(`shims[${index}].thickness`), 0, out, 1)),
  }),
  scores: () => ({
    about: "normal scores as the engine makes them, through the normal distribution function",
    length: BLOCK_SIZE,
    bits: "high",
    fill(block, out) {
      fillUniform(key, clearance, block, out);
      for (let index = 0; index < BLOCK_SIZE; index += 1) out[index] = normalCdf(scoreOfUniform(out[index]));
    },
  }),
};

/** 32 bits of each uniform of a batch. */
export function wordsOf(order: Order, uniforms: Float64Array, words: Uint32Array): void {
  const high = order.bits === "high";
  for (let index = 0; index < uniforms.length; index += 1) {
    const scaled = uniforms[index] * 4294967296;
    // A distribution function may round to 1.
    const top = Math.min(4294967295, Math.floor(scaled));
    // Below the top 32 bits lie 20 more and the half: the low word is bits 20…51, counted from the bottom.
    words[index] = high ? top : ((top & 0xfff) << 20) | Math.floor((scaled - top) * 1048576);
  }
}
