import type { AuditResult } from "../../studies/audit/result.ts";
import { dataTable } from "../figures/figure.ts";
import { footOf } from "../foot.ts";
import { html, type Markup } from "../html.ts";
import { keyCells } from "../key-cells.ts";
import { page } from "../page.ts";
import { cautions } from "../sections/method.ts";
import { provenanceTable } from "../sections/provenance.ts";
import { capital, count, interval, micrometres, NOTHING, percent, points, significant, tidyPercent } from "../words.ts";
import { changeFigure, stateFigure } from "./figures.ts";
import { DECISION_NAMES } from "./verdict.ts";

/** The page on one measured unit. */
export function auditPage(result: AuditResult): string {
  const { provenance, good, offset, change, window } = result;
  return page({
    title: result.unit === "" ? result.title : `${result.title}, unit ${result.unit}`,
    description: result.from === "" ? "One measured assembly" : `One measured assembly, ${result.from}`,
    maker: `${provenance.program} ${provenance.version} · audit of one unit, ${result.arrangement}`,
    verdict: result.verdict,
    body: [
      keyCells([
        {
          label: "Decision",
          value: DECISION_NAMES[result.decision],
          note: `go from ${tidyPercent(result.decideRatio)}`,
          kind: "main",
        },
        {
          label: "Chance of being good",
          value: percent(good.shareRatio),
          note: `simulation: ${interval(good)}`,
          kind: "main",
        },
        {
          label: "Offset on the bench",
          value: `${micrometres(offset.estimateMm)} ± ${micrometres(offset.combined.expanded)}`,
          note: `k = ${significant(offset.combined.coverageFactor, 3)}, 95 %`,
        },
        {
          label: "Window of this unit",
          value: `${micrometres(window.lowMm[1])} to ${micrometres(window.highMm[1])}`,
          note: "machined offset, medians",
        },
        ...(change === null
          ? []
          : [
              {
                label: "Best shim",
                value:
                  change.best.changeMm === 0
                    ? "none"
                    : `${change.best.changeMm > 0 ? "+" : ""}${micrometres(change.best.changeMm)}`,
                note: `of offset: ${percent(change.best.goodRatio)}`,
              },
            ]),
      ]),
      html`<section class="figures"><h2>Now and in service</h2>
${stateFigure(result)}${changeFigure(result)}</section>
`,
      budgetTable(result),
      measureTable(result),
      windowTable(result),
      warningList(result),
      methodSection(result),
      cautions(),
    ],
    foot: footOf(provenance, `${count(provenance.samples)} draws`),
  }).text;
}

const KIND_NAMES = {
  readings: "scatter of the readings",
  gauge: "instrument",
  resolution: "instrument",
  temperature: "temperature",
  "not measured": "not measured",
} as const;

function budgetTable({ offset }: AuditResult): Markup {
  const { budget, combined, drawnLowMm, drawnHighMm, estimateMm } = offset;
  const shown = (value: number, unit: string) =>
    unit === "mm"
      ? Math.abs(value) >= 0.5
        ? `${value.toFixed(4)} mm`
        : micrometres(value)
      : `${significant(value)}${unit === "1" ? "" : ` ${unit === "degC" ? "°C" : unit}`}`;
  return html`<section><h2>Budget of the offset on the bench</h2>
${dataTable(
  {
    head: ["quantity", "kind", "estimate", "standard uncertainty", "sensitivity", "contribution", "degrees of freedom"],
    rows: [
      ...budget.map((row) => [
        row.label,
        KIND_NAMES[row.kind],
        shown(row.estimate, row.unit),
        shown(row.standardUncertainty, row.unit === "degC" ? "K" : row.unit),
        row.unit === "mm"
          ? significant(row.sensitivity)
          : `${significant(row.sensitivity * 1000)} µm${row.unit === "1" ? "" : `/${row.unit === "degC" ? "K" : row.unit}`}`,
        micrometres(row.contributionMm),
        row.degreesOfFreedom === null ? "∞" : count(row.degreesOfFreedom),
      ]),
      [
        "offset on the bench",
        "combined",
        micrometres(estimateMm),
        micrometres(combined.standard),
        "",
        micrometres(combined.standard),
        Number.isFinite(combined.effectiveDegreesOfFreedom)
          ? count(Math.floor(combined.effectiveDegreesOfFreedom))
          : "∞",
      ],
    ],
    numeric: [2, 3, 4, 5, 6],
  },
  "Uncertainty budget",
)}
<p>Expanded uncertainty ${micrometres(combined.expanded)} (k = ${significant(combined.coverageFactor, 3)}, 95 %): ${micrometres(estimateMm - combined.expanded)} to ${micrometres(estimateMm + combined.expanded)}. The draws, weighed by all that was measured, give ${micrometres(drawnLowMm)} to ${micrometres(drawnHighMm)}.</p>
</section>
`;
}

