import pc from "picocolors";
import type { FitResult } from "../../studies/fit/result.ts";
import { fitTable, plainText, wrapText } from "../plain-table.ts";
import type { SummaryOptions } from "../summary-text.ts";
import { decimal } from "../words.ts";
import { FAMILY_NAMES } from "./words.ts";

/** The findings for a terminal, with the lines to paste. */
export function fitText(result: FitResult, { color, width }: SummaryOptions): string {
  const colors = pc.createColors(color);
  const room = Math.max(24, Math.min(width, 100));
  const { file, column } = result.provenance;
  const table = fitTable(
    [
      ["fitted", "A²", "BIC", ""],
      ...result.candidates.map(({ family, andersonDarlingRatio, bic, isChosen }) => [
        FAMILY_NAMES[family],
        decimal(andersonDarlingRatio, 3),
        decimal(bic, 1),
        isChosen ? "chosen" : "",
      ]),
    ],
    [1, 2],
    width,
  );
  const paste = [
    ...(result.paste.fitted === null ? [] : [result.paste.fitted]),
    `${result.paste.empirical}   # the values themselves; the file stands beside the scenario`,
  ];
  const blocks = [
    colors.bold(wrapText(`${file}, column ${column}`, room)),
    ...result.verdict.map((paragraph) => wrapText(paragraph, room)),
    ...(result.candidates.length === 0 ? [] : [table]),
    `${colors.dim(wrapText("paste into a scenario, in place of the quantity:", room))}\n${paste.map((line) => `  ${plainText(line)}`).join("\n")}`,
  ];
  return `${blocks.join("\n\n")}\n`;
}
