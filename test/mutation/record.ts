/** What is mutated, what may notice, and the record of what was noticed. */
import { readdirSync, readFileSync } from "node:fs";
import { join, resolve } from "node:path";

export const ROOT = resolve(import.meta.dirname, "../..");
export const RECORD = join(ROOT, "test/mutation/record.json");
export const SURVIVORS = join(ROOT, "test/mutation/SURVIVORS.md");

export interface FileRecord {
  /** Of the file's code without comments and layout. */
  readonly codeSha256: string;
  readonly mutants: number;
  readonly killed: number;
  /** Noticed by never coming to an end. */
  readonly hung: number;
  readonly survived: readonly string[];
}

export type Record = { readonly [file: string]: FileRecord };

export function sourcesUnderMutation(): readonly string[] {
  return filesIn("src/physics", /\.ts$/);
}

/** Tests that call the physics by name, alone or through their support; those of whole studies would take hours and add little. */
export function testsThatMayNotice(): readonly string[] {
  const support = filesIn("test/support", /\.ts$/).filter(namesPhysics);
  const folders = ["test/unit/physics", "test/reference", "test/properties"];
  return folders
    .flatMap((folder) => filesIn(folder, /\.test\.ts$/))
    .filter((file) => namesPhysics(file) || support.some((each) => textOf(file).includes(each.slice("test/".length))));
}

const textOf = (file: string) => readFileSync(join(ROOT, file), "utf8");
const namesPhysics = (file: string) => textOf(file).includes("src/physics/");

function filesIn(folder: string, pattern: RegExp): readonly string[] {
  return readdirSync(join(ROOT, folder), { recursive: true, encoding: "utf8" })
    .filter((name) => pattern.test(name))
    .map((name) => `${folder}/${name.replaceAll("\\", "/")}`)
    .sort();
}
