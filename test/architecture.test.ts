import { readdirSync, readFileSync } from "node:fs";
import { dirname, join, relative, resolve } from "node:path";
import { describe, expect, it } from "vitest";

/** The map of DEVELOPERS.md, held: which folder may import which, and which one owns a library. */
const SRC = resolve(import.meta.dirname, "../src");

const MAY_IMPORT: Readonly<Record<string, readonly string[]>> = {
  units: ["errors"],
  numeric: ["errors"],
  random: ["errors", "numeric"],
  distributions: ["units", "numeric", "errors", "warnings"],
  physics: ["units", "numeric", "errors"],
  catalogue: ["units", "numeric", "errors", "physics"],
  scenario: ["units", "numeric", "distributions", "catalogue", "physics", "errors", "warnings"],
  kernel: ["random", "distributions", "stats", "numeric", "errors"],
  model: ["kernel", "physics", "numeric", "distributions", "scenario", "errors"],
  stats: ["numeric", "distributions", "errors"],
  reliability: ["random", "distributions", "stats", "numeric", "errors"],
  engine: ["kernel", "random", "distributions", "model", "scenario", "stats", "reliability", "numeric", "errors"],
  studies: [
    "engine",
    "kernel",
    "reliability",
    "stats",
    "model",
    "scenario",
    "distributions",
    "random",
    "physics",
    "catalogue",
    "numeric",
    "errors",
    "warnings",
  ],
  tables: ["studies", "model", "scenario", "units", "errors"],
  report: [
    "tables",
    "studies",
    "stats",
    "distributions",
    "units",
    "model",
    "scenario",
    "numeric",
    "errors",
    "warnings",
    "catalogue",
    "physics",
  ],
  library: ["report", "studies", "engine", "kernel", "scenario"],
  page: [
    "report",
    "tables",
    "studies",
    "engine",
    "kernel",
    "model",
    "stats",
    "scenario",
    "distributions",
    "catalogue",
    "errors",
  ],
  cli: [
    "report",
    "tables",
    "studies",
    "engine",
    "kernel",
    "scenario",
    "catalogue",
    "units",
    "model",
    "stats",
    "random",
    "errors",
    "warnings",
  ],
};

const OWNERS: Readonly<Record<string, string>> = {
  seedrandom: "random",
  jstat: "distributions",
  "js-quantities": "units",
  zod: "scenario",
  yaml: "scenario",
  "apache-arrow": "tables",
  "csv-parse": "tables",
  "csv-parse/sync": "tables",
  "@observablehq/plot": "report",
  linkedom: "report",
  picocolors: "report",
  commander: "cli",
  "node:fs": "cli",
  "node:fs/promises": "cli",
  "node:os": "cli",
  "node:worker_threads": "engine",
};

interface Import {
  readonly file: string;
  readonly target: string;
}

function sources(): string[] {
  return readdirSync(SRC, { recursive: true, encoding: "utf8" })
    .filter((name) => name.endsWith(".ts") && !name.endsWith(".d.ts") && !name.startsWith("kernel/assembly/"))
    .map((name) => join(SRC, name));
}

function importsOf(file: string): Import[] {
  const text = readFileSync(file, "utf8");
  return [...text.matchAll(/^(?:import|export)\b[^;]*?from\s+"([^"]+)"/gm)].map((match) => ({
    file,
    target: match[1],
  }));
}

function folderOf(path: string): string {
  const [first] = relative(SRC, path).split("/");
  return first.replace(/\.ts$/, "");
}

const files = sources();
const imports = files.flatMap(importsOf);

