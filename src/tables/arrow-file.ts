import {
  AsyncByteQueue,
  type DataType,
  type Field,
  Float64,
  makeData,
  RecordBatch,
  RecordBatchFileWriter,
  type Schema,
  Struct,
} from "apache-arrow";
import { InternalError } from "../errors.ts";

/** What one column of a batch hands over: plain numbers, text as offsets into UTF-8 bytes, or a list of numbers a row. */
export type ColumnData =
  | { readonly kind: "numbers"; readonly values: Float64Array | Uint8Array | Uint16Array }
  | { readonly kind: "text"; readonly values: readonly string[] }
  | { readonly kind: "lists"; readonly values: readonly Float64Array[] };

/** Hands every chunk on as it comes instead of queueing it, so that a file of any length needs the memory of one batch. */
class DirectSink extends AsyncByteQueue<Uint8Array> {
  private readonly handOn: (bytes: Uint8Array) => void;

  constructor(handOn: (bytes: Uint8Array) => void) {
    super();
    this.handOn = handOn;
  }

  override write(chunk: ArrayBufferLike | ArrayBufferView | Uint8Array): void {
    const bytes = ArrayBuffer.isView(chunk)
      ? new Uint8Array(chunk.buffer, chunk.byteOffset, chunk.byteLength)
      : new Uint8Array(chunk);
    if (bytes.byteLength > 0) this.handOn(bytes);
  }
}

/** An Arrow file being written, batch by batch. */
export interface ArrowFile {
  append(columns: readonly ColumnData[], rowCount: number): void;
  /** Writes the footer; without it no reader opens the file. */
  close(): void;
}

/**
 * Opens an Arrow IPC file (the random-access format, uncompressed: the library's compressed output is malformed).
 *
 * @param schema fields in the order of the columns; in a nullable one, a number that is none (NaN or infinite) is written as null
 * @param write takes the bytes in order; it must be done with them when it returns, because buffers are used again
 */
export function openArrowFile(schema: Schema, write: (bytes: Uint8Array) => void): ArrowFile {
  const writer = new RecordBatchFileWriter();
  writer.reset(new DirectSink(write) as never, schema);
  let open = true;
  return {
    append(columns, rowCount) {
      if (!open) throw new InternalError("a batch was appended to an Arrow file that is closed");
      checkLengths(schema, columns, rowCount);
      if (rowCount === 0) return;
      const children = schema.fields.map((field, index) => columnData(field, columns[index] as ColumnData, rowCount));
      const data = makeData({ type: new Struct(schema.fields), length: rowCount, nullCount: 0, children });
      writer.write(new RecordBatch(schema, data) as RecordBatch<Record<string, DataType>>);
    },
    close() {
      if (!open) return;
      open = false;
      writer.close();
    },
  };
}

/** Arrow pads columns of unequal length silently; a result with a column cut short must never be written. */
function checkLengths(schema: Schema, columns: readonly ColumnData[], rowCount: number): void {
  if (columns.length !== schema.fields.length) {
    throw new InternalError(
      `an Arrow batch has ${columns.length} columns where ${schema.fields.length} were announced`,
    );
  }
  for (const [index, column] of columns.entries()) {
    if (column.values.length !== rowCount) {
      const name = (schema.fields[index] as Field).name;
      throw new InternalError(`column ${name} has ${column.values.length} values in a batch of ${rowCount} rows`);
    }
  }
}

function columnData(field: Field, column: ColumnData, length: number) {
  if (column.kind === "numbers") {
    const nulls = field.nullable ? nullsOf(column.values) : { nullCount: 0 };
    return makeData({ type: field.type as never, length, ...nulls, data: column.values as never });
  }
  if (column.kind === "lists") return listData(field, column.values, length);
  const encoder = new TextEncoder();
  const pieces = column.values.map((value) => encoder.encode(value));
  const valueOffsets = new Int32Array(length + 1);
  for (const [index, piece] of pieces.entries()) valueOffsets[index + 1] = (valueOffsets[index] ?? 0) + piece.length;
  const data = new Uint8Array(valueOffsets[length] ?? 0);
  for (const [index, piece] of pieces.entries()) data.set(piece, valueOffsets[index]);
  return makeData({ type: field.type as never, length, nullCount: 0, valueOffsets, data } as never);
}

/** One bit a value, the first lowest, set where there is one; none of it where every value is there. */
function nullsOf(values: ArrayLike<number>): { readonly nullCount: number; readonly nullBitmap?: Uint8Array } {
  const nullBitmap = new Uint8Array(Math.ceil(values.length / 8));
  let there = 0;
  for (let row = 0; row < values.length; row++) {
    if (!Number.isFinite(values[row])) continue;
    nullBitmap[row >> 3] |= 1 << (row & 7);
    there += 1;
  }
  return there === values.length ? { nullCount: 0 } : { nullCount: values.length - there, nullBitmap };
}

function listData(field: Field, values: readonly Float64Array[], length: number) {
  const valueOffsets = new Int32Array(length + 1);
  for (const [index, list] of values.entries()) valueOffsets[index + 1] = (valueOffsets[index] ?? 0) + list.length;
  const total = valueOffsets[length] ?? 0;
  const data = new Float64Array(total);
  for (const [index, list] of values.entries()) data.set(list, valueOffsets[index]);
  const child = makeData({ type: new Float64(), length: total, nullCount: 0, data });
  return makeData({ type: field.type as never, length, nullCount: 0, valueOffsets, child } as never);
}
