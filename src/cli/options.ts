import { availableParallelism } from "node:os";
import { InvalidArgumentError, Option } from "commander";
import { MOST_SHARDS } from "../studies/shards/plan.ts";

/** Parsers of option values; commander turns what they throw into a usage error (exit code 2). */

const MOST_SAMPLES = 1e10;

/** A whole number of samples: `200000`, `200_000`, `1e8`. */
export function parseSamples(text: string): number {
  const value = Number(text.replace(/_/g, ""));
  if (!Number.isInteger(value) || value < 1 || value > MOST_SAMPLES) {
    throw new InvalidArgumentError("Expected a whole number from 1 to 1e10, such as 200000 or 1e8.");
  }
  return value;
}

export function parseWorkers(text: string): number {
  const value = Number(text);
  if (!Number.isInteger(value) || value < 1 || value > 256) {
    throw new InvalidArgumentError("Expected a whole number from 1 to 256.");
  }
  return value;
}

/** `3/64`: the third of 64 shards. */
export function parseShard(text: string): { shard: number; shards: number } {
  const match = /^\s*(\d+)\s*\/\s*(\d+)\s*$/.exec(text);
  const [shard, shards] = match === null ? [0, 0] : [Number(match[1]), Number(match[2])];
  if (!(shard >= 1 && shard <= shards && shards <= MOST_SHARDS)) {
    throw new InvalidArgumentError(
      `Expected a shard and their number, such as 3/64: from 1/1 to ${MOST_SHARDS} shards.`,
    );
  }
  return { shard, shards };
}

/** `all` or a number of rows. */
export function parseKeep(text: string): number {
  if (text === "all") return Number.POSITIVE_INFINITY;
  const value = Number(text.replace(/_/g, ""));
  if (!Number.isInteger(value) || value < 0) {
    throw new InvalidArgumentError('Expected a number of rows, or "all".');
  }
  return value;
}

export function parseIndex(text: string): number {
  const value = Number(text.replace(/_/g, ""));
  if (!Number.isInteger(value) || value < 0 || value >= MOST_SAMPLES) {
    throw new InvalidArgumentError("Expected the index of a unit, a whole number from 0.");
  }
  return value;
}

/** A half-width of a share: `0.1%` or `0.001`. */
export function parsePrecision(text: string): number {
  const match = /^\s*([0-9.]+(?:e-?\d+)?)\s*(%?)\s*$/i.exec(text);
  const value = match === null ? Number.NaN : Number(match[1]) / (match[2] === "%" ? 100 : 1);
  if (!(value > 0 && value < 0.5)) {
    throw new InvalidArgumentError("Expected half the width of a 95 % interval, such as 0.1% or 0.001.");
  }
  return value;
}

/** A time in seconds: `10s`, `2min`, `1h`. */
export function parseSeconds(text: string): number {
  const match = /^\s*([0-9.]+)\s*(s|min|h)\s*$/.exec(text);
  const value =
    match === null ? Number.NaN : Number(match[1]) * { s: 1, min: 60, h: 3600 }[match[2] as "s" | "min" | "h"];
  if (!(value > 0 && value <= 7 * 86_400)) {
    throw new InvalidArgumentError("Expected a time up to a week, such as 10s, 2min or 1h.");
  }
  return value;
}

export function defaultWorkers(): number {
  return availableParallelism();
}

/** Which inner loops run. Results are the same to the bit. */
export const KERNEL_OPTION = new Option("--kernel <name>", "inner loops: WebAssembly, or plain for a cross-check")
  .choices(["fast", "plain"])
  .default("fast");

/** Rare outcomes are looked for unless this says not to. */
export const RARE_OPTION = new Option("--no-rare", "do not look for what plain sampling saw fewer than ten times");

/** A kill costs what was done since. */
export const RECORD_OPTION = new Option("--record-every <time>", "how often what is done is recorded, such as 1min")
  .argParser(parseSeconds)
  .default(5, "5s");
