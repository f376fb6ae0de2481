import { type Table, tableFromIPC } from "apache-arrow";
import { arrowDamage } from "./arrow-check.ts";

/**
 * Reads an Arrow file or stream whose framing and metadata have been looked at.
 *
 * @returns the table, or what is wrong with it
 */
export function openArrow(bytes: Uint8Array): Table | string {
  const damage = arrowDamage(bytes);
  if (damage !== null) return damage;
  try {
    return tableFromIPC(bytes);
  } catch (error) {
    return error instanceof Error ? error.message : String(error);
  }
}
