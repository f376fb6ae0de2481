import type { Ledger } from "./ledger.ts";
import { temperatureRangeC } from "./states.ts";
import type { Bearing, ChainMember, DutyState, Material, Zone } from "./types.ts";
import { valueWords } from "./words.ts";

/** Warns once for each material and state in which a part leaves the range that the material's figures are stated for. */
export function warnOfMaterialRanges(
  ledger: Ledger,
  scenario: {
    readonly bearings: { readonly a: Bearing; readonly b: Bearing };
    readonly chain: readonly ChainMember[];
    readonly states: readonly DutyState[];
  },
): void {
  const parts: { material: Material; zone: Zone }[] = [];
  for (const bearing of [scenario.bearings.a, scenario.bearings.b]) {
    parts.push({ material: bearing.ringMaterial, zone: `inner-${bearing.key}` });
    parts.push({ material: bearing.ringMaterial, zone: `outer-${bearing.key}` });
    parts.push({ material: bearing.ballMaterial, zone: `balls-${bearing.key}` });
    parts.push({ material: bearing.inner.mateMaterial, zone: "shaft" });
    parts.push({ material: bearing.outer.mateMaterial, zone: "housing" });
  }
  for (const { material, zone } of scenario.chain) parts.push({ material, zone });

  for (const state of scenario.states) {
    if (state.network !== null) continue;
    const seen = new Set<string>();
    for (const { material, zone } of parts) {
      const { low, high } = temperatureRangeC(ledger, state.zones[zone]);
      const beyond = high > material.highestC ? high : low < material.lowestC ? low : null;
      if (beyond === null || seen.has(material.name)) continue;
      seen.add(material.name);
      const range = `${valueWords(material.lowestC, "degC")} to ${valueWords(material.highestC, "degC")}`;
      const reached = valueWords(Number(beyond.toFixed(1)), "degC");
      const message = `In state ${state.label} a part of ${material.name} reaches ${reached}; its figures are stated for ${range}.`;
      ledger.warn("material-range", `states.${state.name}`, message);
    }
  }
}
