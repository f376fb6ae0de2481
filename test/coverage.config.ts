import { defineConfig } from "vitest/config";
import config from "./vitest.config.ts";

/** Folders in which 95 of 100 branches are held to be taken by a test. */
const HELD = ["physics", "model", "engine", "stats", "distributions", "reliability"];

/**
 * `npm run coverage`: the tests that look at parts, without those that run the command line, a browser or long studies, and
 * without what runs in worker threads, which are not looked into. `engine/aside.ts`, `pool.ts` and `worker.ts` have tests of their own.
 */
export default defineConfig({
  test: {
    ...config.test,
    include: [
      `test/unit/{numeric,${HELD.join(",")}}/**/*.test.ts`,
      "test/unit/studies/{audit,batch,directions,fit,limits-of-a-run,rare,readings,yield}.test.ts",
      "test/unit/studies/decide/*.test.ts",
      "test/reference/**/*.test.ts",
      "test/properties/{model,pair-shaft,random-units,whole-physics}.test.ts",
    ],
    exclude: ["test/unit/engine/workers.test.ts", "test/unit/model/windows.test.ts"],
    testTimeout: 300_000,
    coverage: {
      enabled: true,
      provider: "v8",
      include: HELD.map((folder) => `src/${folder}/**/*.ts`),
      exclude: ["src/engine/aside.ts", "src/engine/pool.ts", "src/engine/worker.ts"],
      reporter: ["text", "json"],
      reportsDirectory: ".coverage",
      reportOnFailure: true,
      thresholds: Object.fromEntries(HELD.map((folder) => [`src/${folder}/**`, { branches: 95 }])),
    },
  },
});
