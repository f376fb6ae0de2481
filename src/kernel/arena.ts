import { InternalError } from "../errors.ts";

/** Memory of the fast kernel, 64 MB: only what is touched is ever given real pages. */
const PAGES = 1024;
const PAGE_BYTES = 65_536;
const ALIGNMENT = 64;

/** Columns in one WebAssembly memory that never grows, so that views of it stay good. Allocated like a stack. */
export class Arena {
  readonly memory = new WebAssembly.Memory({ initial: PAGES, maximum: PAGES });
  private top: number;

  /** @param start first byte that columns may use */
  constructor(start: number) {
    this.top = start;
  }

  column(size: number): Float64Array {
    // Kernels work on two at a time: an odd column has one more behind it.
    const even = size + (size & 1);
    return new Float64Array(this.memory.buffer, this.take(8 * even), even).fill(0).subarray(0, size);
  }

  bytes(size: number): Uint8Array {
    return new Uint8Array(this.memory.buffer, this.take(size + 1), size).fill(0);
  }

  words(size: number): Uint16Array {
    return new Uint16Array(this.memory.buffer, this.take(2 * size + 2), size).fill(0);
  }

  mark(): () => void {
    const before = this.top;
    return () => {
      this.top = before;
    };
  }

  scoped<T>(work: () => T): T {
    const release = this.mark();
    try {
      return work();
    } finally {
      release();
    }
  }

  /** Address of a column of this memory. */
  at(column: Float64Array | Uint8Array | Uint16Array): number {
    if (column.buffer !== this.memory.buffer)
      throw new InternalError("a column of another kernel was given to this one");
    return column.byteOffset;
  }

  private take(byteCount: number): number {
    const start = this.top;
    this.top += Math.ceil(byteCount / ALIGNMENT) * ALIGNMENT;
    if (this.top > PAGES * PAGE_BYTES) throw new InternalError("the columns of this scenario do not fit into memory");
    return start;
  }
}
