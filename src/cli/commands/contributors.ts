import type { Command } from "commander";
import { contributorsVerdict, contributorsView } from "../../report/decide/contributors.ts";
import type { ContributorsStudyResult } from "../../studies/decide/result.ts";
import { contributorRows } from "../../tables/contributors.ts";
import { type DecisionOptions, decide, openStudyScenario, sizeOf, withDecisionOptions } from "../decision.ts";
import { judge } from "../judge.ts";

/** `seatspread contributors`: what drives the preload and the yield. */
export function contributorsCommand(program: Command): void {
  withDecisionOptions(
    program
      .command("contributors")
      .description(
        "what drives preload and yield: first-order and total indices of every cause, slopes by mean and spread",
      )
      .argument("<scenario>", "scenario file (YAML or JSON)"),
  )
    .addHelpText(
      "after",
      `
Writes <out>/<scenario name>/contributors/.

Examples:
  seatspread contributors scenarios/laminating-roller.yaml
  seatspread contributors scenarios/router-spindle.yaml --samples 200000`,
    )
    .action(async (path: string, options: DecisionOptions) => {
      const { base } = openStudyScenario(path, options);
      process.exitCode = await decide<ContributorsStudyResult>("contributors", base.name, options, async () => {
        const finding = await judge("contributors", path, base, { size: sizeOf(options.samples) });
        const result: ContributorsStudyResult = { ...finding, verdict: contributorsVerdict(finding) };
        return { result, view: contributorsView(result), rows: contributorRows(result) };
      });
    });
}
