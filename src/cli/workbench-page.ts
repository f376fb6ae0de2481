import { readFileSync } from "node:fs";
import { InternalError } from "../errors.ts";
import type { MeasuredFileReader, MeasuredTable } from "../scenario/measured-files.ts";
import { parseScenario } from "../scenario/parse.ts";
import { builtFile } from "./commands/common.ts";
import { readScenarioText } from "./files.ts";
import { measuredFileReader } from "./measured.ts";

const EMPTY = '<script type="application/json" id="scenario">null</script>';

/**
 * The workbench with a scenario in it: one HTML file that needs nothing else.
 *
 * @throws InputError for a scenario that cannot be run, in the words of every other command
 */
export function workbenchPage(scenarioPath: string): string {
  const text = readScenarioText(scenarioPath);
  const measured: MeasuredTable[] = [];
  const read = measuredFileReader(scenarioPath);
  // What the measured files hold travels with the page, which can read none.
  const keep: MeasuredFileReader = {
    column(request) {
      const values = read.column(request);
      measured.push({ kind: "column", request, values });
      return values;
    },
    table(request) {
      const values = read.table(request);
      measured.push({ kind: "table", request, values });
      return values;
    },
  };
  parseScenario(text, scenarioPath, [], keep);
  const source = JSON.stringify({ text, fileName: scenarioPath, measured }).replaceAll("<", "\\u003c");
  const page = readFileSync(builtFile("workbench.html", "the built workbench"), "utf8");
  const at = page.indexOf(EMPTY);
  if (at < 0) throw new InternalError("the built workbench has no place for a scenario");
  const filled = EMPTY.replace("null", () => source);
  return page.slice(0, at) + filled + page.slice(at + EMPTY.length);
}
