import { spawnSync } from "node:child_process";
import { chmodSync, existsSync, mkdirSync, readdirSync, rmSync, statfsSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { setTimeout as wait } from "node:timers/promises";
import { beforeAll, describe, expect, test } from "vitest";
import { contents, PROGRAM, processesIn, seatspread, startSeatspread, workFolder } from "../support/cli.ts";
import { mountSmallDisk } from "../support/small-disk.ts";

const folder = workFolder();
const ROLLER = "scenarios/laminating-roller.yaml";
const SMALL = ["run", ROLLER, "--samples", "500", "--no-rare", "-q"];

/** Room for the small result (0.7 MB) and 8 kB more. Without the right to mount, a limit of the shell has to do. */
const disk = mountSmallDisk(join(folder, "disk"), 1000);
const fullDisk = disk === null ? "no right to mount: files of at most 100 kB" : "a disk of 1 MB";
const full = disk === null ? "EFBIG" : "ENOSPC";

let whole: Record<string, string>;

beforeAll(() => {
  const { code, stderr } = seatspread(folder, [...SMALL, "--out", "disk/out"]);
  expect(stderr).toBe("");
  expect(code).toBe(0);
  if (disk !== null) {
    const { bavail, bsize } = statfsSync(disk.path);
    writeFileSync(join(disk.path, "filler"), new Uint8Array(bavail * bsize - 8192));
  }
  whole = contents(join(folder, "disk"));
}, 60_000);

/** Runs a command of the shell in which `$0 $@` is the program with its arguments. */
function shell(command: string, args: readonly string[]) {
  const { status, stdout, stderr } = spawnSync("bash", ["-c", command, process.execPath, PROGRAM, ...args], {
    cwd: folder,
    encoding: "utf8",
    timeout: 60_000,
  });
  return { code: status, stdout, stderr };
}

/** On a disk that is nearly full, or under a limit of the shell: its limit is in blocks of 1024 bytes. */
function onFullDisk(args: readonly string[]) {
  if (disk === null) return shell(`ulimit -f 100; exec "$0" "$@"`, args);
  return shell(`exec "$0" "$@"`, args);
}

describe(`a disk that fills up (${fullDisk}) is named, with exit code 2; nothing half-written stays, the earlier result does`, () => {
  test.each([
    ["run", ["run", ROLLER, "--samples", "20000", "--no-rare", "-q", "--out", "disk/out"]],
    [
      "run --shard",
      ["run", ROLLER, "--samples", "60000", "--shard", "1/2", "--keep-samples", "30000", "-q", "--out", "disk/out"],
    ],
    ["a study", ["compare", "scenarios/press-roller-variants.yaml", "--samples", "2000", "-q", "--out", "disk/out"]],
    ["workbench --save", ["workbench", ROLLER, "--save", "disk/page.html"]],
  ])(
    "%s",
    (name, args) => {
      const { code, stderr, stdout } = onFullDisk(args);
      const option = name === "workbench --save" ? "--save" : "--out";
      expect(stderr).toMatch(new RegExp(`^seatspread: ${option}: expected .*${full}.*\\n$`));
      expect(code).toBe(2);
      expect(stdout).toBe("");
      expect(contents(join(folder, "disk"))).toEqual(whole);
      expect(processesIn(folder)).toEqual([]);
    },
    60_000,
  );
});

describe("a place that cannot be written to is named, with exit code 2", () => {
  test("a file in its way, or a folder that can hold none", () => {
    const file = seatspread(folder, [...SMALL, "--out", ROLLER]);
    expect(file.code).toBe(2);
    expect(file.stderr).toMatch(/^seatspread: --out: expected .*(?:ENOTDIR|EEXIST)/);
    const device = seatspread(folder, [...SMALL, "--out", "/proc/nothing"]);
    expect(device.code).toBe(2);
    expect(device.stderr).toMatch(/^seatspread: --out: expected a folder that can be written to.*ENOENT/);
  });

  test(`a read-only one (${disk === null ? "by its mode" : "a read-only disk"}), for a result and for a shard`, () => {
    const closed = disk === null ? join(folder, "closed") : disk.path;
    if (disk === null) {
      mkdirSync(closed);
      chmodSync(closed, 0o500);
    } else disk.readOnly();
    const reason = disk === null ? "EACCES" : "EROFS";
    for (const args of [SMALL, [...SMALL, "--shard", "1/2"]]) {
      const { code, stderr } = seatspread(folder, [...args, "--out", join(closed, "out")]);
      expect(stderr).toMatch(
        new RegExp(`^seatspread: --out: expected a folder that can be written to.*${reason}.*\\n$`),
      );
      expect(code).toBe(2);
    }
    if (disk !== null) expect(contents(disk.path)).toEqual(whole);
  }, 60_000);

  test("a folder that vanishes during the run", async () => {
    const { ended } = startSeatspread(folder, [
      "run",
      ROLLER,
      "--samples",
      "300000",
      "--no-rare",
      "--out",
      "gone",
      "-q",
    ]);
    const place = join(folder, "gone");
    const started = Date.now();
    while (!(existsSync(place) && readdirSync(place).length > 0) && Date.now() - started < 30_000) await wait(10);
    rmSync(place, { recursive: true });
    const { code, stderr } = await ended;
    expect(stderr).toMatch(/^seatspread: --out: expected .*ENOENT/);
    expect(code).toBe(2);
    expect(processesIn(folder)).toEqual([]);
  }, 60_000);
});

describe("what becomes of stdout and stderr", () => {
  test("a reader that goes away early is no fault: the result is written, nothing on stderr", () => {
    const { code, stderr } = shell(`"$0" "$@" | head -c 1; exit \${PIPESTATUS[0]}`, [...SMALL, "--json"]);
    expect(stderr).toBe("");
    expect(code).toBe(0);
    expect(contents(join(folder, "out"))["laminating-roller/result.json"]).toBe(
      whole["out/laminating-roller/result.json"],
    );
  });

  test("nobody who reads stderr changes nothing: what is wrong is told by the exit code", () => {
    writeFileSync(join(folder, "bad.yaml"), "title: nothing else\n");
    const command = `{ sleep 0.3; exec "$0" "$@"; } 2> >(:)`;
    expect(shell(command, ["check", "bad.yaml"]).code).toBe(2);
    expect(shell(command, ["check", "scenarios/pump-motor-batch.yaml"]).code).toBe(0);
  });

  test("a full disk behind stdout is named, with exit code 2; the result is where it belongs", () => {
    for (const args of [
      ["check", ROLLER],
      [...SMALL, "--out", "beside"],
    ]) {
      const { code, stderr } = shell(`exec "$0" "$@" > /dev/full`, args);
      expect(stderr).toBe("seatspread: stdout: expected room for what is printed, got ENOSPC\n");
      expect(code).toBe(2);
    }
    expect(contents(join(folder, "beside"))["laminating-roller/result.json"]).toBe(
      whole["out/laminating-roller/result.json"],
    );
  });
});
