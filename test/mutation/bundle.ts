/** Test files as self-contained scripts, with the instrumented sources in place of the real ones. */
import { readFileSync } from "node:fs";
import { createRequire } from "node:module";
import { dirname, join, relative } from "node:path";
import { pathToFileURL } from "node:url";
import { build, type Plugin } from "esbuild";

/** Names that the tests import from the test library; the player provides them. */
const LIBRARY = ["test", "it", "describe", "beforeAll", "beforeEach", "afterAll", "afterEach", "expect"];

export interface Bundle {
  /** From the repository's top, with forward slashes. */
  readonly file: string;
  readonly code: string;
  /** Sources that it takes in. */
  readonly sources: readonly string[];
}

/**
 * @param root the repository
 * @param file test file from there
 * @param instrumented text of each source that is mutated, by its path from the root
 */
export async function bundleTest(
  root: string,
  file: string,
  instrumented: ReadonlyMap<string, string>,
): Promise<Bundle> {
  const resolvePackage = createRequire(join(root, "package.json")).resolve;
  const plugin: Plugin = {
    name: "instrumented sources",
    setup(build) {
      build.onResolve({ filter: /^vitest$/ }, () => ({ path: "vitest", namespace: "player" }));
      // An ES module alone: taken in, since what require() gives is not what an import does.
      build.onResolve({ filter: /^js-quantities\/esm$/ }, ({ path }) => ({ path: resolvePackage(path) }));
      build.onLoad({ filter: /.*/, namespace: "player" }, () => ({
        contents: `export const { ${LIBRARY.join(", ")} } = globalThis.seatspreadTestLibrary;`,
        loader: "js",
      }));
      build.onLoad({ filter: /\.ts$/ }, ({ path }) => ({
        contents: (instrumented.get(relative(root, path)) ?? readFileSync(path, "utf8"))
          .replaceAll("import.meta.url", JSON.stringify(pathToFileURL(path).href))
          .replaceAll("import.meta.dirname", JSON.stringify(dirname(path))),
        loader: "ts",
        resolveDir: dirname(path),
      }));
    },
  };
  const { outputFiles, metafile } = await build({
    entryPoints: [join(root, file)],
    absWorkingDir: root,
    bundle: true,
    write: false,
    metafile: true,
    platform: "node",
    format: "cjs",
    target: "node20",
    packages: "external",
    plugins: [plugin],
    logLevel: "error",
  });
  return { file, code: outputFiles[0].text, sources: Object.keys(metafile.inputs) };
}
