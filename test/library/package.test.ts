import { execFileSync } from "node:child_process";
import { mkdirSync, mkdtempSync, rmSync, symlinkSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join, resolve } from "node:path";
import { build } from "esbuild";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import packageJson from "../../package.json" with { type: "json" };
import { LIBRARY_VERSION } from "../../src/library/run-scenario.ts";
import { seatspread, workFolder } from "../support/cli.ts";

const ROOT = resolve(import.meta.dirname, "../..");
const folder = workFolder();
let consumer: string;
let packed: string[];

/** A project of its own that has installed what `npm pack` makes. */
beforeAll(() => {
  consumer = mkdtempSync(join(tmpdir(), "seatspread-consumer-"));
  const [made] = JSON.parse(
    execFileSync("npm", ["pack", "--json", "--ignore-scripts", "--pack-destination", consumer], {
      cwd: ROOT,
      encoding: "utf8",
      stdio: ["ignore", "pipe", "ignore"],
    }),
  );
  packed = made.files.map(({ path }: { path: string }) => path);
  const modules = join(consumer, "node_modules");
  mkdirSync(join(modules, "seatspread"), { recursive: true });
  execFileSync("tar", [
    "xzf",
    join(consumer, made.filename),
    "--strip-components=1",
    "-C",
    join(modules, "seatspread"),
  ]);
  for (const name of [...Object.keys(packageJson.dependencies), "@types/node"]) {
    mkdirSync(resolve(modules, name, ".."), { recursive: true });
    symlinkSync(join(ROOT, "node_modules", name), join(modules, name));
  }
  writeFileSync(join(consumer, "package.json"), '{ "type": "module" }\n');
}, 60_000);

afterAll(() => rmSync(consumer, { recursive: true, force: true }));

function node(code: string): string {
  writeFileSync(join(consumer, "main.js"), code);
  return execFileSync(process.execPath, ["main.js"], { cwd: consumer, encoding: "utf8" });
}

describe("what npm pack makes", () => {
  it("holds program, library, page, kernel, scenarios and documents, and nothing of the workshop", () => {
    for (const path of [
      ".build/seatspread.js",
      ".build/worker.js",
      ".build/kernel.wasm",
      ".build/workbench.html",
      ".build/lib/index.js",
      ".build/lib/index.d.ts",
      ".build/lib/index-node.js",
      "scenarios/laminating-roller.yaml",
      "README.md",
      "DEVELOPERS.md",
      "LICENSE",
      "package.json",
    ]) {
      expect(packed).toContain(path);
    }
    const known =
      /^(?:\.build\/(?:lib\/.+\.(?:js|d\.ts)|[\w-]+\.(?:js|wasm|html))|scenarios\/.+|[A-Z]+(?:\.md)?|package\.json)$/;
    expect(packed.filter((path) => !known.test(path))).toEqual([]);
    expect(
      packed.filter((path) => /test|bench|\.map$|node_modules/.test(path) && path !== ".build/workbench.html"),
    ).toEqual([]);
  });

  it("states its own version in its results", () => {
    expect(LIBRARY_VERSION).toBe(packageJson.version);
  });
});

describe("the library, installed", { timeout: 120_000 }, () => {
  it("runs in Node with the numbers of the command line, on threads and in one, with either kernel", () => {
    const scenario = join(folder, "scenarios/laminating-roller.yaml");
    const found = JSON.parse(
      node(`
        import { readFileSync } from "node:fs";
        import { fileURLToPath } from "node:url";
        import { openUnit, parseScenario, renderReport, runScenario } from "seatspread";
        import { createPool, KERNEL_URL, WORKER_URL } from "seatspread/node";
        const scenario = parseScenario(readFileSync(${JSON.stringify(scenario)}, "utf8"), "laminating-roller.yaml", [{ path: "samples", value: 20000 }]);
        const kernel = new WebAssembly.Module(readFileSync(fileURLToPath(KERNEL_URL)));
        const one = await runScenario(scenario);
        const two = await runScenario(scenario, { kernel, executor: (setup) => createPool(setup, 2, WORKER_URL) });
        process.stdout.write(JSON.stringify({
          one: one.result,
          two: two.result,
          report: renderReport(one.result, one.samples).slice(0, 15),
          unit: openUnit(scenario, 5).states.length,
        }));
      `),
    );
    const { stdout } = seatspread(folder, [
      "run",
      "scenarios/laminating-roller.yaml",
      "-n",
      "20000",
      "--json",
      "--quiet",
    ]);
    const wanted = JSON.parse(stdout);
    for (const result of [found.one, found.two, wanted]) delete result.provenance.platform;
    expect(found.one).toEqual(wanted);
    expect(found.two).toEqual(wanted);
    expect(found.report).toBe("<!doctype html>");
    expect(found.unit).toBe(3);
  });

  it("tells of bad input as data", () => {
    const told = node(`
      import { InputError, parseScenario } from "seatspread";
      try { parseScenario("seatspread: 1\\narangement: O", "x.yaml"); }
      catch (error) { process.stdout.write(JSON.stringify([error instanceof InputError, error.problems.map(({ hint }) => hint ?? "").join(" ")])); }
    `);
    expect(JSON.parse(told)).toEqual([true, expect.stringContaining("arrangement")]);
  });

  it.each(["bundler", "nodenext"])("has types that a strict project takes, with module resolution %s", (resolution) => {
    writeFileSync(
      join(consumer, "main.ts"),
      `import { type RunResult, type ScenarioRun, parseScenario, runScenario, axialPlayMm } from "seatspread";
import { KERNEL_URL, createPool } from "seatspread/node";
const run: ScenarioRun = await runScenario(parseScenario("", "x.yaml"), { onProgress: (done: number) => console.log(done) });
const result: RunResult = run.result;
const share: number = result.overall.goodInEveryState.shareRatio;
const play: number = axialPlayMm(0.3, 0.01);
// @ts-expect-error a text is no scenario
runScenario("text");
console.log(share, play, KERNEL_URL.href, createPool);
`,
    );
    const compiler = join(ROOT, "node_modules/typescript/bin/tsc");
    const module = resolution === "nodenext" ? "nodenext" : "esnext";
    const options = ["--strict", "--noEmit", "--target", "es2022", "--lib", "es2023,dom", "--types", "node"];
    const words = [compiler, ...options, "--module", module, "--moduleResolution", resolution, "main.ts"];
    expect(execFileSync(process.execPath, words, { cwd: consumer, encoding: "utf8" })).toBe("");
  });

  it("lets a bundler for browsers leave out what is not used, and needs nothing of Node", async () => {
    const size = async (code: string) => {
      const { outputFiles } = await build({
        stdin: { contents: code, resolveDir: consumer },
        bundle: true,
        minify: true,
        write: false,
        format: "esm",
        platform: "browser",
        logLevel: "error",
      });
      return outputFiles[0].contents.length;
    };
    expect(await size('import { axialPlayMm } from "seatspread"; console.log(axialPlayMm(0.3, 0.01));')).toBeLessThan(
      2000,
    );
    const engine = await size('import { runScenario } from "seatspread"; console.log(runScenario);');
    const all = await size('import * as library from "seatspread"; console.log(library);');
    expect(engine).toBeLessThan(0.4 * all);
  });
});
