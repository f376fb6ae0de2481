import type { Provenance } from "../studies/result.ts";

/**
 * The last line of a page: what made it, enough to make it again.
 *
 * @param extent how much was drawn, in words
 */
export function footOf(provenance: Provenance, extent: string): string {
  const { scenario, seed, program, version, streamVersion, catalogueVersion, platform, scenarioHash } = provenance;
  const maker = `${program} ${version}, streams ${streamVersion}, catalogue ${catalogueVersion}, ${platform}`;
  return `${scenario} · seed “${seed}” · ${extent} · ${maker} · scenario ${scenarioHash}`;
}
