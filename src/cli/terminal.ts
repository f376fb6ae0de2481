import { wrapLines } from "../report/plain-table.ts";
import type { Warning } from "../warnings.ts";

/** How wide the terminal is and whether it shows colours; NO_COLOR and pipes are honoured. */
export function terminal(): { color: boolean; width: number } {
  const { stdout, env } = process;
  return {
    color: stdout.isTTY === true && env.NO_COLOR === undefined && env.TERM !== "dumb",
    width: stdout.columns ?? 100,
  };
}

/** One line of text without control characters: what stands in a file must not steer the terminal. */
function plainLine(text: string): string {
  return text.replace(/[\p{Cc}\p{Zl}\p{Zp}]+/gu, " ");
}

/** Prints warnings on stderr: one line each, or, on a terminal, in lines that fit it. */
export function printNotes(warnings: readonly Warning[]): void {
  for (const { path, message } of warnings) printNote(`${path === "" ? "" : `${path}: `}${message}`);
}

export function printNote(text: string): void {
  process.stderr.write(`${fittedLine(`note: ${text}`)}\n`);
}

/** One line for stderr; on a terminal it is wrapped to its width, what follows a little further in. */
export function fittedLine(text: string): string {
  const { isTTY, columns } = process.stderr;
  const line = plainLine(text);
  if (isTTY !== true) return line;
  return wrapLines(line, Math.max(24, Math.min(columns ?? 80, 100)) - 2).join("\n  ");
}
