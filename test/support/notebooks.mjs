// Executes the notebooks: what their texts tell to run is run, every cell is evaluated in a browser that reaches no network, and
// the pages as they then stand go to out/notebooks/, without script.
import { execFileSync } from "node:child_process";
import { existsSync, mkdirSync, readdirSync, readFileSync, realpathSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { fileURLToPath, pathToFileURL } from "node:url";
import { deserialize } from "@observablehq/notebook-kit";
import { DOMParser } from "linkedom";
import { launchBrowser } from "./browser.mjs";
import { inlined } from "./inlined.mjs";
import { bundleNotebook, pageStyle } from "./notebook-page.mjs";

const PROGRAM = fileURLToPath(new URL("../../.build/seatspread.js", import.meta.url));

/** Stands for the folder while the cells run; nothing listens there, every request is answered from the disk or refused. */
const ORIGIN = "http://notebook.invalid";

/** A cell that waits for what never comes must not hold up the rest for ever. */
const LIMIT_MS = 240_000;

/**
 * @param {string} folder with notebooks/ and scenarios/; results go to its out/
 * @returns {Promise<readonly {name: string, title: string, file: string, cells: number, figures: number,
 *   values: Record<string, number>, problems: readonly string[]}[]>} one entry a notebook; `values` are the numbers that its text
 *   states under a name, `problems` is empty where every cell was evaluated and nothing was asked of the network
 */
export async function executeNotebooks(folder) {
  const names = readdirSync(join(folder, "notebooks"))
    .filter((name) => name.endsWith(".html"))
    .sort();
  const notebooks = names.map((name) => ({
    name: name.replace(/\.html$/, ""),
    ...deserialize(readFileSync(join(folder, "notebooks", name), "utf8"), { parser: new DOMParser() }),
  }));
  for (const command of new Set(notebooks.flatMap(commandsOf))) run(folder, command);
  mkdirSync(join(folder, "out/notebooks"), { recursive: true });
  const style = await pageStyle();
  const browser = await launchBrowser();
  try {
    return await Promise.all(
      notebooks.map(async (notebook) => {
        const script = await bundleNotebook(notebook, realpathSync(join(folder, "notebooks")));
        const found = await evaluate(browser, folder, notebook, style, script);
        const file = join(folder, "out/notebooks", `${notebook.name}.html`);
        writeFileSync(file, found.html);
        const { values, figures, problems } = found;
        return {
          name: notebook.name,
          title: notebook.title,
          file,
          cells: notebook.cells.length,
          figures,
          values,
          problems,
        };
      }),
    );
  } finally {
    await browser.close();
  }
}

/** Commands in the texts of a notebook, as a reader would type them: `npx . run scenarios/…`, indented as code. */
function commandsOf({ cells }) {
  return cells
    .filter(({ mode }) => mode === "md")
    .flatMap(({ value }) => [...value.matchAll(/^ {4}npx \. (.+)$/gm)].map((match) => match[1].trim()));
}

function run(folder, command) {
  execFileSync(process.execPath, [PROGRAM, ...command.split(/\s+/), "--quiet"], { cwd: folder, stdio: "pipe" });
}

/** Opens a notebook, waits for its last cell, and takes the page as it then stands. */
async function evaluate(browser, folder, notebook, style, script) {
  const context = await browser.newContext({ viewport: { width: 1280, height: 900 } });
  const page = await context.newPage();
  const problems = [];
  const address = `${ORIGIN}/notebooks/${notebook.name}.html`;
  page.on("pageerror", (error) => problems.push(error.message));
  page.on("console", (message) => problems.push(message.text()));
  await page.route("**/*", (route) => {
    const url = new URL(route.request().url());
    if (url.href === address) {
      return route.fulfill({ contentType: "text/html", body: pageOf(notebook, style, script) });
    }
    const path = join(folder, decodeURIComponent(url.pathname));
    if (url.origin === ORIGIN && existsSync(path)) return route.fulfill({ path });
    problems.push(`asked for ${url.href}`);
    return route.abort();
  });
  await page.goto(address);
  const failed = await page.evaluate((limitMs) => {
    const late = new Promise((resolve) => {
      setTimeout(() => resolve([`some cells are not done after ${limitMs / 1000} s`]), limitMs);
    });
    return Promise.race([globalThis.notebookDone ?? ["the cells were never begun: their script did not run"], late]);
  }, LIMIT_MS);
  problems.push(...failed);
  const found = await page.evaluate(() => {
    for (const script of document.querySelectorAll("script")) script.remove();
    const values = {};
    for (const each of document.querySelectorAll("data[data-name]")) values[each.dataset.name] = Number(each.value);
    const policy = document.createElement("meta");
    policy.httpEquiv = "Content-Security-Policy";
    policy.content = "default-src 'none'; style-src 'unsafe-inline'";
    document.head.prepend(policy);
    return {
      html: `<!doctype html>\n${document.documentElement.outerHTML}\n`,
      figures: document.querySelectorAll("figure svg.wide").length,
      values,
    };
  });
  await context.close();
  return { ...found, problems };
}

function pageOf({ title, cells }, style, script) {
  const places = cells.map(({ id, mode, pinned, value }) => {
    const code = `<details class="code"><summary>${mode === "js" ? "Code of this cell" : mode}</summary><pre><code>${escaped(value)}</code></pre></details>`;
    return `<div id="cell-${id}" class="cell-output"></div>${pinned ? code : ""}`;
  });
  return `<!doctype html>
<html lang="en"><head><meta charset="utf-8"><meta name="viewport" content="width=device-width,initial-scale=1">
<title>${escaped(title)}</title><style>${style}</style></head>
<body><main>${places.join("\n")}</main>
<script>${inlined(script)}</script></body></html>`;
}

function escaped(text) {
  return text.replaceAll("&", "&amp;").replaceAll("<", "&lt;").replaceAll(">", "&gt;");
}

if (import.meta.url === pathToFileURL(process.argv[1]).href) {
  const found = await executeNotebooks(".");
  for (const { title, file, cells, figures, problems } of found) {
    process.stdout.write(`${title}: ${cells} cells, ${figures} figures, ${file}\n`);
    for (const problem of problems) process.stderr.write(`  ${problem}\n`);
  }
  process.exitCode = found.some(({ problems }) => problems.length > 0) ? 1 : 0;
}
