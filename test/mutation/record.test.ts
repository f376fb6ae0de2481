import { readFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, test } from "vitest";
import { codeHash } from "./instrument.ts";
import { RECORD, type Record, ROOT, SURVIVORS, sourcesUnderMutation } from "./record.ts";

const record = JSON.parse(readFileSync(RECORD, "utf8")) as Record;

/** Names of survivors that were looked at, by file: the first cells of the tables under each heading. */
function lookedAt(): ReadonlyMap<string, ReadonlySet<string>> {
  const files = new Map<string, Set<string>>();
  let names = new Set<string>();
  for (const line of readFileSync(SURVIVORS, "utf8").split("\n")) {
    const heading = /^## (\S+)/.exec(line);
    if (heading !== null) {
      names = new Set();
      files.set(heading[1], names);
    }
    const item = /^- `(.+)`$/.exec(line);
    if (item !== null) names.add(item[1]);
  }
  return files;
}

describe("the record of mutants", () => {
  test("speaks of the code as it stands: else renew it with `npm run mutation -- <file> …`", () => {
    const now = Object.fromEntries(
      sourcesUnderMutation().map((file) => [file, codeHash(readFileSync(join(ROOT, file), "utf8"))]),
    );
    expect(Object.fromEntries(Object.entries(record).map(([file, { codeSha256 }]) => [file, codeSha256]))).toEqual(now);
  });

  test("more than 85 of 100 mutants are noticed before the equivalent ones are left out", () => {
    const files = Object.values(record);
    const total = files.reduce((sum, { mutants }) => sum + mutants, 0);
    const survived = files.reduce((sum, { survived }) => sum + survived.length, 0);
    expect(total).toBeGreaterThan(2000);
    expect(1 - survived / total).toBeGreaterThan(0.85);
  });

  test("every survivor has been looked at and stands in SURVIVORS.md with a reason, and nothing else does", () => {
    const known = lookedAt();
    for (const [file, { survived }] of Object.entries(record)) {
      expect([...(known.get(file) ?? [])].sort(), file).toEqual([...survived].sort());
    }
  });
});
