/** What a scenario says of a file with measured values. */
export interface MeasuredFileRequest {
  /** As written: relative to the scenario. */
  readonly file: string;
  readonly column?: string;
  readonly separator?: string;
  readonly decimal?: string;
  readonly unit?: string;
}

/** Values as a scenario would write them, each with its unit, and where they come from in words. */
export interface MeasuredFileValues {
  readonly values: readonly string[];
  readonly from: string;
}

/**
 * Reads a file of measured values: whoever knows of files gives it to the parser.
 *
 * @throws InputError for a file or column that cannot be read
 */
export type MeasuredFileReader = (request: MeasuredFileRequest) => MeasuredFileValues;

/** A copy of a scenario's content with every `measuredFile` replaced by the values in it. Wrong shapes are left for the checks. */
export function expandMeasuredFiles(content: unknown, read: MeasuredFileReader | null): unknown {
  if (read === null || content === null || typeof content !== "object") return content;
  if (Array.isArray(content)) return content.map((part) => expandMeasuredFiles(part, read));
  const group = content as Record<string, unknown>;
  const request = requestOf(group);
  if (request === null) {
    return Object.fromEntries(Object.entries(group).map(([key, part]) => [key, expandMeasuredFiles(part, read)]));
  }
  const { measuredFile: _, column: __, ...rest } = group;
  const { values, from } = read(request);
  return { ...rest, measured: values, from: rest.from ?? from };
}

function requestOf({ measuredFile, column }: Record<string, unknown>): MeasuredFileRequest | null {
  const isText = (value: unknown): value is string => typeof value === "string";
  if (isText(measuredFile)) return { file: measuredFile, column: isText(column) ? column : undefined };
  if (measuredFile === null || typeof measuredFile !== "object" || Array.isArray(measuredFile)) return null;
  const known = ["file", "column", "separator", "decimal", "unit"];
  const parts = Object.entries(measuredFile);
  if (!parts.every(([key, value]) => known.includes(key) && isText(value))) return null;
  const { file, ...options } = Object.fromEntries(parts) as Record<string, string>;
  return file === undefined ? null : { column: isText(column) ? column : undefined, ...options, file };
}
