import { availableParallelism } from "node:os";
import { InvalidArgumentError, Option } from "commander";

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

export function defaultWorkers(): number {
  return availableParallelism();
}

/** Which inner loops run. Results are the same to the bit. */
export const KERNEL_OPTION = new Option("--kernel <name>", "inner loops: WebAssembly, or plain for a cross-check")
  .choices(["fast", "plain"])
  .default("fast");
