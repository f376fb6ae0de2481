import type { Command } from "commander";
import { unitText } from "../../report/unit-text.ts";
import { openUnit } from "../../studies/unit.ts";
import { parseIndex } from "../options.ts";
import { terminal } from "../terminal.ts";
import { loadScenario } from "./common.ts";

/** `seatspread unit`: one sampled unit, opened again from its index. */
export function unitCommand(program: Command): void {
  program
    .command("unit")
    .description("open one sampled unit again: every drawn input, both bearings in every state, and why it failed")
    .argument("<scenario>", "scenario file (YAML or JSON)")
    .argument("<index>", "index of the unit, from 0 (the row in samples.arrow)", parseIndex)
    .option("--seed <words>", "seed of the random streams (default: the scenario's)")
    .option("--json", "print the same as JSON")
    .addHelpText("after", "\nExample:\n  seatspread unit scenarios/laminating-roller.yaml 8123")
    .action((path: string, index: number, options: { seed?: string; json?: boolean }) => {
      const scenario = loadScenario(path, options);
      const unit = openUnit(scenario, index);
      process.stdout.write(options.json ? `${JSON.stringify(unit, null, 2)}\n` : unitText(scenario, unit, terminal()));
    });
}
