import type { TestModule } from "vitest/node";

/** Closes the run with the one line `N passed, N failed` that the continuous integration reads. */
export default class CountReporter {
  onTestRunEnd(modules: readonly TestModule[], unhandled: readonly unknown[]): void {
    let passed = 0;
    let failed = unhandled.length;
    let skipped = 0;
    for (const testModule of modules) {
      let seen = 0;
      for (const test of testModule.children.allTests()) {
        seen += 1;
        const state = test.result().state;
        if (state === "passed") passed += 1;
        else if (state === "skipped") skipped += 1;
        else failed += 1;
      }
      if (seen === 0 || (testModule.state() === "failed" && testModule.errors().length > 0)) failed += 1;
    }
    process.on("exit", () => {
      process.stdout.write(`${passed} passed, ${failed} failed${skipped > 0 ? `, ${skipped} skipped` : ""}\n`);
    });
  }
}
