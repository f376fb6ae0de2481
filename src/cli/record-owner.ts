import { readFileSync, writeFileSync } from "node:fs";
import { errorCode, isRunning, removeQuietly } from "./disk.ts";

/** Says who writes in a folder: the number of the process and when it started, since numbers are given out again. */
export function claim(path: string): void {
  writeFileSync(path, `${process.pid} ${startOf(process.pid)}\n`);
}

export function release(path: string): void {
  removeQuietly(path);
}

/** Whether a process that still runs, other than this one, writes in a folder. */
export function isClaimed(path: string): boolean {
  let text: string;
  try {
    text = readFileSync(path, "utf8");
  } catch (error) {
    return errorCode(error) !== "ENOENT";
  }
  const [pid, start] = text.trim().split(" ");
  if (!/^\d+$/.test(pid) || Number(pid) === process.pid) return false;
  return isRunning(Number(pid)) && startOf(Number(pid)) === start;
}

/** When a process started, in ticks since the system did; "unknown" where the system does not tell. */
function startOf(pid: number): string {
  try {
    // The name in parentheses may hold blanks; the 20th word behind it is the start.
    const text = readFileSync(`/proc/${pid}/stat`, "utf8");
    return text.slice(text.lastIndexOf(")") + 2).split(" ")[19];
  } catch {
    return "unknown";
  }
}
