import { defineConfig } from "vitest/config";

export default defineConfig({
  test: {
    root: new URL("..", import.meta.url).pathname,
    include: ["test/**/*.test.ts"],
    reporters: [["default", { summary: false }], new URL("./support/count-reporter.ts", import.meta.url).pathname],
    expect: { requireAssertions: true },
    pool: "forks",
    // Modules are read once a process and not once a file: no test changes one. It halves what the small files take.
    isolate: false,
    maxWorkers: 2,
    testTimeout: 60_000,
  },
});
