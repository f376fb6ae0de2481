import type { RunResult, SampleTable } from "../../studies/result.ts";
import { html, type Markup } from "../html.ts";
import { count, decimal, listing, percent, significant } from "../words.ts";
import { provenanceTable } from "./provenance.ts";

type Result = Omit<RunResult, "verdict">;

const INTERVALS = {
  wilson: "Wilson",
  "clopper-pearson": "Clopper–Pearson",
  integrated: "t over scrambled point sets",
  importance: "weights of importance samples",
  subset: "t over runs of subset simulation",
} as const;

/** What was done, so that it can be done again. */
export function methodSection(result: Result, samples: SampleTable): Markup {
  const { provenance, batch, overall, states } = result;
  const shares = [
    overall.goodInEveryState,
    overall.failsAtBench,
    overall.failsInService,
    ...states.flatMap((state) => Object.values(state.outcomes)),
  ];
  const methods = [...new Set(shares.map(({ method }) => INTERVALS[method]))];
  return html`<section><h2>Method and checks</h2>
<p>Every unit is drawn with its own dimensions, clearances, fits and temperatures, and the pair is solved in every state: thermal growth, fits as thick-walled cylinders, Hertz contact of all balls, and the balance of the two bearings. A unit is good exactly if its preload is in the window in every state${result.requirements.length > 0 ? " and it meets every requirement there" : ""}.</p>
<p>Intervals of shares: ${listing(methods)}, 95 %. They say how well this run knows the figure for the inputs as given, not how well the inputs are known. The range of a batch ${batch.method === "binomial" ? "is that of independent units (binomial): no spread was stated as shared by a whole batch" : "counts the spread that the units of a batch share (nested draws)"}.</p>
${integrationParagraph(result.integration)}${provenanceTable(provenance, [
  ["samples", count(provenance.samples)],
  ["units kept for the figures", count(samples.count)],
  ["units behind the contributors", count(result.contributors.samples)],
])}
<p>The same scenario, seed, sample count and stream version give the same figures, whatever the machine or the number of workers.</p>
</section>
`;
}

/** What was integrated along, and why; nothing where nothing was. */
function integrationParagraph(integration: Result["integration"]): Markup | string {
  if (integration === null) return "";
  const { along, replicates, pointsPerReplicate, worthRatio, evaluationsPerPoint, manyCrossingsRatio, pilot } =
    integration;
  const sets = `${count(replicates)} independent scrambles of ${count(pointsPerReplicate)} Sobol’ points`;
  const how =
    along === "offset"
      ? `${sets} of everything but the offset, turned to the directions that tell most; for each the law of the offset is integrated over the window in closed form`
      : `${sets}, each of them a line along the standardised slope of the limits, integrated between the places where the limits are crossed (${decimal(evaluationsPerPoint, 0)} evaluations a line; ${percent(manyCrossingsRatio)} of the limits are crossed more than once, and every stretch counts)`;
  const worth =
    Number.isFinite(worthRatio) && worthRatio > 0
      ? ` One is worth ${significant(worthRatio, 2)} plain samples for the yield.`
      : "";
  return html`<p>Integrated shares: ${how}.${worth}${pilotSentence(pilot)} Plain sampling ran beside it, and the two agree within their errors.</p>
`;
}

function pilotSentence(pilot: NonNullable<Result["integration"]>["pilot"]): string {
  if (pilot.length === 0) return "";
  const words = { offset: "along the offset", slope: "along the slope" };
  const found = pilot.map(
    ({ along, worthRatio }) =>
      `${worthRatio === null ? "more than can be told" : significant(worthRatio, 2)} ${words[along]}`,
  );
  const worth = `plain samples that one evaluation of the model is worth: ${listing(found)}`;
  return pilot.length === 1
    ? ` A small pilot found nothing that another direction could win (${worth}).`
    : ` A small pilot chose the direction (${worth}).`;
}

export function cautions(): Markup {
  return html`<section><h2>Cautions</h2>
<ul>
<li>The verdict is a probability that follows from the inputs. Where an input is wrong or assumed, so is the verdict: measure a few units before a series is released.</li>
<li>A unit that binds when hot can seize. Rotating machinery stores energy: guard it, and stop and lock it before anyone reaches in.</li>
<li>Where the shaft carries a brake, or its loss would let go a load or a person, a pair outside its window is a hazard: assess it by the rules for that machine.</li>
<li>Heated parts, ovens and presses burn and crush: fit rings by a written procedure.</li>
<li>This report does not replace the standards it names, local codes, a bearing supplier's advice or the judgement of a licensed engineer.</li>
</ul>
</section>
`;
}
