// Makes the library: one JavaScript file and one declaration a source file, so that a bundler keeps only what is used.
import { execFileSync } from "node:child_process";
import { readdirSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { fileURLToPath } from "node:url";

/** @param {string} outdir as in tsconfig.lib.json */
export function buildLibrary(outdir) {
  rmSync(outdir, { recursive: true, force: true });
  const compiler = fileURLToPath(new URL("../../node_modules/typescript/bin/tsc", import.meta.url));
  execFileSync(process.execPath, [compiler, "-p", "test/support/tsconfig.lib.json"], { stdio: "inherit" });
  // The compiler rewrites the endings of imports in scripts only.
  for (const name of readdirSync(outdir, { recursive: true, encoding: "utf8" })) {
    if (!name.endsWith(".d.ts")) continue;
    const path = join(outdir, name);
    const text = readFileSync(path, "utf8");
    writeFileSync(path, text.replace(/(from "|import\(")(\.{1,2}\/[^"]+)\.ts"/g, '$1$2.js"'));
  }
}
