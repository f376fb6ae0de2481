import type { RunResult, SampleTable } from "../studies/result.ts";
import { clearanceFigure } from "./figures/clearance.ts";
import { nominalCurveFigure, toleranceCurveFigure } from "./figures/curves.ts";
import { gainFigure } from "./figures/gain.ts";
import { offsetFigure } from "./figures/offset.ts";
import { outcomesFigure } from "./figures/outcomes.ts";
import { preloadFigure } from "./figures/preload.ts";
import { varianceFigure } from "./figures/variance.ts";
import { footOf } from "./foot.ts";
import { html } from "./html.ts";
import { page } from "./page.ts";
import { calloutSection } from "./sections/callouts.ts";
import { extendedSection } from "./sections/extended.ts";
import { heatSection } from "./sections/heat.ts";
import { assumptionTable, inputTable, warningList } from "./sections/inputs.ts";
import { keyNumbers } from "./sections/key-numbers.ts";
import { cautions, methodSection } from "./sections/method.ts";
import { nominalTable } from "./sections/nominal.ts";
import { rareSection } from "./sections/rare.ts";
import { requirementTables } from "./sections/requirements.ts";
import { flagTable, outcomeTables, quantileTables } from "./sections/results.ts";
import { count } from "./words.ts";

/** The report of a run as one HTML file, ordered by what is decided with it. */
export function renderReport(found: RunResult, samples: SampleTable): string {
  const result = withDistinctLabels(found);
  const { provenance, batch } = result;
  return page({
    title: result.title,
    description: result.description,
    maker: `${provenance.program} ${provenance.version} · preloaded bearing pair, ${result.arrangement} · batch of ${count(batch.size)}`,
    verdict: result.verdict,
    body: [
      keyNumbers(result),
      html`<section class="figures"><h2>What drives it</h2>
${gainFigure(result)}${varianceFigure(result)}</section>
<section class="figures"><h2>What to change</h2>
${calloutSection(result)}${offsetFigure(result, samples)}${nominalCurveFigure(result)}${toleranceCurveFigure(result)}</section>
<section class="figures"><h2>What happens to the units</h2>
${outcomesFigure(result)}${preloadFigure(result, samples)}${clearanceFigure(result, samples)}</section>
`,
      outcomeTables(result),
      rareSection(result),
      requirementTables(result),
      quantileTables(result),
      heatSection(result),
      extendedSection(result),
      flagTable(result),
      nominalTable(result),
      assumptionTable(result),
      inputTable(result),
      warningList(result),
      methodSection(result, samples),
      cautions(),
    ],
    copies: true,
    foot: footOf(provenance, `${count(provenance.samples)} samples`),
  }).text;
}

/** Figures tell states apart by their label; where two are called the same, their names are added. */
function withDistinctLabels(result: RunResult): RunResult {
  const isTwice = (label: string) => result.states.filter((state) => state.label === label).length > 1;
  const states = result.states.map((state) =>
    isTwice(state.label) ? { ...state, label: `${state.label} (${state.name})` } : state,
  );
  return { ...result, states };
}
