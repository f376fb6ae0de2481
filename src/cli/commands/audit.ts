import { join, resolve } from "node:path";
import type { Command } from "commander";
import { auditPage } from "../../report/audit/page.ts";
import { auditText } from "../../report/audit/text.ts";
import { auditVerdict } from "../../report/audit/verdict.ts";
import type { AuditResult } from "../../studies/audit/result.ts";
import { auditRows } from "../../tables/audit.ts";
import { sampleMetadata } from "../../tables/samples.ts";
import { judge } from "../judge.ts";
import { parseSamples } from "../options.ts";
import { writeStudy } from "../study-output.ts";
import { printNotes, terminal } from "../terminal.ts";
import { loadScenario } from "./common.ts";

interface AuditOptions {
  readonly readings?: string;
  readonly samples?: number;
  readonly seed?: string;
  readonly out: string;
  readonly json?: boolean;
  readonly quiet?: boolean;
}

/** `seatspread audit`: one measured assembly, go or no-go, and what to do about it. */
export function auditCommand(program: Command): void {
  program
    .command("audit")
    .description("judge one measured unit: chance of each outcome, go or no-go, uncertainty budget, best shim")
    .argument("<scenario>", "scenario file (YAML or JSON) with an audit section, or with --readings")
    .option(
      "--readings <table>",
      'CSV of readings; columns named as members of the chain with units, and "play a [um]"',
    )
    .option("-n, --samples <count>", "draws of the unit, up to a million (default: the scenario's)", parseSamples)
    .option("--seed <words>", "seed of the random streams (default: the scenario's)")
    .option("--out <folder>", "folder of all results", "out")
    .option("--json", "print result.json on stdout instead of the verdict")
    .option("-q, --quiet", "no notes on stderr")
    .addHelpText(
      "after",
      `
Writes <out>/<scenario name>/audit/: report.html, result.json, summary.arrow, whole or not at all.
Exit code 0 for a go, 1 for a no-go and where the measurements do not decide.

Examples:
  seatspread audit scenarios/winder-roll-audit.yaml
  seatspread audit scenarios/laminating-roller.yaml --readings unit-17.csv`,
    )
    .action(async (path: string, options: AuditOptions) => {
      const more =
        options.readings === undefined ? [] : [{ path: "audit.readingsFile", value: resolve(options.readings) }];
      const scenario = loadScenario(path, options, more);
      const { files, json, reportPath } = await writeStudy(join(options.out, scenario.name), "audit", async () => {
        const finding = await judge("audit", path, scenario, {});
        const result: AuditResult = { ...finding, verdict: auditVerdict(finding) };
        return {
          result,
          rows: auditRows(result),
          metadata: sampleMetadata(result.provenance),
          html: auditPage(result),
        };
      });
      const { result } = files;
      process.stdout.write(options.json ? json : `${auditText(result, terminal())}\nReport: ${reportPath}\n`);
      if (!options.quiet) printNotes(result.warnings);
      process.exitCode = result.decision === "go" ? 0 : 1;
    });
}
