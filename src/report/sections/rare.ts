import type { RareResult, RunResult } from "../../studies/result.ts";
import { dataTable } from "../figures/figure.ts";
import { html, type Markup } from "../html.ts";
import { capital, count, decimal, interval, listing, NOTHING, OUTCOME_NAMES, percent, stateLabel } from "../words.ts";

type Result = Omit<RunResult, "verdict">;

const METHODS: Readonly<Record<RareResult["method"], string>> = {
  importance: "importance sampling",
  subset: "subset simulation",
  excluded: "worst case",
  remote: "nearest way there",
  unresolved: "neither way passed its own checks",
};

/** What an event is called: `binds, hot`. */
function rareName(result: Result, { what, state, outcome }: RareResult): string {
  if (what === "bench") return "fails at the bench";
  if (what === "service") return "fails in service";
  return `${outcome === null ? "" : OUTCOME_NAMES[outcome]}, ${stateLabel(result.states, state ?? "")}`;
}

/** What plain sampling saw fewer than ten times; null where there is nothing of the kind. */
export function rareSection(result: Result): Markup | null {
  const { rare, provenance } = result;
  if (rare.length === 0) return null;
  const excluded = rare.filter(({ method }) => method === "excluded");
  const isOpen = ({ method, samples }: RareResult) => method === "unresolved" && samples === 0;
  const open = rare.filter(isOpen);
  const others = rare.filter((found) => found.method !== "excluded" && !isOpen(found));
  return html`<section><h2>Rare outcomes</h2>
<p>Seen fewer than ten times in ${count(provenance.samples)} units, so looked for where they are likeliest: samples are drawn around the nearest combination of deviations that leads there, and weighted by how likely they are.</p>
${
  others.length === 0
    ? null
    : dataTable(
        {
          head: ["what", "share", "95 % interval", "distance, standard deviations", "worth, events", "how"],
          rows: others.map((found) => [
            capital(rareName(result, found)),
            found.method === "remote" ? `below ${percent(found.highRatio)}` : percent(found.shareRatio),
            found.method === "remote" ? NOTHING : interval(found),
            found.distanceRatio === null
              ? found.method === "remote"
                ? "more than 6"
                : NOTHING
              : decimal(found.distanceRatio, 1),
            found.effectiveCount === 0 ? NOTHING : count(found.effectiveCount),
            METHODS[found.method],
          ]),
          numeric: [1, 2, 3, 4],
        },
        "Rare outcomes",
      )
}
${
  others.some(({ method }) => method === "remote")
    ? html`<p>What is more than six standard deviations away is bounded to the first order only.</p>`
    : null
}
${
  excluded.length === 0
    ? null
    : html`<p>Not reached within the limits given, not even in the worst case of all of them: ${listing(excluded.map((found) => rareName(result, found)))}. Parts outside their limits are another matter.</p>`
}
${
  open.length === 0
    ? null
    : html`<p>Not come upon within seven standard deviations, and no more is claimed than the bounds of plain sampling: ${listing(open.map((found) => rareName(result, found)))}.</p>`
}
</section>
`;
}
