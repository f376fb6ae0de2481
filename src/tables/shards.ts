import { DataType, Field, Float64, List, Schema, Uint16, Utf8 } from "apache-arrow";
import { InputError, InternalError } from "../errors.ts";
import type { ShardPartial } from "../studies/shards/partial.ts";
import { MOST_SHARDS } from "../studies/shards/plan.ts";
import { openArrowFile } from "./arrow-file.ts";
import { openArrow } from "./open-arrow.ts";
import { checksum, pack, unpack } from "./packed.ts";
import { sampleMetadata } from "./samples.ts";

/** Layout of the file; another one is not read. */
const LAYOUT = "seatspread-shard-";
const LAYOUT_VERSION = 2;
const FORMAT = `${LAYOUT}${LAYOUT_VERSION}`;
const MAGIC = "ARROW1";
const ROWS_PER_BATCH = 512;

/** Entry of the metadata with the checksum of the others. */
const CHECK = "metadataCheck";

/** Rows beside those of the tasks. */
const SCENARIO = "scenario";
const COLLECTED = "counts";

/**
 * Writes the partial result of one shard: one row a part, with its numbers as a list and what they belong to as an index
 * into `shapes` of the schema's metadata. The first rows are the scenario and the whole-number counts; the others are
 * named by task: `chunk 17`, `contributors 2`, `conditional 5 0`, `batches 10`.
 *
 * @param write takes the bytes in order and is done with them when it returns
 */
export function writeShard(partial: ShardPartial, write: (bytes: Uint8Array) => void): void {
  const shapes = new Map<string, number>();
  const rows = [
    { part: SCENARIO, value: partial.scenario as unknown },
    { part: COLLECTED, value: partial.collected as unknown },
    ...partial.keys.map((key) => ({ part: key, value: partial.result(key) as unknown })),
  ].map(({ part, value }) => {
    const { shape, numbers } = pack(value);
    if (!shapes.has(shape)) shapes.set(shape, shapes.size);
    return { part, shape: shapes.get(shape)!, numbers };
  });
  if (shapes.size > 0xffff) throw new InternalError(`${shapes.size} shapes in a partial result`);
  const described = (description: string) => new Map([["description", description]]);
  const fields = [
    new Field("part", new Utf8(), false, described("which part of the study")),
    new Field("shape", new Uint16(), false, described("what the numbers belong to: index into shapes of the metadata")),
    new Field("check", new Float64(), false, described("checksum of the numbers: FNV-1a, 32 bits")),
    new Field("numbers", new List(new Field("item", new Float64(), false)), false, described("numbers in order")),
  ];
  const metadata = {
    ...sampleMetadata(partial.provenance),
    format: FORMAT,
    shard: String(partial.shard),
    shards: String(partial.shards),
    keepRows: String(partial.keepRows),
    parts: String(rows.length),
    shapes: JSON.stringify([...shapes.keys()]),
  };
  const checked = new Map([...Object.entries(metadata), [CHECK, String(checkOf(new Map(Object.entries(metadata))))]]);
  const file = openArrowFile(new Schema(fields, checked), write);
  for (let first = 0; first < rows.length; first += ROWS_PER_BATCH) {
    const batch = rows.slice(first, first + ROWS_PER_BATCH);
    file.append(
      [
        { kind: "text", values: batch.map(({ part }) => part) },
        { kind: "numbers", values: Uint16Array.from(batch, ({ shape }) => shape) },
        { kind: "numbers", values: Float64Array.from(batch, ({ numbers }) => checksum(numbers)) },
        { kind: "lists", values: batch.map(({ numbers }) => numbers) },
      ],
      batch.length,
    );
  }
  file.close();
}

/**
 * Reads the partial result of a shard; the parts are put together one by one as they are asked for.
 *
 * @param fileName as the user named it: stands in front of every problem
 * @throws InputError for anything but a whole file of this format
 */
