import { pow } from "../numeric/elementary.ts";
import { didYouMean } from "../units/nearest.ts";
import { parseQuantity } from "../units/quantity.ts";
import type { ToleranceCost, ToleranceCosts } from "./decide-types.ts";
import type { Ledger } from "./ledger.ts";
import type { MemberCostEntry, ToleranceCostsEntry } from "./schema-decide.ts";
import { usualRange, valueWords } from "./words.ts";

/** How far a curve is trusted where nothing is said: a fifth and five times of the tolerance as drawn. */
const REACH = 5;

const FORMS = ["reciprocal", "reciprocalSquared", "power", "exponential", "table"] as const;

/** What the tolerances of the chain cost, or null where nothing is said of it. */
export function resolveToleranceCosts(ledger: Ledger, entry: ToleranceCostsEntry | undefined): ToleranceCosts | null {
  if (entry === undefined) return null;
  const currency = entry.currency ?? "";
  const names = ledger.names.filter((name) => name.startsWith("chain.")).map((name) => name.slice("chain.".length));
  const members = Object.entries(entry.chain).flatMap(([name, cost]) => {
    const path = `toleranceCosts.chain.${name}`;
    const variable = ledger.indexOf(`chain.${name}`);
    if (variable === undefined) {
      const hint = didYouMean(name, names);
      ledger.problem({
        code: "unknown-name",
        path,
        expected: `a member of the chain: ${names.join(", ")}`,
        got: name,
        hint,
      });
      return [];
    }
    const { low, high } = usualRange(ledger.distribution(variable));
    const found = memberCost(ledger, cost, path, 0.5 * (high - low));
    if (found === null) return [];
    ledger.note({
      path,
      label: `price of the tolerance of the ${name}`,
      value: `${costWords(found)}${currency === "" ? "" : `, in ${currency}`}, from ±${valueWords(found.lowMm, "mm")} to ±${valueWords(found.highMm, "mm")}`,
      origin: "given",
      source: "",
    });
    return [{ ...found, variable }];
  });
  return { currency, members };
}

function memberCost(
  ledger: Ledger,
  cost: MemberCostEntry,
  path: string,
  drawnMm: number,
): Omit<ToleranceCost, "variable"> | null {
  const given = FORMS.filter((form) => cost[form] !== undefined);
  if (given.length !== 1) {
    ledger.problem({
      code: given.length === 0 ? "missing" : "conflict",
      path,
      expected: `one of ${FORMS.join(", ")}`,
      got: given.length === 0 ? "none" : given.join(" and "),
    });
    return null;
  }
  const length = (written: string | number, where: string) =>
    parseQuantity(typeof written === "string" ? written.replace(/^\s*±\s*/, "") : written, "length", where, {
      low: 0,
      openLow: true,
      high: 10,
    });
  if (cost.table !== undefined) {
    const steps = cost.table.map((row, place) => ({
      process: row.process,
      toleranceMm: ledger.attempt(() => length(row.tolerance, `${path}.table.${place}.tolerance`), Number.NaN),
      price: row.price,
    }));
    if (steps.length === 0) {
      ledger.problem({ code: "missing", path: `${path}.table`, expected: "at least one process", got: "none" });
      return null;
    }
    const tolerances = steps.map(({ toleranceMm }) => toleranceMm);
    return { price: { kind: "processes", steps }, lowMm: Math.min(...tolerances), highMm: Math.max(...tolerances) };
  }
  const end = (key: "from" | "to", without: number): number => {
    const written = cost[key];
    return written === undefined ? without : ledger.attempt(() => length(written, `${path}.${key}`), without);
  };
  const lowMm = end("from", drawnMm / REACH);
  const highMm = end("to", drawnMm * REACH);
  if (lowMm > highMm) {
    ledger.problem({ code: "reversed-limits", path, expected: "from below to", got: `${lowMm} to ${highMm} mm` });
  }
  return { price: curveOf(cost), lowMm, highMm };
}

/** The scenario counts tolerances in µm. */
function curveOf({ reciprocal, reciprocalSquared, power, exponential }: MemberCostEntry): ToleranceCost["price"] {
  if (exponential !== undefined) return { kind: "exponential", a: exponential.a, scaleMm: 1e-3 / exponential.b };
  const [curve, exponentRatio] =
    reciprocal !== undefined
      ? [reciprocal, 1]
      : reciprocalSquared !== undefined
        ? [reciprocalSquared, 2]
        : [power!, power!.k];
  return { kind: "power", a: curve.a, bPerMmPower: curve.b * pow(1e-3, exponentRatio), exponentRatio };
}

function costWords({ price }: Pick<ToleranceCost, "price">): string {
  switch (price.kind) {
    case "processes":
      return price.steps
        .map(({ process, toleranceMm, price: of }) => `${process} ±${valueWords(toleranceMm, "mm")}: ${of}`)
        .join(", ");
    case "exponential":
      return `${price.a}·exp(−t/${valueWords(price.scaleMm, "mm")})`;
    case "power": {
      const b = Number((price.bPerMmPower / pow(1e-3, price.exponentRatio)).toPrecision(6));
      return `${price.a} + ${b}/t${price.exponentRatio === 1 ? "" : `^${price.exponentRatio}`}, t in µm`;
    }
  }
}
