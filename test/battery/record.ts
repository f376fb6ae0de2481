/** What a battery of tests said of the random numbers, kept beside them. */
export interface BatteryRecord {
  /** Of the streams that were tested. */
  readonly streamVersion: number;
  readonly battery: string;
  readonly node: string;
  readonly processor: string;
  /** By the clock, whatever else the machine did. */
  readonly minutes: number;
  /** What each order of reading is about. */
  readonly orders: Readonly<Record<string, string>>;
  readonly results: readonly TestResult[];
}

/** One p-value. */
export interface TestResult {
  readonly order: string;
  readonly test: string;
  readonly tuple: number;
  readonly samples: number;
  readonly repeats: number;
  /** Chance of a distance as large, of its own p-values from uniform (Kolmogorov-Smirnov), were the numbers random. */
  readonly p: number;
  readonly assessment: "PASSED" | "WEAK" | "FAILED";
}