describe("the structure of src/", () => {
  it("sees the files it is to judge", () => {
    expect(files.length).toBeGreaterThan(50);
    expect(imports.length).toBeGreaterThan(150);
  });

  it("lets imports point one way only", () => {
    const wrong = imports
      .filter(({ target }) => target.startsWith("."))
      .map(({ file, target }) => ({ file, to: resolve(dirname(file), target) }))
      .filter(({ to }) => to.startsWith(SRC))
      .filter(({ file, to }) => {
        const from = folderOf(file);
        const into = folderOf(to);
        if (from === into || from === "index" || from === "index-node") return false;
        return !(MAY_IMPORT[from] ?? []).includes(into);
      })
      .map(({ file, to }) => `${relative(SRC, file)} imports ${relative(SRC, to)}`);
    expect(wrong).toEqual([]);
  });

  it("has no import cycle between files", () => {
    const graph = new Map<string, string[]>();
    for (const { file, target } of imports) {
      if (target.startsWith(".")) graph.set(file, [...(graph.get(file) ?? []), resolve(dirname(file), target)]);
    }
    const done = new Set<string>();
    const cycles: string[] = [];
    const visit = (file: string, path: readonly string[]) => {
      if (path.includes(file)) {
        cycles.push([...path.slice(path.indexOf(file)), file].map((name) => relative(SRC, name)).join(" > "));
        return;
      }
      if (done.has(file)) return;
      for (const next of graph.get(file) ?? []) visit(next, [...path, file]);
      done.add(file);
    };
    for (const file of files) visit(file, []);
    expect(cycles.filter((cycle) => !isTypeOnly(cycle))).toEqual([]);
  });

  it("gives every library one folder that imports it", () => {
    const wrong = imports
      .filter(({ file, target }) => {
        const owner = OWNERS[target];
        return owner !== undefined && folderOf(file) !== owner;
      })
      .map(({ file, target }) => `${relative(SRC, file)} imports ${target}`);
    expect(wrong).toEqual([]);
  });

  it("keeps the runtime's transcendental functions, clock and randomness out of every path to a result", () => {
    const banned =
      /\bMath\.(?:exp|expm1|log|log1p|log2|log10|pow|sin|cos|tan|asin|acos|atan|atan2|sinh|cosh|tanh|cbrt|hypot|random)\b|\bDate\b|\bperformance\b/;
    const guarded = [
      "units",
      "numeric",
      "random",
      "distributions",
      "physics",
      "catalogue",
      "scenario",
      "kernel",
      "model",
      "reliability",
      "engine",
      "stats",
      "studies",
    ];
    const wrong = files
      .filter((file) => guarded.includes(folderOf(file)))
      .filter((file) => {
        const code = withoutComments(readFileSync(file, "utf8"));
        return banned.test(code) || hasInexactPower(code);
      })
      .map((file) => relative(SRC, file));
    expect(wrong).toEqual([]);
  });

  it("tells a power of two whole literals or of BigInts from one that the engine may round as it likes", () => {
    for (const code of ["2 ** 48 - 1", "10n ** BigInt(n)", "2**-3"]) expect(hasInexactPower(code), code).toBe(false);
    for (const code of ["x ** 2", "2 ** x", "(a + b) ** 1.5", "2 ** 0.5", "x**y"]) {
      expect(hasInexactPower(code), code).toBe(true);
    }
  });

  it("keeps files to a size that is read in one go", () => {
    const long = files
      .map((file) => ({ file: relative(SRC, file), lines: readFileSync(file, "utf8").split("\n").length }))
      .filter(({ lines }) => lines > 400);
    expect(long).toEqual([]);
  });
});

/** Types vanish when the code is built: a cycle that only types close is none. */
function isTypeOnly(cycle: string): boolean {
  const steps = cycle.split(" > ");
  return steps.slice(0, -1).some((from, index) => {
    const text = readFileSync(join(SRC, from), "utf8");
    const name = steps[index + 1].split("/").at(-1);
    const lines = [...text.matchAll(/^(?:import|export)\b[^;]*?from\s+"([^"]+)"/gm)].filter((match) =>
      match[1].endsWith(`/${name}`),
    );
    return lines.length > 0 && lines.every((match) => /^(?:import|export) type\b/.test(match[0]));
  });
}

/** `**` rounds as the engine likes unless it takes whole literals, which are worked out exactly, or whole BigInts. */
function hasInexactPower(code: string): boolean {
  return [...code.matchAll(/(\S*?)\s*\*\*\s*(\S*)/g)].some(
    ([, base, exponent]) => !(/^\d+n?$/.test(base) && /^(?:-?\d+(?![\d.])|BigInt\()/.test(exponent)),
  );
}

function withoutComments(text: string): string {
  return text.replace(/\/\*[\s\S]*?\*\//g, "").replace(/\/\/.*$/gm, "");
}
