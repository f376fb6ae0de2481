/**
 * Looks through the metadata of an Arrow file or stream before the library reads it: the library trusts every offset and
 * count in it, so that a single bit that was turned can make it read on for ever or ask for all the memory there is.
 *
 * Layouts: Arrow columnar format 1.5, "IPC" with `Schema.fbs`, `Message.fbs` and `File.fbs`; FlatBuffers "Internals".
 */

/** One place in a table: a scalar of so many bytes, text, another table, a vector, or a table of one of several kinds. */
type Slot =
  | 1
  | 2
  | 4
  | 8
  | "text"
  | { readonly table: () => Layout }
  | { readonly rows: number }
  | { readonly tables: () => Layout }
  | { readonly kindAt: number; readonly of: Readonly<Record<number, () => Layout>> };
type Layout = readonly Slot[];

const KEY_VALUE: Layout = ["text", "text"];
const METADATA: Slot = { tables: () => KEY_VALUE };
const INT: Layout = [4, 1];
const NOTHING: Layout = [];
/** Kinds of columns by number: null to the string views; what has no parameters of its own has an empty table. */
const TYPES: Record<number, () => Layout> = Object.fromEntries(
  Array.from({ length: 26 }, (_, at) => [at + 1, () => NOTHING]),
);
const WITH_PARAMETERS: Readonly<Record<number, Layout>> = {
  2: INT,
  3: [2],
  7: [4, 4, 4],
  8: [2],
  9: [2, 4],
  10: [2, "text"],
  11: [2],
  14: [2, { rows: 4 }],
  15: [4],
  16: [4],
  17: [1],
  18: [2],
};
for (const [kind, layout] of Object.entries(WITH_PARAMETERS)) TYPES[Number(kind)] = () => layout;
const DICTIONARY: Layout = [8, { table: () => INT }, 1, 2];
const FIELD: Layout = [
  "text",
  1,
  1,
  { kindAt: 2, of: TYPES },
  { table: () => DICTIONARY },
  { tables: () => FIELD },
  METADATA,
];
const SCHEMA: Layout = [2, { tables: () => FIELD }, METADATA, { rows: 8 }];
const RECORD_BATCH: Layout = [8, { rows: 16 }, { rows: 16 }, { table: () => [1, 1] }, { rows: 8 }];
const DICTIONARY_BATCH: Layout = [8, { table: () => RECORD_BATCH }, 1];
const [SCHEMA_KIND, DICTIONARY_KIND, BATCH_KIND] = [1, 2, 3];
const HEADERS = {
  [SCHEMA_KIND]: () => SCHEMA,
  [DICTIONARY_KIND]: () => DICTIONARY_BATCH,
  [BATCH_KIND]: () => RECORD_BATCH,
};
const MESSAGE: Layout = [2, 1, { kindAt: 1, of: HEADERS }, 8, METADATA];
const FOOTER: Layout = [2, { table: () => SCHEMA }, { rows: 24 }, { rows: 24 }, METADATA];

const MAGIC = "ARROW1";
const MAGIC_ROOM = 8;

class Damage extends Error {}

/** What is wrong with the framing or metadata of an Arrow file or stream; null where nothing is. */
export function arrowDamage(bytes: Uint8Array): string | null {
  try {
    const text = (from: number) => String.fromCharCode(...bytes.subarray(from, from + MAGIC.length));
    if (text(0) === MAGIC) checkFile(bytes, text(bytes.length - MAGIC.length));
    else checkStream(bytes);
    return null;
  } catch (error) {
    if (error instanceof Damage) return error.message;
    throw error;
  }
}

function checkFile(bytes: Uint8Array, end: string): void {
  const footerEnd = bytes.length - MAGIC.length - 4;
  if (end !== MAGIC || footerEnd < MAGIC_ROOM) throw new Damage(`a file that ends after ${bytes.length} bytes`);
  const size = viewOf(bytes).getInt32(footerEnd, true);
  if (size < 8 || size > footerEnd - MAGIC_ROOM) throw new Damage("a footer that is not inside the file");
  const footer = new Tables(bytes.subarray(footerEnd - size, footerEnd));
  const root = footer.root(FOOTER);
  if (footer.place(root, 1) === 0) throw new Damage("a footer without a schema");
  for (const slot of [2, 3]) {
    for (const at of footer.rows(root, slot, 24)) {
      const [offset, head, body] = [footer.long(at), footer.view.getInt32(at + 8, true), footer.long(at + 16)];
      if (!(offset >= MAGIC_ROOM && head >= 8 && body >= 0 && offset + head + body <= footerEnd - size)) {
        throw new Damage("a batch that is not inside the file");
      }
      // The library looks for ever for a batch where a message of another kind stands.
      checkMessage(bytes, offset, offset + head, offset + head + body, slot === 2 ? [DICTIONARY_KIND] : [BATCH_KIND]);
    }
  }
}

function checkStream(bytes: Uint8Array): void {
  for (let at = 0; at < bytes.length; ) {
    if (at + 8 > bytes.length) throw new Damage(`a stream that ends after ${bytes.length} bytes`);
    const size = viewOf(bytes).getInt32(at + 4, true);
    if (size === 0) return;
    if (size < 0 || at + 8 + size > bytes.length) throw new Damage("a message that is not inside the stream");
    at = checkMessage(bytes, at, at + 8 + size, bytes.length, at === 0 ? [SCHEMA_KIND] : [DICTIONARY_KIND, BATCH_KIND]);
  }
}

/**
 * @param kinds that may stand here
 * @returns where its body ends
 */
