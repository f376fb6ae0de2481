/** Text that breaks out of markup wherever it is put in unescaped. */
export const HOSTILE = `<script>alert(1)</script>"'><img src=x onerror=alert(2)>&amp;</style><svg onload=alert(3)>\u0000\u001b[31m`;

/** The same object with the hostile text at the end of every string, except where a fixed set of words must stand. */
export function poisoned<T>(value: T, keep: ReadonlySet<string>, key = ""): T {
  if (typeof value === "string") return (keep.has(key) ? value : `${value}${HOSTILE}`) as T;
  if (Array.isArray(value)) return value.map((item) => poisoned(item, keep, key)) as T;
  if (ArrayBuffer.isView(value) || typeof value !== "object" || value === null) return value;
  return Object.fromEntries(Object.entries(value).map(([name, item]) => [name, poisoned(item, keep, name)])) as T;
}
