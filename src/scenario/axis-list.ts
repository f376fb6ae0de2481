import { InputError } from "../errors.ts";
import { type Axis, parseAxis } from "./axis.ts";
import type { VariableScenario } from "./source.ts";

/**
 * Reads a list of sweeps, one a line as on the command line; `#` and what follows it is a remark.
 *
 * @throws InputError with every line that is none
 */
export function parseAxisList(text: string, fileName: string, source: VariableScenario): Axis[] {
  const problems: InputError["problems"][number][] = [];
  const axes = text.split(/\r?\n/).flatMap((written, place): Axis[] => {
    const line = written.replace(/(?:^|\s)#.*$/, "").trim();
    if (line === "") return [];
    try {
      return [parseAxis(line, "", source)];
    } catch (error) {
      if (!(error instanceof InputError)) throw error;
      problems.push(...error.problems.map((problem) => ({ ...problem, file: fileName, line: place + 1 })));
      return [];
    }
  });
  if (problems.length > 0) throw new InputError(problems);
  return axes;
}
