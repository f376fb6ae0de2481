// Makes the workbench: one HTML file with its script, its engine and its style inside, that asks the network for nothing.
import { createHash } from "node:crypto";
import { readFileSync, writeFileSync } from "node:fs";
import { build } from "esbuild";
import { inlined } from "./inlined.mjs";

const PAGE = "src/page";

/**
 * @param {string} outfile
 * @param {string} kernelFile the compiled kernel
 */
export async function buildPage(outfile, kernelFile) {
  const script = inlined(await bundle(`${PAGE}/main.ts`, "iife"));
  // Under the page's policy no text becomes code: zod must not even try.
  const engine = inlined(
    await bundle(`${PAGE}/engine/worker.ts`, "iife", "globalThis.__zod_globalConfig={jitless:true};", {
      SEATSPREAD_KERNEL: JSON.stringify(readFileSync(kernelFile).toString("base64")),
    }),
  );
  const parts = await import(
    `data:text/javascript;base64,${Buffer.from(await bundle(`${PAGE}/parts.ts`, "esm")).toString("base64")}`
  );
  const { version } = JSON.parse(readFileSync("package.json", "utf8"));
  const hash = createHash("sha256").update(script).digest("base64");
  const policy = [
    "default-src 'none'",
    `script-src 'sha256-${hash}' 'wasm-unsafe-eval'`,
    "worker-src blob:",
    "style-src 'unsafe-inline'",
    "img-src data: blob:",
    "base-uri 'none'",
    "form-action 'none'",
  ].join("; ");
  const fills = {
    policy,
    version,
    style: parts.colours + readFileSync(`${PAGE}/style.css`, "utf8"),
    hatches: parts.hatchMarkup,
    scenario: "null",
    engine,
    script,
  };
  const page = readFileSync(`${PAGE}/index.html`, "utf8").replace(/\{\{(\w+)\}\}/g, (_, name) => fills[name]);
  writeFileSync(outfile, page);
}

async function bundle(entry, format, banner = "", define = {}) {
  const { outputFiles } = await build({
    entryPoints: [entry],
    bundle: true,
    write: false,
    platform: "browser",
    format,
    target: "es2022",
    minify: true,
    legalComments: "none",
    banner: { js: banner },
    define: { "process.env.NODE_ENV": '"production"', ...define },
    logLevel: "warning",
  });
  return outputFiles[0].text;
}
