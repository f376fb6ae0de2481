import polars from "nodejs-polars";
import { beforeAll, describe, expect, test } from "vitest";
import { pack } from "../../../src/tables/packed.ts";
import { readShard } from "../../../src/tables/shards.ts";
import { problemsOf, resolved } from "../../support/scenario.ts";
import { mergeBytes, type ShardBytes, shardBytes, TEST_MAKER } from "../../support/shards.ts";
import { shipped } from "../../support/shipped.ts";
import { expectSameBits, runStudy } from "../../support/yield.ts";

/** Two chunks. */
const SAMPLES = 17_000;

/** Position preload, rings that walk, stiffness and life. The others differ in nothing that a shard sees. */
const FILES = ["laminating-roller.yaml", "oven-conveyor-wheel.yaml", "grinding-spindle.yaml"];

async function all(scenario: ReturnType<typeof resolved>, shards: number, keepRows = 0): Promise<ShardBytes[]> {
  const files: ShardBytes[] = [];
  for (let shard = 1; shard <= shards; shard += 1) files.push(await shardBytes(scenario, shard, shards, keepRows));
  return files;
}

describe("a study in shards, joined", () => {
  // Each does the study three times over: half a minute on a busy machine.
  test.each(FILES)("%s: is what a single run finds, to the bit, in any order of the files", async (file) => {
    const scenario = shipped(file, { samples: SAMPLES });
    const single = await runStudy(scenario, { rare: false });
    const merged = await mergeBytes((await all(scenario, 2)).reverse());
    expect(merged.finding).toStrictEqual(single.finding);
    expect(JSON.stringify(merged.finding)).toBe(JSON.stringify(single.finding));
    expectSameBits(merged.samples, single.samples);
  });

  const shared = { "chain.spacer.length": { limits: "40 ±0.005", batchShare: 0.5 }, "batch.size": 50 };
  const fixed = {
    "chain.spacer.length": "40 mm",
    "chain.housing spacing.length": "40.13 mm",
    "bearings.both.standOut": "0 um",
  };
  test.each([
    ["with fewer chunks than shards", { samples: 2_000 }, 5, 0],
    ["of one shard only", { samples: 2_000 }, 1, 2_000],
    ["where batches share a spread", { samples: 2_000, ...shared }, 3, 0],
    ["with nothing to integrate over", { samples: 2_000, ...fixed }, 2, 0],
    ["with rows kept past the figures'", { samples: 33_000 }, 2, 30_000],
  ] as const)("so too %s", async (_, changes, shards, keepRows) => {
    const scenario = resolved(changes);
    const single = await runStudy(scenario, { keepRows, rare: false });
    const merged = await mergeBytes(await all(scenario, shards, keepRows));
    expect(merged.finding).toStrictEqual(single.finding);
    expect(merged.kept.reduce((sum, rows) => sum + rows.count, 0)).toBe(single.kept.count);
  });
});

describe("the file of a shard", () => {
  test("is read alike by an independent reader (polars, Rust)", async () => {
    const { bytes, file } = await shardBytes(resolved({ samples: 2_000 }), 1, 2);
    const frame = polars.readIPC(Buffer.from(bytes));
    expect(frame.columns).toEqual(["part", "shape", "check", "numbers"]);
    const partial = readShard(bytes, file);
    expect(frame.getColumn("part").toArray()).toEqual(["scenario", "counts", ...partial.keys]);
    const chunk = frame.filter(polars.col("part").eq(polars.lit("chunk 0"))).explode("numbers");
    expect(chunk.getColumn("numbers").toArray()).toEqual(Array.from(pack(partial.result("chunk 0")).numbers));
  });
});

