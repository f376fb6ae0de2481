// What the loops over two samples at a time have in common.

/** Bytes of a column of doubles; an odd count has one more double behind it. */
export function bytes(count: i32): usize {
  return (<usize>((count + 1) >> 1)) << 4;
}

/** Raises a flag of two samples where their bits are set; `at` is their place in a column of doubles. */
export function raise(flags: usize, at: usize, bits: i32, flag: i32): void {
  const word = flags + (at >> 2);
  store<u32>(word, load<u32>(word) | ((bits & 1) * flag) | ((bits >> 1) * (flag << 16)));
}
