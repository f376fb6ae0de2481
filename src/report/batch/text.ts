import pc from "picocolors";
import type { BatchStudyResult, CountDistribution } from "../../studies/batch/result.ts";
import { fitTable, plainText, wrapText } from "../plain-table.ts";
import type { SummaryOptions } from "../summary-text.ts";
import { count, percent } from "../words.ts";
import { quantileOf } from "./words.ts";

/** The findings on a batch for a terminal. */
export function batchText(result: BatchStudyResult, { color, width }: SummaryOptions): string {
  const colors = pc.createColors(color);
  const room = Math.max(24, Math.min(width, 100));
  const [lead, ...others] = result.verdict;
  const row = (label: string, distribution: CountDistribution) => [
    label,
    count(distribution.expected),
    ...[0.05, 0.5, 0.95, 0.99].map((p) => count(quantileOf(distribution, p))),
  ];
  const table = fitTable(
    [
      [`in a batch of ${count(result.size)}`, "expected", "5 %", "median", "95 %", "99 %"],
      row("good in every state", result.good),
      row("fail at the bench", result.benchFailures),
      row("fail in service", result.serviceFailures),
      row("fail under warranty", result.warrantyFailures),
    ].map((cells) => cells.map(plainText)),
    [1, 2, 3, 4, 5],
    width,
  );
  const more = fitTable(
    [
      ["failing at the bench", "chance"],
      ...result.benchFailures.more.map(({ count: k, chanceRatio }) => [`more than ${count(k)}`, percent(chanceRatio)]),
    ].map((cells) => cells.map(plainText)),
    [1],
    width,
  );
  const blocks = [
    colors.bold(wrapText(result.title, room)),
    wrapText(lead ?? "", room),
    table,
    more,
    ...others.map((paragraph) => wrapText(paragraph, room)),
  ];
  return `${blocks.join("\n\n")}\n`;
}
