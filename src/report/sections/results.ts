import { FLAGS } from "../../model/outcome.ts";
import type { QuantitySummary, RunResult, Share } from "../../studies/result.ts";
import { dataTable } from "../figures/figure.ts";
import { html, type Markup } from "../html.ts";
import { OUTCOME_ORDER } from "../palette.ts";
import { quantileOf } from "../quantile.ts";
import {
  capital,
  causeName,
  celsius,
  count,
  FLAG_SENTENCES,
  interval,
  micrometres,
  newtons,
  OUTCOME_MEANINGS,
  OUTCOME_NAMES,
  percent,
  shareInterval,
  shareText,
  shareValue,
  stateLabel,
} from "../words.ts";

type Result = Omit<RunResult, "verdict">;

/** Shares of the classes with their intervals, and the fate of a unit over all states. */
export function outcomeTables(result: Result): Markup {
  const { overall } = result;
  const row = (label: string, meaning: string, share: Share) => [
    label,
    shareValue(share),
    shareInterval(share),
    count(share.count),
    meaning,
  ];
  const averaged = overall.averagedOverStates;
  return html`<section><h2>Outcome shares</h2>
<p>Good in every state and averaged over states are different figures: a unit that is good in nine states and binds in the tenth is a bad unit, but good in nine tenths of the states.</p>
${dataTable(
  {
    head: ["over all states", "share", "95 % interval", "units", "meaning"],
    rows: [
      row("Good in every state", "the yield", overall.goodInEveryState),
      ["Averaged over states", percent(averaged.shareRatio), interval(averaged), "", "by each state's share of duty"],
      row("Fails at the bench", "scrap or rework", overall.failsAtBench),
      row("Fails in service", "passes the bench, fails later", overall.failsInService),
    ],
    numeric: [1, 2, 3],
  },
  "Outcome over all states",
)}
${
  overall.serviceCauses.length === 0
    ? null
    : dataTable(
        {
          head: ["fails in service first", "share", "95 % interval", "units", "how"],
          rows: overall.serviceCauses.map((cause) =>
            row(stateLabel(result.states, cause.state), causeName(cause.outcome), cause.share),
          ),
          numeric: [1, 2, 3],
        },
        "Causes of failure in service",
      )
}
${result.states.map(
  (state) => html`<h3>${capital(state.label)}</h3>
${dataTable(
  {
    head: ["class", "share", "95 % interval", "units", "meaning"],
    rows: OUTCOME_ORDER.map((outcome) =>
      row(OUTCOME_NAMES[outcome], OUTCOME_MEANINGS[outcome], state.outcomes[outcome]),
    ),
    numeric: [1, 2, 3],
  },
  `Outcome shares, ${state.label}`,
)}`,
)}
</section>
`;
}

const PROBABILITIES = [0.01, 0.05, 0.5, 0.95, 0.99];

/** Quantiles of preload, play and offset, and the temperatures they belong to. */
export function quantileTables(result: Result): Markup {
  const heads = PROBABILITIES.map((part) => (part === 0.5 ? "median" : `${part * 100} %`));
  const quantiles = (summary: QuantitySummary, print: (value: number) => string) =>
    PROBABILITIES.map((part) => print(quantileOf(summary, part)));
  return html`<section><h2>Preload and play</h2>
${dataTable(
  {
    head: ["preload", ...heads, "mean"],
    rows: result.states.map((state) => [
      state.label,
      ...quantiles(state.preloadN, newtons),
      newtons(state.preloadN.mean),
    ]),
  },
  "Preload quantiles",
)}
<p>Over all units; 0 N where there is play, negative where the bearings are loaded the wrong way round.</p>
${dataTable(
  {
    head: ["axial play left", "units", ...heads],
    rows: result.states.map((state) => [
      state.label,
      count(state.playMm.count),
      ...quantiles(state.playMm, micrometres),
    ]),
  },
  "Axial play quantiles",
)}
<p>Over the units without preload only.</p>
${dataTable(
  {
    head: ["mean temperature", "housing", "outer rings a, b", "inner rings a, b", "shaft"],
    rows: result.states.map(({ label, temperatureC }) => [
      label,
      celsius(temperatureC.housing.mean),
      `${celsius(temperatureC["outer-a"].mean)}, ${celsius(temperatureC["outer-b"].mean)}`,
      `${celsius(temperatureC["inner-a"].mean)}, ${celsius(temperatureC["inner-b"].mean)}`,
      celsius(temperatureC.shaft.mean),
    ]),
  },
  "Temperatures",
)}
</section>
`;
}

/** Flags that hold beside any class, in plain words. */
export function flagTable(result: Result): Markup {
  const seen = FLAGS.filter((flag) => result.states.some((state) => state.flags[flag].count > 0));
  return html`<section><h2>Other things seen</h2>
${
  seen.length === 0
    ? html`<p>No ring loses its seat, no clamp is exceeded and no ball passes the pressure limit in any unit of this run.</p>`
    : dataTable(
        {
          head: ["what", ...result.states.map((state) => state.label)],
          rows: seen.map((flag) => [
            capital(FLAG_SENTENCES[flag]),
            ...result.states.map((state) => shareText(state.flags[flag])),
          ]),
        },
        "Flags",
      )
}
</section>
`;
}
