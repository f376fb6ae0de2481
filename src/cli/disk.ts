import {
  closeSync,
  existsSync,
  mkdirSync,
  openSync,
  renameSync,
  rmdirSync,
  rmSync,
  statSync,
  writeFileSync,
  writeSync,
} from "node:fs";
import { basename, dirname, join } from "node:path";
import { InputError } from "../errors.ts";

/** What the system calls an error, such as ENOSPC; anything else in its own words. */
export function errorCode(error: unknown): string {
  return error instanceof Error && "code" in error ? String(error.code) : String(error);
}

/**
 * Does something with files. A full disk or a folder that has vanished is no fault of the program.
 *
 * @param option which one names the place, such as `--out`
 * @param shown the place as the user named it
 * @throws InputError for whatever the system refuses
 */
export function onDisk<T>(option: string, shown: string, action: () => T): T {
  try {
    return action();
  } catch (error) {
    if (error instanceof InputError) throw error;
    throw new InputError({
      code: "file",
      path: option,
      expected: "a folder with room for the results, for as long as they are written",
      got: `${shown} (${errorCode(error)})`,
      hint: `Free some space, or name another folder with ${option}`,
    });
  }
}

/** Does something that makes a place to write to. Throws `InputError` where there can be none. */
export function onNewPlace<T>(option: string, shown: string, action: () => T): T {
  try {
    return action();
  } catch (error) {
    throw new InputError({
      code: "file",
      path: option,
      expected: "a folder that can be written to",
      got: `${shown} (${errorCode(error)})`,
      hint: `Name another one with ${option}`,
    });
  }
}

/** Writes all bytes, however many the system takes at a time. */
export function writeAll(file: number, bytes: Uint8Array): void {
  let done = 0;
  while (done < bytes.length) done += writeSync(file, bytes, done, bytes.length - done);
}

/** Removes what there is, if it can be removed: never throws, so that it hides no other error. */
export function removeQuietly(path: string): void {
  try {
    rmSync(path, { recursive: true, force: true });
  } catch {
    // What cannot be removed now is removed by the next run.
  }
}

/** Writes a file that appears whole or not at all; a device or pipe in its place is written to as it is. */
export function writeWhole(path: string, content: string): void {
  if (statSync(path, { throwIfNoEntry: false })?.isFile() === false) {
    writeFileSync(path, content);
    return;
  }
  const temporary = join(dirname(path), `.${basename(path)}-${process.pid}.tmp`);
  try {
    const file = openSync(temporary, "w");
    try {
      writeAll(file, new TextEncoder().encode(content));
    } finally {
      closeSync(file);
    }
    renameSync(temporary, path);
  } catch (error) {
    removeQuietly(temporary);
    throw error;
  }
}

/**
 * Makes a folder and those above it, one by one: Node's own way never ends where a parent can hold no folder.
 *
 * @returns those that were missing, the innermost first
 */
export function makeFolder(path: string): string[] {
  if (existsSync(path) && statSync(path).isDirectory()) return [];
  const made = dirname(path) === path ? [] : makeFolder(dirname(path));
  try {
    mkdirSync(path);
  } catch (error) {
    // Another run may have been faster.
    if (errorCode(error) !== "EEXIST" || !statSync(path).isDirectory()) throw error;
    return made;
  }
  return [path, ...made];
}

/** Takes back the folders that were made, as far as nothing is in them. */
export function unmakeFolders(made: readonly string[]): void {
  try {
    for (const path of made) rmdirSync(path);
  } catch {
    // Something is in it now: it stays, and so do those above it.
  }
}

/** Whether a process with this number exists. */
export function isRunning(pid: number): boolean {
  try {
    process.kill(pid, 0);
    return true;
  } catch (error) {
    return errorCode(error) === "EPERM";
  }
}
