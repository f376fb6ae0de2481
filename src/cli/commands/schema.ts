import type { Command } from "commander";
import { scenarioJsonSchema } from "../../scenario/json-schema.ts";

/** `seatspread schema`: the JSON Schema of a scenario, for editors. */
export function schemaCommand(program: Command): void {
  program
    .command("schema")
    .description("print the JSON Schema of a scenario, for completion and checking in an editor")
    .addHelpText("after", "\nExample:\n  seatspread schema > scenario.schema.json")
    .action(() => {
      process.stdout.write(`${JSON.stringify(scenarioJsonSchema(), null, 2)}\n`);
    });
}
