import type { Ledger } from "./ledger.ts";
import type { ScenarioDocument } from "./schema.ts";
import type { Bearing } from "./types.ts";

type FrictionBearing = Pick<Bearing, "key" | "designation" | "frictionSeries">;

/** Says whose friction factors are taken, and with what lubrication, where any torque is worked out. */
export function noteFriction(ledger: Ledger, document: ScenarioDocument, bearings: readonly FrictionBearing[]): void {
  const usesFriction =
    document.extended !== undefined ||
    document.bind?.torque !== undefined ||
    document.preload?.adjuster?.torque !== undefined ||
    (document.states ?? []).some(({ network }) => network !== undefined);
  if (!usesFriction) return;
  for (const { key, designation, frictionSeries } of bearings) {
    const isOwn = designation?.startsWith(frictionSeries) ?? false;
    ledger.note({
      path: `bearings.${key}.frictionSeries`,
      label: `series whose friction factors are taken for bearing ${key}`,
      value: frictionSeries,
      origin: isOwn ? "catalogue" : "assumption",
      source: isOwn
        ? "printed factors f0 and f1 of the series"
        : "its own series has no printed factors: one that is built alike",
    });
  }
  ledger.note({
    path: "lubrication",
    label: "lubrication, for friction torque and heat",
    value: document.lubrication ?? "grease",
    origin: document.lubrication === undefined ? "assumption" : "given",
    source: document.lubrication === undefined ? "not given" : "",
  });
}
