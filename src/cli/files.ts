import {
  accessSync,
  closeSync,
  constants,
  existsSync,
  mkdirSync,
  openSync,
  readdirSync,
  readFileSync,
  renameSync,
  rmSync,
  statSync,
} from "node:fs";
import { basename, dirname, join, resolve } from "node:path";
import { InputError } from "../errors.ts";
import {
  errorCode,
  isRunning,
  makeFolder,
  onDisk,
  onNewPlace,
  removeQuietly,
  unmakeFolders,
  writeAll,
} from "./disk.ts";

/** Largest scenario file that is read, bytes. Real ones are a few thousand. */
const SCENARIO_BYTES = 1_000_000;

/** Largest result.json that is read, bytes. Real ones are some hundred thousand, more with measured values. */
const RESULT_BYTES = 200_000_000;

/** Reads a scenario's text. Throws `InputError` for anything that is not a readable UTF-8 file of sane size. */
export function readScenarioText(path: string): string {
  return readText(path, { what: "a scenario", kind: ".yaml", mostBytes: SCENARIO_BYTES });
}

/** The same for a list of sweeps. */
export function readListText(path: string): string {
  return readText(path, { what: "a list", kind: ".txt", mostBytes: SCENARIO_BYTES });
}

/** The same for the result of a run. */
export function readResultText(path: string): string {
  return readText(path, { what: "a result", kind: ".json", mostBytes: RESULT_BYTES });
}

interface TextFile {
  readonly what: string;
  readonly kind: string;
  readonly mostBytes: number;
}

function readText(path: string, { what, kind, mostBytes }: TextFile): string {
  const fail = (expected: string, got: string, hint?: string): never => {
    throw new InputError({ code: "file", path: "", expected, got, hint, file: path });
  };
  const stat = statSync(path, { throwIfNoEntry: false });
  if (stat === undefined) {
    return fail(`${what} file`, "no such file", nearestFile(path));
  }
  if (stat.isDirectory()) return fail(`${what} file`, "a folder", `Name a ${kind} file inside it`);
  if (!stat.isFile()) return fail(`${what} file`, "something that is not a regular file");
  if (stat.size > mostBytes) {
    throw new InputError({
      code: "too-large",
      path: "",
      expected: `${what} of at most ${mostBytes / 1e6} MB`,
      got: `${(stat.size / 1e6).toFixed(1)} MB`,
      file: path,
    });
  }
  let bytes: Buffer;
  try {
    bytes = readFileSync(path);
  } catch (error) {
    return fail("a readable file", errorCode(error));
  }
  try {
    return new TextDecoder("utf-8", { fatal: true }).decode(bytes);
  } catch {
    return fail("a text in UTF-8", "bytes that are not", "Save it as UTF-8");
  }
}

function nearestFile(path: string): string | undefined {
  const folder = dirname(path);
  if (!existsSync(folder)) return undefined;
  const stem = basename(path).replace(/\.[^.]*$/, "");
  const match = readdirSync(folder).find((name) => name.replace(/\.[^.]*$/, "") === stem && name !== basename(path));
  return match === undefined ? undefined : `Did you mean ${join(folder, match)}?`;
}

/**
 * A folder of results that appears whole or not at all: everything is written beside its final place and swapped in at
 * the end. An earlier result stays until then.
 */
export class ResultFolder {
  readonly path: string;
  readonly #shown: string;
  readonly #temporary: string;
  readonly #earlier: string;
  #made: readonly string[] = [];
  #open = true;

