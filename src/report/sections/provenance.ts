import type { Provenance } from "../../studies/result.ts";
import { dataTable } from "../figures/figure.ts";
import { html, type Markup } from "../html.ts";

/**
 * What made the figures of a page, so that they can be made again.
 *
 * @param drawn how much was drawn: what, and how many
 */
export function provenanceTable(
  provenance: Provenance,
  drawn: readonly (readonly [what: string, howMany: string])[],
): Markup {
  return dataTable(
    {
      head: ["what", "value"],
      rows: [
        ...drawn,
        ["seed", provenance.seed],
        ["stream version", String(provenance.streamVersion)],
        ["program", `${provenance.program} ${provenance.version}`],
        ["catalogue version", provenance.catalogueVersion],
        ["scenario schema version", String(provenance.schemaVersion)],
        ["scenario", provenance.scenario],
        ["scenario hash (SHA-256)", html`<code class="hash">${provenance.scenarioHash}</code>`],
        ["platform", provenance.platform],
      ],
      numeric: [],
    },
    "Provenance",
  );
}
