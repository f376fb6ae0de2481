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

/** Every column of a file; cells may be empty where fewer readings were taken. */
export interface MeasuredTableValues {
  readonly columns: readonly { readonly name: string; readonly values: readonly string[] }[];
  readonly from: string;
}

/**
 * Reads files of measured values: whoever knows of files gives it to the parser.
 *
 * Both throw InputError for a file or column that cannot be read.
 */
export interface MeasuredFileReader {
  column(request: MeasuredFileRequest): MeasuredFileValues;
  table(request: MeasuredFileRequest): MeasuredTableValues;
}

/** What a file held when it was read: one column of it, or all of them. */
export type MeasuredTable =
  | { readonly kind: "column"; readonly request: MeasuredFileRequest; readonly values: MeasuredFileValues }
  | { readonly kind: "table"; readonly request: MeasuredFileRequest; readonly values: MeasuredTableValues };

type Group = Record<string, unknown>;

/**
 * A copy of a scenario's content with the values of its files in place of their names: `measuredFile` of a quantity and
 * `readingsFile` of the audit. Wrong shapes are left for the checks.
 */
export function expandMeasuredFiles(content: unknown, reader: MeasuredFileReader | null): unknown {
  if (reader === null || !isGroup(content)) return content;
  const expanded = expandColumns(content, reader) as Group;
  const audit = expanded.audit;
  const request = isGroup(audit) ? requestOf(audit.readingsFile, undefined) : null;
  return request === null ? expanded : { ...expanded, audit: withReadings(audit as Group, request, reader) };
}

function expandColumns(content: unknown, reader: MeasuredFileReader): unknown {
  if (Array.isArray(content)) return content.map((part) => expandColumns(part, reader));
  if (!isGroup(content)) return content;
  const request = requestOf(content.measuredFile, content.column);
  if (request === null) {
    return Object.fromEntries(Object.entries(content).map(([key, part]) => [key, expandColumns(part, reader)]));
  }
  const { measuredFile: _, column: __, ...rest } = content;
  const { values, from } = reader.column(request);
  return { ...rest, measured: values, from: rest.from ?? from };
}

/** Columns named `play a`, `play b` and `play pair` are plays, the others readings; what the scenario says of them stays. */
function withReadings(audit: Group, request: MeasuredFileRequest, reader: MeasuredFileReader): Group {
  const { readingsFile: _, ...rest } = audit;
  const { columns, from } = reader.table(request);
  const readings = Array.isArray(rest.readings) ? rest.readings.filter(isGroup) : [];
  const play: Group = isGroup(rest.play) ? { ...rest.play } : {};
  for (const { name, values } of columns) {
    const key = /^play (a|b|pair)$/.exec(name)?.[1];
    if (key !== undefined) {
      play[key] = { ...(isGroup(play[key]) ? play[key] : {}), values };
      continue;
    }
    const place = readings.findIndex((entry) => entry.name === name);
    if (place < 0) readings.push({ name, values });
    else readings[place] = { ...readings[place], values };
  }
  return { ...rest, readings, ...(Object.keys(play).length > 0 ? { play } : {}), from: rest.from ?? from };
}

function isGroup(value: unknown): value is Group {
  return value !== null && typeof value === "object" && !Array.isArray(value);
}

function requestOf(written: unknown, column: unknown): MeasuredFileRequest | null {
  const isText = (value: unknown): value is string => typeof value === "string";
  const named = isText(column) ? { column } : {};
  if (isText(written)) return { file: written, ...named };
  if (!isGroup(written)) return null;
  const known = ["file", "column", "separator", "decimal", "unit"];
  const parts = Object.entries(written);
  if (!parts.every(([key, value]) => known.includes(key) && isText(value))) return null;
  const { file, ...options } = Object.fromEntries(parts) as Record<string, string>;
  return file === undefined ? null : { ...named, ...options, file };
}
