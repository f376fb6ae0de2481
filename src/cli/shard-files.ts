import { closeSync, openSync, readFileSync, renameSync, statSync } from "node:fs";
import { join, resolve } from "node:path";
import { InputError } from "../errors.ts";
import { shardFileName } from "../studies/shards/check.ts";
import type { ShardPlace } from "../studies/shards/plan.ts";
import { errorCode, makeFolder, onDisk, onNewPlace, removeQuietly, unmakeFolders, writeAll } from "./disk.ts";

/** Folder of partial results inside that of a scenario. */
const SHARDS = "shards";

/** Largest partial result that is read, bytes. */
const SHARD_BYTES = 2_000_000_000;

/** A file of one shard that appears whole or not at all; the files of other shards beside it are left alone. */
export class ShardFile {
  /** Where the file will be, as the user named the folder. */
  readonly shownPath: string;
  readonly #root: string;
  readonly #temporary: string;
  readonly #file: number;
  #made: readonly string[] = [];
  #open = true;

  /**
   * @param root folder of all results, made when missing
   * @param name file-safe name of the scenario
   */
  constructor(root: string, name: string, { shard, shards }: ShardPlace) {
    const folder = join(root, name, SHARDS);
    const file = shardFileName(shard, shards);
    this.#root = root;
    this.shownPath = join(folder, file);
    this.#temporary = join(folder, `.${file.replace(/\.arrow$/, "")}-${process.pid}.tmp`);
    this.#file = onNewPlace("--out", root, () => {
      this.#made = makeFolder(resolve(folder));
      return openSync(this.#temporary, "w");
    });
  }

  write(bytes: Uint8Array): void {
    onDisk("--out", this.#root, () => writeAll(this.#file, bytes));
  }

  /** Puts the file in its final place. */
  commit(): void {
    onDisk("--out", this.#root, () => {
      renameSync(this.#temporary, this.shownPath);
      this.#open = false;
      closeSync(this.#file);
    });
  }

  /** Throws away what was written. Safe to call at any time. */
  discard(): void {
    if (!this.#open) return;
    this.#open = false;
    closeSync(this.#file);
    removeQuietly(this.#temporary);
    unmakeFolders(this.#made);
  }
}

/** Reads a partial result. Throws `InputError` for anything that is not a readable file of sane size. */
export function readShardBytes(path: string): Uint8Array {
  const fail = (got: string): never => {
    throw new InputError({ code: "file", path: "", expected: "the partial result of a shard", got, file: path });
  };
  const stat = statSync(path, { throwIfNoEntry: false });
  if (stat === undefined) return fail("no such file");
  if (!stat.isFile()) return fail(stat.isDirectory() ? "a folder" : "something that is no file");
  if (stat.size > SHARD_BYTES) return fail(`${(stat.size / 1e9).toFixed(1)} GB`);
  try {
    return readFileSync(path);
  } catch (error) {
    return fail(errorCode(error));
  }
}
