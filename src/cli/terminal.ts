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
export function plainLine(text: string): string {
  return text.replace(/[\p{Cc}\p{Zl}\p{Zp}]+/gu, " ");
}

/** Prints warnings on stderr, one line each. */
export function printNotes(warnings: readonly Warning[]): void {
  for (const { path, message } of warnings) printNote(`${path === "" ? "" : `${path}: `}${message}`);
}

export function printNote(text: string): void {
  process.stderr.write(`note: ${plainLine(text)}\n`);
}
