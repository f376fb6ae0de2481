import { spawnSync } from "node:child_process";
import { mkdirSync } from "node:fs";
import { afterAll } from "vitest";

/** A disk of its own that can fill up and be made read-only; null where this user may mount none. */
export interface SmallDisk {
  readonly path: string;
  readOnly(): void;
}

/** Mounts a disk of `sizeKb` kilobytes in memory, to be gone after the tests of the file. */
export function mountSmallDisk(path: string, sizeKb: number): SmallDisk | null {
  mkdirSync(path);
  const mount = (options: string) => spawnSync("mount", ["-t", "tmpfs", "-o", options, "tmpfs", path]);
  if (mount(`size=${sizeKb}k`).status !== 0) return null;
  afterAll(() => {
    spawnSync("umount", [path]);
  });
  return {
    path,
    readOnly() {
      const { status, stderr } = mount(`remount,ro,size=${sizeKb}k`);
      if (status !== 0) throw new Error(String(stderr));
    },
  };
}
