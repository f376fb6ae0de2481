import { existsSync, readFileSync } from "node:fs";
import { createLocalExecutor } from "../../src/engine/local.ts";
import { createPool } from "../../src/engine/pool.ts";
import { runExtendedTasks } from "../../src/engine/run.ts";
import { parseScenario } from "../../src/scenario/parse.ts";
import { yieldSetup } from "../../src/studies/yield.ts";
import { table } from "./compare.ts";

/**
 * Stiffness, movement, torque and life of every unit: the shaft on two ball rows in five degrees of freedom, under load, in each
 * state. Prints how long so many units take on one worker and on two.
 */
export async function measureExtended(scenarioPath: string, samples: number): Promise<void> {
  const scenario = parseScenario(readFileSync(scenarioPath, "utf8"), scenarioPath);
  const setup = yieldSetup(scenario, new WebAssembly.Module(readFileSync(new URL("./kernel.wasm", import.meta.url))));
  const script = new URL("./worker.js", import.meta.url);
  if (!existsSync(script)) throw new Error("the bundled worker is missing: npm run build");
  const rows = [["", "wall s", "CPU s", "µs CPU/unit and state"]];
  for (const workers of [1, 2]) {
    const executor = workers === 1 ? createLocalExecutor(setup) : createPool(setup, workers, script);
    try {
      await runExtendedTasks(executor, 8192 * workers);
      const cpu = process.cpuUsage();
      const start = performance.now();
      await runExtendedTasks(executor, samples);
      const wallS = (performance.now() - start) / 1000;
      const used = process.cpuUsage(cpu);
      const cpuS = (used.user + used.system) / 1e6;
      const each = (1e6 * cpuS) / samples / setup.plan.states.length;
      rows.push([`${workers} worker${workers === 1 ? "" : "s"}`, wallS.toFixed(2), cpuS.toFixed(2), each.toFixed(1)]);
    } finally {
      await executor.close();
    }
  }
  console.log(`${samples} units, ${setup.plan.states.length} states, with external loads\n`);
  console.log(table(rows));
}
