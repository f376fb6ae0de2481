import { spawn, spawnSync } from "node:child_process";
import { createHash } from "node:crypto";
import {
  cpSync,
  existsSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  readlinkSync,
  realpathSync,
  rmSync,
  statSync,
} from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { afterAll } from "vitest";

/** The bundled program; `npm test` builds it first. */
export const PROGRAM = fileURLToPath(new URL("../../.build/seatspread.js", import.meta.url));
const SCENARIOS = fileURLToPath(new URL("../../scenarios/", import.meta.url));

export interface CliResult {
  readonly code: number | null;
  readonly stdout: string;
  readonly stderr: string;
}

/** Runs the program to its end in a folder. */
export function seatspread(cwd: string, args: readonly string[], nodeOptions: readonly string[] = []): CliResult {
  const { status, stdout, stderr, error } = spawnSync(process.execPath, [...nodeOptions, PROGRAM, ...args], {
    cwd,
    encoding: "utf8",
    timeout: 60_000,
    maxBuffer: 1e8,
    env: { ...process.env, NO_COLOR: "1" },
  });
  if (error !== undefined) throw error;
  return { code: status, stdout, stderr };
}

/** Starts the program and leaves it running. */
export function startSeatspread(cwd: string, args: readonly string[]) {
  const child = spawn(process.execPath, [PROGRAM, ...args], { cwd, stdio: ["ignore", "pipe", "pipe"] });
  let stdout = "";
  let stderr = "";
  child.stdout.on("data", (text) => {
    stdout += text;
  });
  child.stderr.on("data", (text) => {
    stderr += text;
  });
  const ended = new Promise<CliResult>((resolve) => {
    child.on("close", (code) => resolve({ code, stdout, stderr }));
  });
  return { child, ended };
}

export const ESCAPE = String.fromCharCode(27);

/** What the program writes on a terminal so wide; `script` lends one. */
export function onTerminal(
  cwd: string,
  columns: number,
  args: string,
  env: Record<string, string | undefined> = {},
): string {
  const command = `stty cols ${columns} rows 40; ${process.execPath} ${PROGRAM} ${args}`;
  const { error } = spawnSync("script", ["-qec", command, "typescript"], {
    cwd,
    encoding: "utf8",
    timeout: 600_000,
    env: { ...process.env, TERM: "xterm", NO_COLOR: undefined, ...env },
  });
  if (error !== undefined) throw error;
  return readFileSync(join(cwd, "typescript"), "utf8").replace(/^Script (?:started|done).*$/gm, "");
}

/** The lines of what was written on a terminal, without colours and movements. */
export function withoutMarks(text: string): string[] {
  return text.replace(new RegExp(`${ESCAPE}\\[[0-9;?]*[A-Za-z]`, "g"), "").split(/\r\n|\r|\n/);
}

/** A folder of its own with a copy of the scenarios, removed after the tests of the file. */
export function workFolder(): string {
  const folder = mkdtempSync(join(tmpdir(), "seatspread-test-"));
  cpSync(SCENARIOS, join(folder, "scenarios"), { recursive: true });
  afterAll(() => rmSync(folder, { recursive: true, force: true }));
  return folder;
}

/** Every file under a folder with a hash of its content: what may not change is compared by it. */
export function contents(folder: string): Record<string, string> {
  if (!existsSync(folder)) return {};
  const names = readdirSync(folder, { recursive: true, encoding: "utf8" }).sort();
  return Object.fromEntries(
    names.map((name) => {
      const path = join(folder, name);
      const stat = statSync(path);
      const mark = stat.isFile() ? createHash("sha256").update(readFileSync(path)).digest("hex") : "folder";
      return [name, mark];
    }),
  );
}

/** Processes that run in a folder: what a run left behind, threads that keep it alive included. */
export function processesIn(folder: string): number[] {
  const place = realpathSync(folder);
  return readdirSync("/proc")
    .map(Number)
    .filter((pid) => Number.isInteger(pid) && pid !== process.pid)
    .filter((pid) => {
      try {
        return readlinkSync(`/proc/${pid}/cwd`) === place;
      } catch {
        return false;
      }
    });
}
