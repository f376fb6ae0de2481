import { tableFromIPC, tableToIPC } from "apache-arrow";
import { beforeAll, describe, expect, test } from "vitest";
import { InputError } from "../../src/errors.ts";
import { checkShards } from "../../src/studies/shards/check.ts";
import { arrowDamage } from "../../src/tables/arrow-check.ts";
import { readMeasured } from "../../src/tables/measured.ts";
import { openSampleFile } from "../../src/tables/samples.ts";
import { readShard } from "../../src/tables/shards.ts";
import { type Dice, dice } from "../support/mutate.ts";
import { resolved } from "../support/scenario.ts";
import { shardBytes, TEST_MAKER } from "../support/shards.ts";

/** Random damages; `SEATSPREAD_TEST_ARROW=10000` does more of them. */
const DAMAGES = Number(process.env.SEATSPREAD_TEST_ARROW ?? 1500);

/** No single damage may take longer, seconds of the processor: a busy machine does not count. */
const MOST_SECONDS = 1;

const VALUES = Float64Array.from({ length: 40 }, (_, row) => 31.764 + 0.0001 * ((row * 7) % 40));

function arrowFile(): Uint8Array {
  const parts: Uint8Array[] = [];
  const specs = [{ name: "lengthMm", unit: "mm" as const, description: "measured", type: "float64" as const }];
  const file = openSampleFile(specs, { made: "here" }, (bytes) => parts.push(bytes.slice()));
  file.append({ count: 40, columns: [{ name: "lengthMm", unit: "mm", description: "measured", values: VALUES }] });
  file.close();
  return Buffer.concat(parts);
}

/** The same table in the other of the two formats. */
function arrowStream(): Uint8Array {
  return tableToIPC(tableFromIPC(arrowFile()), "stream");
}

/** Where the 40 values stand. */
function bodyAt(bytes: Uint8Array): number {
  return Buffer.from(bytes).indexOf(Buffer.from(VALUES.buffer));
}

/** Refused by `InputError`, or read to finite values; anything else throws. Neither takes long. */
function judged(read: () => void): "refused" | "read" {
  const start = process.cpuUsage();
  try {
    read();
    return "read";
  } catch (error) {
    if (!(error instanceof InputError)) throw error;
    return "refused";
  } finally {
    const { user, system } = process.cpuUsage(start);
    expect((user + system) / 1e6).toBeLessThan(MOST_SECONDS);
  }
}

function readColumn(bytes: Uint8Array): "refused" | "read" {
  return judged(() => {
    const request = { separator: ",", decimal: ".", column: "lengthMm", skipBad: true } as const;
    const { values, lines } = readMeasured(bytes, "table", request);
    expect(values.every(Number.isFinite)).toBe(true);
    expect(lines).toHaveLength(values.length);
    expect(values.length).toBeLessThan(8 * bytes.length);
  });
}

/** One to eight changes: bits turned, bytes set to what hurts, words copied from elsewhere, parts cut out or doubled. */
function damaged(whole: Uint8Array, roll: Dice): Uint8Array {
  let bytes = Buffer.from(whole);
  for (let step = 0, steps = 1 + roll.below(8); step < steps; step += 1) {
    const at = roll.below(bytes.length);
    const kind = roll.below(7);
    if (kind < 2) bytes[at] ^= 1 << roll.below(8);
    else if (kind === 2) bytes[at] = roll.pick([0, 1, 0x7f, 0x80, 0xff]);
    else if (kind === 3) bytes.fill(roll.pick([0, 0xff]), at, Math.min(bytes.length, at + 1 + roll.below(8)));
    else if (kind === 4) bytes.copy(bytes, at, roll.below(bytes.length), bytes.length);
    else if (kind === 5)
      bytes.writeInt32LE(roll.pick([-1, 1, 8, 0x7fffffff, -0x80000000, bytes.length]), Math.min(at, bytes.length - 4));
    else if (roll.below(4) === 0) bytes = bytes.subarray(0, Math.max(16, at));
  }
  return Uint8Array.from(bytes);
}

describe.each([
  ["file", arrowFile()],
  ["stream", arrowStream()],
])("an Arrow %s", (_, whole) => {
  test("that is whole is found to be so, and read", () => {
    expect(arrowDamage(whole)).toBeNull();
    expect(readColumn(whole)).toBe("read");
  });

  test("with any single bit of its framing and metadata turned is refused by name or read to finite values, at once", () => {
    const body = bodyAt(whole);
    const outcomes: string[] = [];
    for (let at = 0; at < whole.length; at += 1) {
      if (at >= body && at < body + VALUES.byteLength) continue;
      for (let bit = 0; bit < 8; bit += 1) {
        const bytes = Uint8Array.from(whole);
        bytes[at] ^= 1 << bit;
        outcomes.push(readColumn(bytes));
      }
    }
    expect(outcomes.filter((outcome) => outcome === "refused").length).toBeGreaterThan(outcomes.length / 10);
    expect(outcomes.filter((outcome) => outcome === "read").length).toBeGreaterThan(outcomes.length / 10);
  }, 120_000);

  test(`damaged in ${DAMAGES} ways is refused by name or read to finite values, at once`, () => {
    const roll = dice(12);
    const outcomes = Array.from({ length: DAMAGES }, () => readColumn(damaged(whole, roll)));
    expect(outcomes.filter((outcome) => outcome === "refused").length).toBeGreaterThan(DAMAGES / 4);
  }, 120_000);
});

describe("the partial result of a shard", () => {
  let whole: Uint8Array;
  beforeAll(async () => {
    whole = (await shardBytes(resolved({ samples: 500 }), 1, 1)).bytes;
  }, 60_000);

  const read = (bytes: Uint8Array) =>
    judged(() => {
      const partial = readShard(bytes, "shard");
      const [checked] = checkShards([{ file: "shard", partial }], TEST_MAKER);
      for (const key of checked.keys) checked.result(key);
    });

  test(`damaged in ${Math.floor(DAMAGES / 10)} ways, most of them in its metadata, is refused by name or is what it was`, () => {
    expect(read(whole)).toBe("read");
    const roll = dice(13);
    const text = Buffer.from(whole);
    // The metadata of the file stands behind its last batch, and that of the schema in front of the first.
    const places = [0, text.indexOf("shapes"), text.lastIndexOf("shapes") - 2000, whole.length - 3000];
    const outcomes = Array.from({ length: Math.floor(DAMAGES / 10) }, () => {
      const from = Math.max(0, roll.pick(places));
      const part = damaged(whole.subarray(from, from + 3000), roll);
      return read(Buffer.concat([whole.subarray(0, from), part, whole.subarray(from + part.length)]));
    });
    expect(outcomes.filter((outcome) => outcome === "refused").length).toBeGreaterThan(outcomes.length / 4);
  }, 120_000);
});
