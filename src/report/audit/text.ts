import pc from "picocolors";
import type { AuditResult } from "../../studies/audit/result.ts";
import { fitRows, fitTable, plainText, wrapText } from "../plain-table.ts";
import type { SummaryOptions } from "../summary-text.ts";
import { clip, micrometres, NOTHING, percent } from "../words.ts";

/** Rows of the budget that a terminal shows. */
const MOST_ROWS = 8;

/** The verdict on one unit for a terminal, with the head of the budget. */
export function auditText(result: AuditResult, { color, width }: SummaryOptions): string {
  const colors = pc.createColors(color);
  const room = Math.max(24, Math.min(width, 100));
  const paint = { go: colors.green, "no-go": colors.red, "cannot tell": colors.yellow }[result.decision];
  const [lead, ...others] = result.verdict;
  const { budget, combined } = result.offset;
  const rows = budget
    .slice(0, MOST_ROWS)
    .map(({ label, contributionMm, degreesOfFreedom }) => [
      clip(plainText(label), Math.max(16, room - 34)),
      micrometres(contributionMm),
      degreesOfFreedom === null ? NOTHING : String(Math.floor(degreesOfFreedom)),
    ]);
  const table = fitTable(
    [
      ["offset on the bench", "contribution", "ν"],
      ...rows,
      [
        budget.length > MOST_ROWS ? `combined (${budget.length} terms)` : "combined",
        micrometres(combined.standard),
        "",
      ],
    ].map((row) => row.map(plainText)),
    [1, 2],
    width,
  );
  const measure = result.toMeasure.filter(({ gainRatio }) => gainRatio >= 0.001).slice(0, 5);
  const gains = fitRows(
    measure.map(({ label, rightCallRatio }) => [clip(plainText(label), 60), plainText(percent(rightCallRatio))]),
    [1],
    width,
  );
  const blocks = [
    colors.bold(wrapText(result.unit === "" ? result.title : `${result.title}, unit ${result.unit}`, room)),
    paint(wrapText(lead ?? "", room)),
    ...others.map((paragraph) => wrapText(paragraph, room)),
    table,
    ...(measure.length === 0
      ? []
      : [`${colors.dim(wrapText("chance of a right call, were it known exactly", room))}\n${gains}`]),
  ];
  return `${blocks.join("\n\n")}\n`;
}