function checkMessage(bytes: Uint8Array, from: number, to: number, end: number, kinds: readonly number[]): number {
  const view = viewOf(bytes);
  const size = view.getInt32(from + 4, true);
  if (view.getInt32(from, true) !== -1 || size < 8 || from + 8 + size > to)
    throw new Damage("a message without its mark");
  const message = new Tables(bytes.subarray(from + 8, from + 8 + size));
  const root = message.root(MESSAGE);
  const bodyAt = message.place(root, 3);
  const body = bodyAt === 0 ? 0 : message.long(bodyAt);
  if (!(body >= 0 && to + body <= end)) throw new Damage("a body that is not inside the file");
  const [headerAt, kind] = [message.place(root, 2), message.byte(message.place(root, 1))];
  if (headerAt === 0 || !kinds.includes(kind)) throw new Damage("a message of another kind than belongs there");
  const header = message.follow(headerAt);
  if (kind === BATCH_KIND) checkBatch(message, header, body, 8 * bytes.length);
  if (kind === DICTIONARY_KIND) {
    const valuesAt = message.place(header, 1);
    if (valuesAt === 0) throw new Damage("a dictionary without values");
    checkBatch(message, message.follow(valuesAt), body, 8 * bytes.length);
  }
  return to + body;
}

/** @param mostRows no row takes less than a bit, so that more of them are the mark of a damaged count */
function checkBatch(message: Tables, batch: number, body: number, mostRows: number): void {
  const isCount = (value: number) => value >= 0 && value <= mostRows;
  const rowsAt = message.place(batch, 0);
  if (rowsAt !== 0 && !isCount(message.long(rowsAt))) throw new Damage("more rows than there can be");
  if (message.place(batch, 3) !== 0) throw new Damage("a compressed file, which is not read");
  for (const at of message.rows(batch, 1, 16)) {
    if (!isCount(message.long(at)) || !isCount(message.long(at + 8))) throw new Damage("more values than there can be");
  }
  for (const at of message.rows(batch, 2, 16)) {
    const [offset, length] = [message.long(at), message.long(at + 8)];
    if (!(offset >= 0 && length >= 0 && offset + length <= body))
      throw new Damage("a column that is not inside its batch");
  }
}

function viewOf(bytes: Uint8Array): DataView {
  return new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
}

/** The tables in one piece of metadata, each looked at before anything is read from it. */
class Tables {
  readonly view: DataView;
  /** Tables that share parts can be many more than there are bytes: what has that many is refused. */
  #left: number;

  constructor(bytes: Uint8Array) {
    this.view = viewOf(bytes);
    this.#left = bytes.length;
  }

  /** Checks everything from the root on. */
  root(layout: Layout): number {
    const root = this.follow(0);
    this.#check(root, layout);
    return root;
  }

  byte(at: number): number {
    return at === 0 ? 0 : this.view.getUint8(at);
  }

  long(at: number): number {
    return Number(this.view.getBigInt64(at, true));
  }

  /** Where an offset leads: always forwards. */
  follow(at: number): number {
    this.#room(at, 4);
    const to = at + this.view.getInt32(at, true);
    if (to <= at) throw new Damage("metadata that leads backwards");
    this.#room(to, 4);
    return to;
  }

  /** Where the value of a slot stands; 0 where the table has none. */
  place(table: number, slot: number): number {
    const fields = table - this.view.getInt32(table, true);
    const at = 4 + 2 * slot;
    if (at + 2 > this.view.getUint16(fields, true)) return 0;
    const offset = this.view.getUint16(fields + at, true);
    return offset === 0 ? 0 : table + offset;
  }

  /** Places of the rows of a vector that has been checked. */
  *rows(table: number, slot: number, size: number): Generator<number> {
    const at = this.place(table, slot);
    if (at === 0) return;
    const vector = this.follow(at);
    const count = this.view.getInt32(vector, true);
    for (let row = 0; row < count; row += 1) yield vector + 4 + row * size;
  }

  #room(at: number, size: number): void {
    if (!(at >= 0 && size >= 0 && at + size <= this.view.byteLength))
      throw new Damage("metadata that leads out of itself");
  }

  #check(table: number, layout: Layout): void {
    this.#left -= 1;
    if (this.#left < 0) throw new Damage("metadata that is wound up");
    const fields = table - this.view.getInt32(table, true);
    this.#room(fields, 4);
    const [fieldsSize, size] = [this.view.getUint16(fields, true), this.view.getUint16(fields + 2, true)];
    this.#room(fields, fieldsSize);
    this.#room(table, size);
    if (fieldsSize < 4 || fieldsSize % 2 !== 0 || size < 4) throw new Damage("metadata without a layout");
    layout.forEach((slot, index) => {
      const at = this.place(table, index);
      if (at === 0) return;
      const width = typeof slot === "number" ? slot : 4;
      if (at + width > table + size) throw new Damage("metadata that leads out of itself");
      if (typeof slot !== "number") this.#checkSlot(at, slot, table);
    });
  }

  #checkSlot(at: number, slot: Exclude<Slot, number>, table: number): void {
    const to = this.follow(at);
    if (slot === "text" || "rows" in slot) this.#vector(to, slot === "text" ? 1 : slot.rows);
    else if ("table" in slot) this.#check(to, slot.table());
    else if ("tables" in slot) {
      const count = this.#vector(to, 4);
      for (let row = 0; row < count; row += 1) this.#check(this.follow(to + 4 + 4 * row), slot.tables());
    } else {
      const layout = slot.of[this.byte(this.place(table, slot.kindAt))];
      if (layout === undefined) throw new Damage("metadata of an unknown kind");
      this.#check(to, layout());
    }
  }

  #vector(at: number, size: number): number {
    const count = this.view.getInt32(at, true);
    this.#room(at + 4, count < 0 ? -1 : count * size);
    return count;
  }
}