function measureTable({ toMeasure, rightNowRatio }: AuditResult): Markup {
  const rows = toMeasure.filter(({ gainRatio }, index) => index < 12 && gainRatio > 0);
  return html`<section><h2>What to measure first</h2>
<p>Called now, go or no-go would be right with a chance of ${percent(rightNowRatio)}. The table says to what it would rise were one quantity known exactly: more than any real instrument gives. The play of an assembled pair that is preloaded shows itself with a thicker shim of known size.</p>
${dataTable(
  {
    head: ["quantity", "", "chance of a right call", "gain"],
    rows: rows.map(({ label, isMeasured, isOfUnit, rightCallRatio, gainRatio }) => [
      capital(label),
      isOfUnit ? (isMeasured ? "measured already" : "not measured") : "varies in service",
      percent(rightCallRatio),
      points(gainRatio),
    ]),
    numeric: [2, 3],
  },
  "What to measure first",
)}</section>
`;
}

function windowTable({ window, uncertainty }: AuditResult): Markup {
  const row = (label: string, [low, middle, high]: readonly [number, number, number]) => [
    label,
    micrometres(low),
    micrometres(middle),
    micrometres(high),
  ];
  return html`<section><h2>Offset and window of this unit</h2>
${dataTable(
  {
    head: ["machined offset at 20 °C", "2.5 %", "median", "97.5 %"],
    rows: [
      row("as it is", window.machinedMm),
      row("lower end of the window", window.lowMm),
      row("upper end of the window", window.highMm),
    ],
  },
  "Offset and window",
)}
<p>Without any window in ${percent(window.emptyRatio)} of the draws. ${count(uncertainty.samples)} draws, worth ${count(uncertainty.effectiveSamples)} of equal weight.</p>
</section>
`;
}

function warningList({ warnings }: AuditResult): Markup | null {
  if (warnings.length === 0) return null;
  return html`<section><h2>To be looked at</h2><ul>${warnings.map(({ path, message }) => html`<li>${path === "" ? NOTHING : html`<code>${path}</code>`} ${message}</li>`)}</ul></section>
`;
}

function methodSection({ provenance, decideRatio }: AuditResult): Markup {
  return html`<section><h2>Method</h2>
<p>A measured length is the mean of its readings by Student’s t (JCGM 101:2008, 6.4.9), plus instrument error between its limits, plus half a step of the display, less the growth to the temperature while measuring; its drawing limits no longer count. A measured play gives the clearance through the drawn groove geometry, weighed by the clearance group. Everything else is drawn as the scenario says. The budget follows JCGM 100:2008 with Welch–Satterthwaite. Go and no-go are decided by the chance of conformity (JCGM 106:2012): a go needs ${tidyPercent(decideRatio)}, which keeps a guard band to both ends of the window; in between the measurements do not decide.</p>
${provenanceTable(provenance, [["draws", count(provenance.samples)]])}
<p>The same scenario, readings and seed give the same figures.</p>
</section>
`;
}