  /**
   * @param root folder of all results, made when missing
   * @param name file-safe name of the scenario
   */
  constructor(root: string, name: string) {
    const base = resolve(root);
    this.path = join(base, name);
    this.#shown = join(root, name);
    this.#temporary = join(base, `.${name}-${process.pid}.tmp`);
    this.#earlier = join(base, `.${name}.earlier`);
    if (existsSync(this.path) && !isResult(this.path)) {
      throw new InputError({
        code: "file",
        path: "--out",
        expected: "nothing or an earlier result at the place of the new one",
        got: `something else at ${this.#shown}`,
        hint: "Move it away, or name another folder with --out",
      });
    }
    onNewPlace("--out", root, () => {
      this.#made = makeFolder(base);
      accessSync(base, constants.W_OK);
      // A swap that was cut short between its two renames is finished first.
      if (existsSync(this.#earlier)) {
        if (existsSync(this.path)) rmSync(this.#earlier, { recursive: true });
        else renameSync(this.#earlier, this.path);
      }
      removeAbandoned(base, name);
      mkdirSync(this.#temporary);
    });
  }

  /** Where a file will be, as the user named the folder. */
  shownPath(name: string): string {
    return join(this.#shown, name);
  }

  /** Writes a whole file. */
  write(name: string, content: string | Uint8Array): void {
    const sink = this.open(name);
    sink.write(typeof content === "string" ? new TextEncoder().encode(content) : content);
    sink.close();
  }

  /** Opens a file to be written piece by piece, each at once. */
  open(name: string): { write(bytes: Uint8Array): void; close(): void } {
    const file = this.#attempt(() => openSync(join(this.#temporary, name), "w"));
    return {
      write: (bytes) => this.#attempt(() => writeAll(file, bytes)),
      close: () => this.#attempt(() => closeSync(file)),
    };
  }

  /** Puts the results in their final place. An earlier result stays where it is if that fails. */
  commit(): void {
    this.#attempt(() => {
      const hasEarlier = existsSync(this.path);
      if (hasEarlier) renameSync(this.path, this.#earlier);
      try {
        renameSync(this.#temporary, this.path);
      } catch (error) {
        if (hasEarlier) renameSync(this.#earlier, this.path);
        throw error;
      }
    });
    this.#open = false;
    this.#attempt(() => keepFolders(this.#earlier, this.path));
    removeQuietly(this.#earlier);
  }

  #attempt<T>(action: () => T): T {
    return onDisk("--out", dirname(this.#shown), action);
  }

  /** Throws away what was written. Safe to call at any time. */
  discard(): void {
    if (!this.#open) return;
    this.#open = false;
    removeQuietly(this.#temporary);
    unmakeFolders(this.#made);
  }
}

/** Results of other studies stand in folders of their own inside an earlier result: they move along. */
function keepFolders(from: string, to: string): void {
  if (!existsSync(from)) return;
  for (const entry of readdirSync(from, { withFileTypes: true })) {
    if (!entry.isDirectory() || existsSync(join(to, entry.name))) continue;
    renameSync(join(from, entry.name), join(to, entry.name));
  }
}

/** A folder that may be replaced: empty, or with a result, its studies, and nothing beside them that a run would not write. */
function isResult(path: string): boolean {
  if (!statSync(path).isDirectory()) return false;
  const entries = readdirSync(path);
  const isStudy = (name: string) =>
    statSync(join(path, name)).isDirectory() && (isResult(join(path, name)) || isShardFolder(join(path, name)));
  const written = entries.every(
    (name) => (/\.(?:arrow|html|json)$/.test(name) && statSync(join(path, name)).isFile()) || isStudy(name),
  );
  return entries.length === 0 || (written && (entries.includes("result.json") || entries.some(isStudy)));
}

/** A folder with partial results and nothing else. */
function isShardFolder(path: string): boolean {
  const entries = readdirSync(path);
  return entries.length > 0 && entries.every((name) => /^\.?shard-\d+-of-\d+(?:-\d+\.tmp|\.arrow)$/.test(name));
}

/** Removes what runs left behind that no longer exist. */
function removeAbandoned(base: string, name: string): void {
  for (const entry of readdirSync(base)) {
    const match = /^\.(.+)-(\d+)\.tmp$/.exec(entry);
    if (match === null || match[1] !== name || isRunning(Number(match[2]))) continue;
    rmSync(join(base, entry), { recursive: true, force: true });
  }
}
