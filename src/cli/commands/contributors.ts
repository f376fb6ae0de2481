import type { Command } from "commander";
import { contributorsVerdict, contributorsView } from "../../report/decide/contributors.ts";
import { studyContributors } from "../../studies/decide/contributors.ts";
import type { ContributorsStudyResult } from "../../studies/decide/result.ts";
import { contributorRows } from "../../tables/contributors.ts";
import { type DecisionOptions, decide, openStudyScenario, sizeOf, withDecisionOptions } from "../decision.ts";
import { MAKER } from "../texts.ts";

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
      process.exitCode = await decide<ContributorsStudyResult>("contributors", base.name, options, () => {
        const finding = studyContributors(base, { size: sizeOf(options.samples), maker: MAKER });
        const result: ContributorsStudyResult = { ...finding, verdict: contributorsVerdict(finding) };
        return { result, view: contributorsView(result), rows: contributorRows(result) };
      });
    });
}
