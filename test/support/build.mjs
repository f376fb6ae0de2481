// Bundles the command line, its worker and the library into .build/ (one file each starts in a third of the time).
import { execFileSync } from "node:child_process";
import { existsSync } from "node:fs";
import { fileURLToPath } from "node:url";
import { build } from "esbuild";
import { buildLibrary } from "./build-library.mjs";
import { buildPage } from "./build-page.mjs";

const entries = {
  seatspread: "src/cli/main.ts",
  worker: "src/engine/worker.ts",
  "study-worker": "src/cli/study-worker.ts",
  bench: "test/bench/main.ts",
  battery: "test/battery/main.ts",
};

const entryPoints = Object.fromEntries(Object.entries(entries).filter(([, file]) => existsSync(file)));

// The fast kernel: AssemblyScript to WebAssembly, with its own folder of sources and no runtime.
execFileSync(
  process.execPath,
  [
    fileURLToPath(new URL("../../node_modules/assemblyscript/bin/asc.js", import.meta.url)),
    "src/kernel/assembly/index.ts",
    ...["--optimizeLevel", "3", "--shrinkLevel", "0", "--runtime", "stub", "--importMemory", "--noAssert"],
    ...["--enable", "simd", "--outFile", ".build/kernel.wasm"],
  ],
  { stdio: "inherit" },
);

await build({
  entryPoints,
  outdir: ".build",
  bundle: true,
  platform: "node",
  format: "esm",
  target: "node20",
  sourcemap: true,
  // Only the benchmark of the page drives a browser.
  external: ["playwright-core"],
  // Some dependencies are CommonJS and call require() for Node's own modules.
  banner: {
    js: 'import { createRequire as seatspreadRequire } from "node:module"; const require = seatspreadRequire(import.meta.url);',
  },
  logLevel: "warning",
});

await buildPage(".build/workbench.html", ".build/kernel.wasm");
buildLibrary(".build/lib");