export function readShard(bytes: Uint8Array, fileName: string): ShardPartial {
  const refuse = (got: string, hint?: string): never => {
    throw new InputError({
      code: "file",
      path: "",
      expected: "the whole partial result of a shard",
      got,
      hint,
      file: fileName,
    });
  };
  const text = (from: number) => String.fromCharCode(...bytes.subarray(from, from + MAGIC.length));
  if (bytes.length === 0 || text(0) !== MAGIC.slice(0, bytes.length)) return refuse("something else");
  const again = "It was cut short: run this shard again";
  if (text(bytes.length - MAGIC.length) !== MAGIC || bytes.length < 2 * MAGIC.length) {
    return refuse(`a file that ends after ${bytes.length} bytes`, again);
  }
  const table = openArrow(bytes);
  if (typeof table === "string") return refuse(`a damaged file: ${table}`, again);
  const metadata = table.schema.metadata;
  const field = (key: string): string => metadata.get(key) ?? "";
  const format = field("format");
  if (format.startsWith(LAYOUT) && format !== FORMAT) {
    return refuse(
      `one of layout ${format.slice(LAYOUT.length)}, by version ${field("programVersion")}; this program reads layout ${LAYOUT_VERSION}`,
      "Merge with the version that made it, or run all shards again with this one",
    );
  }
  if (format !== FORMAT) return refuse("another kind of Arrow file");
  if (Number(field(CHECK)) !== checkOf(metadata)) return refuse("damaged metadata", again);
  if (Number(field("parts")) !== table.numRows) return refuse(`${table.numRows} of ${field("parts")} parts`, again);
  const [shard, shards] = [Number(field("shard")), Number(field("shards"))];
  if (!(shard >= 1 && shard <= shards && shards <= MOST_SHARDS)) {
    return refuse(`shard ${field("shard")} of ${field("shards")}`, again);
  }
  const columns = ["part", "shape", "check", "numbers"].map((name) => table.getChild(name));
  const isKind = [DataType.isUtf8, DataType.isInt, DataType.isFloat, DataType.isList];
  if (!columns.every((column, place) => isKind[place](column?.type))) return refuse("other columns", again);
  const [parts, shape, check, numbers] = columns as NonNullable<(typeof columns)[number]>[];
  const shapes = JSON.parse(field("shapes")) as string[];
  const places = new Map<string, number>();
  for (let row = 0; row < table.numRows; row += 1) places.set(String(parts.get(row)), row);
  const read = (part: string): unknown => {
    const row = places.get(part);
    if (row === undefined) return refuse(`nothing under "${part}"`, again);
    try {
      const own = numbers.get(row).toArray() as Float64Array;
      if (checksum(own) === check.get(row)) return unpack({ shape: shapes[shape.get(row)], numbers: own });
    } catch {
      // Told below: whatever the reason, the part is not what was written.
    }
    return refuse(`a damaged part "${part}"`, again);
  };
  return {
    provenance: {
      program: field("program"),
      version: field("programVersion"),
      streamVersion: Number(field("streamVersion")),
      catalogueVersion: field("catalogueVersion"),
      schemaVersion: Number(field("schemaVersion")),
      resultVersion: Number(field("resultVersion")),
      scenario: field("scenario"),
      scenarioHash: field("scenarioHash"),
      seed: field("seed"),
      samples: Number(field("samples")),
      platform: field("platform"),
    },
    shard,
    shards,
    keepRows: Number(field("keepRows")),
    scenario: read(SCENARIO) as ShardPartial["scenario"],
    collected: read(COLLECTED) as ShardPartial["collected"],
    keys: [...places.keys()].filter((part) => part !== SCENARIO && part !== COLLECTED),
    result: (key) => read(key) as ReturnType<ShardPartial["result"]>,
  };
}

/** Checksum of everything in the metadata but the checksum itself. */
function checkOf(metadata: ReadonlyMap<string, string>): number {
  const text = JSON.stringify([...metadata].filter(([key]) => key !== CHECK));
  return checksum(Float64Array.from(new TextEncoder().encode(text)));
}
