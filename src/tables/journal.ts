import { pack, unpack } from "./packed.ts";

/**
 * A file that only grows: one entry behind the other, each with a name and plain data whose numbers keep every bit. An
 * entry is four words of 32 bits (bytes of its text, how many numbers, a checksum, zero), its text in UTF-8 filled up to
 * eight bytes, and its numbers as 64-bit floats. The text is JSON: `[name, shape]`, the shape in words the first time and
 * by its place among the earlier ones from then on. The checksum goes on from that of the entry before, so that entries
 * that were changed, lost or swapped are noticed. Words and numbers are little-endian, as in every runtime that there is.
 */
const HEAD_BYTES = 16;

/** An entry that is larger than this is the mark of damage. */
const MOST_BYTES = 1_000_000_000;

export interface Entry {
  readonly name: string;
  readonly value: unknown;
}

/** Where a journal stands: what its next entry builds on. */
export class JournalEnd {
  bytes = 0;
  check = 0x811c9dc5;
  readonly shapes: string[] = [];
}

/** The bytes of the next entry; moves `end` behind it. */
export function encodeEntry(end: JournalEnd, { name, value }: Entry): Uint8Array {
  const { shape, numbers } = pack(value);
  const known = end.shapes.indexOf(shape);
  if (known < 0) end.shapes.push(shape);
  const text = new TextEncoder().encode(JSON.stringify([name, known < 0 ? shape : known]));
  const room = 8 * Math.ceil(text.length / 8);
  const bytes = new Uint8Array(HEAD_BYTES + room + numbers.byteLength);
  bytes.set(text, HEAD_BYTES);
  bytes.set(new Uint8Array(numbers.buffer, numbers.byteOffset, numbers.byteLength), HEAD_BYTES + room);
  const head = new Uint32Array(bytes.buffer, 0, 4);
  head[0] = text.length;
  head[1] = numbers.length;
  end.check = checkOf(end.check, bytes);
  head[2] = end.check;
  end.bytes += bytes.length;
  return bytes;
}

/** Something that bytes are read from; fewer than asked for where it ends. */
export type ReadBytes = (at: number, count: number) => Uint8Array;

/**
 * The next entry; moves `end` behind it.
 *
 * @returns null where the bytes end early or are not those that were written
 */
export function decodeEntry(end: JournalEnd, read: ReadBytes): Entry | null {
  // Copies, so that words and numbers stand where typed arrays can have them.
  const head = new Uint8Array(read(end.bytes, HEAD_BYTES));
  if (head.length < HEAD_BYTES) return null;
  const [textBytes, numberCount, check] = new Uint32Array(head.buffer);
  const room = 8 * Math.ceil(textBytes / 8);
  const size = HEAD_BYTES + room + 8 * numberCount;
  if (size > MOST_BYTES) return null;
  const bytes = new Uint8Array(read(end.bytes, size));
  if (bytes.length < size) return null;
  new Uint32Array(bytes.buffer, 0, 4)[2] = 0;
  if (checkOf(end.check, bytes) !== check) return null;
  const text = new TextDecoder().decode(bytes.subarray(HEAD_BYTES, HEAD_BYTES + textBytes));
  const [name, known] = JSON.parse(text) as [string, string | number];
  if (typeof known === "string") end.shapes.push(known);
  const shape = typeof known === "string" ? known : end.shapes[known];
  end.bytes += size;
  end.check = check;
  return { name, value: unpack({ shape, numbers: new Float64Array(bytes.buffer, HEAD_BYTES + room, numberCount) }) };
}

/** FNV-1a over the 32-bit words. */
function checkOf(before: number, bytes: Uint8Array): number {
  let sum = before;
  for (const word of new Uint32Array(bytes.buffer, bytes.byteOffset, bytes.length / 4)) {
    sum = Math.imul(sum ^ word, 0x01000193);
  }
  return sum >>> 0;
}
