import type { Command } from "commander";
import { checkText } from "../../report/check-text.ts";
import { evaluateNominal } from "../../studies/nominal.ts";
import { printNotes, terminal } from "../terminal.ts";
import { loadScenario } from "./common.ts";

/** `seatspread check`: every value that will be used, with where it came from, and the nominal assembly. No sampling. */
export function checkCommand(program: Command): void {
  program
    .command("check")
    .description("print every value that will be used and where it came from, the offset's limits, onset and window")
    .argument("<scenario>", "scenario file (YAML or JSON)")
    .option("--json", "print the same as JSON")
    .option("-q, --quiet", "no notes on stderr")
    .addHelpText("after", "\nExample:\n  seatspread check scenarios/laminating-roller.yaml")
    .action((path: string, options: { json?: boolean; quiet?: boolean }) => {
      const scenario = loadScenario(path);
      const nominal = evaluateNominal(scenario);
      if (options.json) {
        const { name, title, hash, arrangement, limits, inputs, warnings } = scenario;
        const document = { name, title, scenarioHash: hash, arrangement, limits, nominal, inputs, warnings };
        process.stdout.write(`${JSON.stringify(document, null, 2)}\n`);
      } else {
        process.stdout.write(checkText(scenario, nominal, terminal()));
      }
      if (!options.quiet) printNotes(scenario.warnings);
    });
}
