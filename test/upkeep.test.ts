import { existsSync, readdirSync, readFileSync } from "node:fs";
import { join, resolve } from "node:path";
import { expect, test } from "vitest";
import packageJson from "../package.json" with { type: "json" };

const ROOT = resolve(import.meta.dirname, "..");

/** Licences that ask for no more than their notice. */
const PERMISSIVE = new Set([
  "MIT",
  "ISC",
  "Apache-2.0",
  "BSD-2-Clause",
  "BSD-3-Clause",
  "0BSD",
  "BlueOak-1.0.0",
  "Unlicense",
]);

/** Dependencies that no source names: programs that scripts call, types, and plug-ins that another one finds by itself. */
const CALLED = new Set([
  "@biomejs/biome",
  "typescript",
  "tsx",
  "assemblyscript",
  "vite",
  "@types/node",
  "@vitest/coverage-v8",
]);

interface LockedPackage {
  readonly version: string;
  readonly resolved?: string;
  readonly dev?: boolean;
  readonly license?: string;
}

const lock = JSON.parse(readFileSync(join(ROOT, "package-lock.json"), "utf8")) as {
  packages: Record<string, LockedPackage>;
};

function sources(folder: string): string[] {
  return readdirSync(join(ROOT, folder), { recursive: true, encoding: "utf8" })
    .filter((name) => /\.(?:ts|mjs|js|html)$/.test(name))
    .map((name) => join(ROOT, folder, name));
}

const texts = new Map(
  [...sources("src"), ...sources("test"), ...sources("notebooks")].map((file) => [file, readFileSync(file, "utf8")]),
);

/** Names of packages that a text imports. */
function packagesIn(text: string): string[] {
  return [...text.matchAll(/^ *(?:import|export)\b[^;"]*?\bfrom\s+"([^"\n]+)"|\bimport\("([^"\n]+)"\)/gm)]
    .map((match) => match[1] ?? match[2])
    .filter((name) => /^[@a-z]/.test(name) && !/^(?:node|data):/.test(name) && name.split("/")[0] !== packageJson.name)
    .map((name) =>
      name
        .split("/")
        .slice(0, name.startsWith("@") ? 2 : 1)
        .join("/"),
    );
}

test("every package that a source imports is listed, and what src imports is listed for production", () => {
  const dependencies = new Set(Object.keys(packageJson.dependencies));
  const all = new Set([...dependencies, ...Object.keys(packageJson.devDependencies)]);
  const used = [...texts].flatMap(([file, text]) => packagesIn(text).map((name) => ({ file, name })));
  expect(used.length).toBeGreaterThan(20);
  expect(used.filter(({ name }) => !all.has(name))).toEqual([]);
  const inSrc = used.filter(({ file }) => file.startsWith(join(ROOT, "src")) && !file.includes("/kernel/assembly/"));
  expect(inSrc.filter(({ name }) => !dependencies.has(name))).toEqual([]);
});

test("every dependency is used, and stands with one exact version", () => {
  const used = new Set([...texts.values()].flatMap(packagesIn));
  const mentions = [...texts.values()].join("\n");
  const listed = { ...packageJson.dependencies, ...packageJson.devDependencies };
  const unused = Object.keys(listed).filter((name) => {
    const subject = name.replace(/^@types\//, "");
    return !used.has(name) && !CALLED.has(name) && !(subject !== name && mentions.includes(subject));
  });
  expect(unused).toEqual([]);
  for (const version of Object.values(listed)) expect(version).toMatch(/^\d+\.\d+\.\d+[\w.-]*$/);
});

test("the lock file names no address, and every package that is installed for production has a permissive licence", () => {
  const packages = Object.entries(lock.packages).filter(([path]) => path !== "");
  expect(packages.length).toBeGreaterThan(50);
  expect(packages.filter(([, { resolved }]) => resolved !== undefined && !resolved.startsWith("file:"))).toEqual([]);
  const wrong = packages
    .filter(([, { dev }]) => dev !== true)
    .map(([path, { license }]) => ({ path, license: license ?? licenceOf(path) }))
    .filter(({ license }) => !license.split(" OR ").some((name) => PERMISSIVE.has(name.replace(/[()]/g, ""))));
  expect(wrong).toEqual([]);
});

/** From the package itself, where the lock file does not say. */
function licenceOf(path: string): string {
  const file = join(ROOT, path, "package.json");
  if (!existsSync(file)) return "not installed";
  const { license, licenses } = JSON.parse(readFileSync(file, "utf8")) as {
    license?: string;
    licenses?: readonly { type: string }[];
  };
  return license ?? licenses?.map(({ type }) => type).join(" OR ") ?? "none given";
}

test("every name that src exports is used in another file", () => {
  const files = [...texts].filter(([file]) => !/\.d\.ts$|\/kernel\/assembly\/|\/test\/bench\//.test(file));
  const words = new Map(files.map(([file, text]) => [file, new Set(text.match(/[A-Za-z_$][\w$]*/g))]));
  const unused = files
    .filter(([file]) => file.startsWith(join(ROOT, "src")))
    .flatMap(([file, text]) =>
      [...text.matchAll(/^export (?:async )?(?:function\*?|const|class|interface|type|enum) (\w+)/gm)]
        .map((match) => match[1])
        .filter((name) => !files.some(([other]) => other !== file && words.get(other)!.has(name)))
        .map((name) => `${file.slice(ROOT.length + 1)}: ${name}`),
    );
  // A type that only its own file names describes what that file hands out: it stays readable for callers.
  const values = unused.filter((entry) => !isTypeName(entry));
  expect(values).toEqual([]);
});

function isTypeName(entry: string): boolean {
  const [file, name] = entry.split(": ");
  return new RegExp(`^export (?:interface|type) ${name}\\b`, "m").test(texts.get(join(ROOT, file))!);
}
