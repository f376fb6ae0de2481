// What the page of a notebook is made of: its cells as one script, with the runtime and the library inside, and the style.
import { transpile } from "@observablehq/notebook-kit";
import { build } from "esbuild";

const OWN_STYLE = `
main{padding-bottom:40px}
h1{max-width:24ch}
main p,main ul,main ol{max-width:70ch}
details.code{margin:.2em 0 1.6em}
details.code pre,.cell-output pre{overflow-x:auto;background:var(--tint);padding:.8em 1em;font-size:.86rem}
details.code code,.cell-output pre code{overflow-wrap:normal;color:var(--ink)}
data{font-variant-numeric:tabular-nums}
.callouts{border:1.5px solid var(--ink);padding:.4em 1.1em .8em;margin:1.2em 0 1.6em;background:var(--tint)}
.callouts h3{margin:.6em 0 .4em}
.callouts table{margin:0}
a{color:var(--accent)}
h2 a,h3 a{color:inherit;text-decoration:none}
h2{margin-top:1.8em}
.cell-output figure{margin-bottom:.6em}
.observablehq--error{color:var(--bind);white-space:pre-wrap}
`;

/** The style of the reports, and what a notebook has beside. */
export async function pageStyle() {
  const { outputFiles } = await build({
    entryPoints: ["src/report/style.ts"],
    absWorkingDir: new URL("../..", import.meta.url).pathname,
    bundle: true,
    write: false,
    format: "esm",
  });
  const code = Buffer.from(outputFiles[0].text).toString("base64");
  const { STYLE } = await import(`data:text/javascript;base64,${code}`);
  return STYLE + OWN_STYLE;
}

/**
 * One classic script that evaluates the cells where the page has room for them. `notebookDone` becomes the list of what failed.
 *
 * @param {{cells: readonly object[]}} notebook
 * @param {string} folder that its imports are relative to
 * @returns {Promise<string>}
 */
export async function bundleNotebook({ cells }, folder) {
  const { outputFiles } = await build({
    stdin: { contents: entryOf(cells), resolveDir: folder, loader: "js" },
    bundle: true,
    write: false,
    platform: "browser",
    format: "iife",
    target: "es2022",
    define: { "process.env.NODE_ENV": '"production"' },
    plugins: [{ name: "offline", setup: refuseAddresses }],
    logLevel: "error",
  });
  return outputFiles[0].text;
}

function entryOf(cells) {
  const definitions = cells.map((cell) => {
    const { body, ...rest } = transpile(cell);
    const { inputs, outputs, output, autodisplay, autoview, automutable } = rest;
    const plain = { id: cell.id, inputs, outputs, output, autodisplay, autoview, automutable };
    return `cell(${JSON.stringify(plain)}, ${cell.mode === "js" || cell.mode === "ts"}, ${body});`;
  });
  return `import { define, observe } from "@observablehq/notebook-kit/runtime";
const failed = [];
let open = ${cells.length};
let finish;
globalThis.notebookDone = new Promise((resolve) => { finish = () => resolve(failed); });
function cell(plain, display, body) {
  const settled = new Promise((resolve) => {
    const state = { root: document.getElementById("cell-" + plain.id), expanded: [], variables: [] };
    define(state, { ...plain, display, body }, (...words) => {
      const observer = observe(...words);
      const { fulfilled, rejected } = observer;
      observer.fulfilled = function (value) { fulfilled.call(this, value); resolve(); };
      observer.rejected = function (error) { rejected.call(this, error); failed.push("cell " + plain.id + ": " + error); resolve(); };
      return observer;
    });
  });
  settled.then(() => { open -= 1; if (open === 0) finish(); });
}
${definitions.join("\n")}`;
}

/** What the runtime would fetch from an address by itself: here a package is imported by its name, or not at all. */
function refuseAddresses(building) {
  building.onResolve({ filter: /^https:|\.js$/ }, ({ path, kind, importer }) =>
    kind === "dynamic-import" && importer.includes("@observablehq/notebook-kit") && !path.endsWith("/md.js")
      ? { path, namespace: "address" }
      : undefined,
  );
  building.onLoad({ filter: /.*/, namespace: "address" }, ({ path }) => ({
    contents: `throw new Error(${JSON.stringify(`${path}: import the package by its name instead`)}); export default null;`,
  }));
}
