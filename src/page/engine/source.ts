import { InputError } from "../../errors.ts";
import type { MeasuredFileReader, MeasuredFileRequest } from "../../scenario/measured-files.ts";
import type { Override } from "../../scenario/overrides.ts";
import { resolveSource } from "../../scenario/parse.ts";
import { readScenarioText, type ScenarioSource } from "../../scenario/read.ts";
import type { ResolvedScenario } from "../../scenario/types.ts";
import type { Source } from "../protocol.ts";

let lastRead: ScenarioSource | null = null;
let lastText = "";

/** A text is taken apart once, however many values are set in it. */
function readOnce({ text, fileName }: Source): ScenarioSource {
  if (lastRead === null || text !== lastText || fileName !== lastRead.fileName) {
    lastRead = readScenarioText(text, fileName);
    lastText = text;
  }
  return lastRead;
}

/** @throws InputError in the words of the command line */
export function resolved(source: Source, overrides: readonly Override[]): ResolvedScenario {
  return resolveSource(readOnce(source), overrides, readerOf(source));
}

/** Gives what the page was handed along with the scenario; a file that it was not handed is refused. */
function readerOf(source: Source): MeasuredFileReader {
  const keyOf = (request: MeasuredFileRequest) => JSON.stringify(request, Object.keys(request).sort());
  const refuse = ({ file }: MeasuredFileRequest) =>
    new InputError({
      code: "file",
      path: "",
      expected: "a table that came along with the scenario",
      got: file,
      file: source.fileName,
      hint: "A page cannot read files beside a scenario: open it with seatspread workbench",
    });
  return {
    column(request) {
      for (const held of source.measured) {
        if (held.kind === "column" && keyOf(held.request) === keyOf(request)) return held.values;
      }
      throw refuse(request);
    },
    table(request) {
      for (const held of source.measured) {
        if (held.kind === "table" && keyOf(held.request) === keyOf(request)) return held.values;
      }
      throw refuse(request);
    },
  };
}
