/**
 * The closed list of unit suffixes. A numeric field, parameter or column carries one of them at the end of its name; nothing else may look
 * like a unit. `Um` and `Deg` stand only where a person reads or writes.
 */
export const UNIT_SUFFIXES = {
  Mm: "mm",
  Mm2: "mm²",
  Um: "µm",
  N: "N",
  NPerMm: "N/mm",
  NPerUm: "N/µm",
  MmPerN: "mm/N",
  NMm: "N·mm",
  NMmPerRad: "N·mm/rad",
  MPa: "MPa",
  C: "°C",
  RiseK: "K",
  K: "K",
  PerK: "1/K",
  W: "W",
  WPerK: "W/K",
  Mm2PerS: "mm²/s",
  PerMin: "1/min",
  KgPerM3: "kg/m³",
  H: "h",
  Years: "a",
  Rad: "rad",
  Deg: "°",
  PerMm: "1/mm",
  MRev: "10⁶ rev",
  Ratio: "1",
  Ppm: "ppm",
} as const satisfies Readonly<Record<string, string>>;

export type UnitSuffix = keyof typeof UNIT_SUFFIXES;

const LONGEST_FIRST = (Object.keys(UNIT_SUFFIXES) as UnitSuffix[]).sort((a, b) => b.length - a.length);

/** The suffix of a camelCase name, or null: `offsetMm` → `Mm`, `sectionAreaMm2` → `Mm2`, `sampleCount` → null. */
export function unitSuffixOf(name: string): UnitSuffix | null {
  for (const suffix of LONGEST_FIRST) {
    const start = name.length - suffix.length;
    if (start > 0 && name.endsWith(suffix) && /[a-z0-9]/.test(name[start - 1])) return suffix;
  }
  return null;
}