describe("what does not belong together is refused by name", () => {
  const scenario = resolved({ samples: 2_000 });
  let files: ShardBytes[];
  beforeAll(async () => {
    files = await all(scenario, 3);
  }, 60_000);

  const refusal = async (parts: readonly ShardBytes[]) => {
    let error: unknown;
    await mergeBytes(parts).catch((caught) => {
      error = caught;
    });
    return problemsOf(() => {
      throw error;
    });
  };

  test("a missing shard, each one of them", async () => {
    const problems = await refusal([files[1]]);
    expect(problems.map(({ expected, got }) => `${expected}, got ${got}`)).toEqual([
      "shard 1 of 3 among the files, got none",
      "shard 3 of 3 among the files, got none",
    ]);
    expect(problems[0].hint).toContain("shard-01-of-03.arrow");
  });

  test("a shard that is there twice", async () => {
    const problems = await refusal([...files, { ...files[1], file: "copy.arrow" }]);
    expect(problems).toHaveLength(1);
    expect(problems[0]).toMatchObject({
      file: "copy.arrow",
      got: "shard 2 of 3, which shard-02-of-03.arrow holds as well",
    });
  });

  test.each([
    ["scenario hash", { changes: { "chain.spacer.length": "40 ±0.006" } }],
    ["seed", { changes: { seed: "another" } }],
    ["samples", { changes: { samples: 2_001 } }],
    ["shards", { shards: 4 }],
    ["rows kept", { keepRows: 30 }],
    ["title", { changes: { title: "Something else" } }],
    ["program version", { maker: { version: "another", platform: "test" } }],
  ] as const)("one of another study: %s", async (what, other) => {
    const {
      changes = {},
      shards = 3,
      keepRows = 0,
      maker = TEST_MAKER,
    } = other as {
      changes?: Record<string, unknown>;
      shards?: number;
      keepRows?: number;
      maker?: typeof TEST_MAKER;
    };
    const strange = await shardBytes(resolved({ samples: 2_000, ...changes }), 2, shards, keepRows, maker);
    const problems = await refusal([files[0], { ...strange, file: "strange.arrow" }, files[2]]);
    expect(problems[0].file).toBe("strange.arrow");
    // A change of seed or samples changes the hash too, which is told first.
    expect(problems[0].expected).toMatch(new RegExp(`${what}|scenario hash|one of 3 shards`));
  });

  test("one that was cut short, wherever, and one that is something else", async () => {
    const { bytes } = files[1];
    for (const length of [0, 3, 8, 100, Math.floor(bytes.length / 2), bytes.length - 1]) {
      const problems = await refusal([files[0], { file: "short.arrow", bytes: bytes.subarray(0, length) }, files[2]]);
      expect(problems[0], `${length} bytes`).toMatchObject({ code: "file", file: "short.arrow" });
    }
    const text = new TextEncoder().encode("title: a scenario\n");
    expect((await refusal([{ file: "x.yaml", bytes: text }]))[0].got).toBe("something else");
  });

  test("one of another layout, by another version of the program: named, with what to do", async () => {
    const text = Buffer.from(files[1].bytes).toString("latin1").replaceAll("seatspread-shard-2", "seatspread-shard-1");
    const problems = await refusal([files[0], { file: "other.arrow", bytes: Buffer.from(text, "latin1") }, files[2]]);
    expect(problems[0]).toMatchObject({
      file: "other.arrow",
      got: `one of layout 1, by version ${TEST_MAKER.version}; this program reads layout 2`,
      hint: expect.stringContaining("Merge with the version that made it"),
    });
  });

  test("one in which a single number was changed, in the counts or in a chunk", async () => {
    const { bytes } = files[0];
    const partial = readShard(bytes, "changed.arrow");
    const chunk = partial.result("chunk 0");
    const mean = chunk.kind === "chunk" ? chunk.moments[0].preloadN.mean : Number.NaN;
    for (const value of [partial.collected.tally.samples, mean]) {
      const changed = Buffer.from(bytes);
      const place = changed.indexOf(Buffer.from(Float64Array.of(value).buffer));
      expect(place).toBeGreaterThan(0);
      changed.set(Buffer.from(Float64Array.of(value * (1 + 2 ** -40)).buffer), place);
      const problems = await refusal([{ file: "changed.arrow", bytes: changed }, files[1], files[2]]);
      expect(problems[0]).toMatchObject({ code: "file", file: "changed.arrow" });
    }
  });
});
