#!/usr/bin/env node
import { Command, CommanderError } from "commander";
import { formatProblem, InputError } from "../errors.ts";
import { allocateCommand } from "./commands/allocate.ts";
import { auditCommand } from "./commands/audit.ts";
import { batchCommand } from "./commands/batch.ts";
import { centreCommand } from "./commands/centre.ts";
import { checkCommand } from "./commands/check.ts";
import { compareCommand } from "./commands/compare.ts";
import { completionCommand } from "./commands/completion.ts";
import { contributorsCommand } from "./commands/contributors.ts";
import { fitCommand } from "./commands/fit.ts";
import { mergeCommand } from "./commands/merge.ts";
import { methodsCommand } from "./commands/methods.ts";
import { rangesCommand } from "./commands/ranges.ts";
import { reproduceCommand } from "./commands/reproduce.ts";
import { runCommand } from "./commands/run.ts";
import { schemaCommand } from "./commands/schema.ts";
import { shimsCommand } from "./commands/shims.ts";
import { sweepCommand } from "./commands/sweep.ts";
import { unitCommand } from "./commands/unit.ts";
import { workbenchCommand } from "./commands/workbench.ts";
import { guardPipes } from "./pipes.ts";
import { fittedLine } from "./terminal.ts";
import { CAUTIONS, EXIT_CODES, VERSION } from "./texts.ts";

/** Exit codes: 0 done, 1 a required yield was not reached, 2 usage, scenario or file, 3 internal, 130 interrupted. */
const program = new Command();
program
  .name("seatspread")
  .description("Monte Carlo tolerance and thermal risk analysis of preloaded ball-bearing pairs.")
  .version(VERSION)
  .exitOverride()
  .showHelpAfterError("(add --help for what there is)")
  .addHelpText("after", `\n${CAUTIONS}`)
  .addHelpText("afterAll", `\n${EXIT_CODES}`);

for (const command of [
  runCommand,
  mergeCommand,
  checkCommand,
  unitCommand,
  fitCommand,
  auditCommand,
  batchCommand,
  centreCommand,
  allocateCommand,
  compareCommand,
  sweepCommand,
  rangesCommand,
  reproduceCommand,
  contributorsCommand,
  methodsCommand,
  shimsCommand,
  workbenchCommand,
  schemaCommand,
  completionCommand,
]) {
  command(program);
}

guardPipes();

try {
  await program.parseAsync();
} catch (error) {
  process.exitCode = report(error);
}

function report(error: unknown): number {
  if (error instanceof CommanderError) return error.exitCode === 0 ? 0 : 2;
  if (error instanceof InputError) {
    for (const problem of error.problems)
      process.stderr.write(`${fittedLine(`seatspread: ${formatProblem(problem)}`)}\n`);
    return error.exitCode;
  }
  const message = error instanceof Error ? (error.stack ?? error.message) : String(error);
  process.stderr.write(`seatspread: internal error, please report it: ${message}\n`);
  return 3;
}
