import { InputError } from "../errors.ts";
import { parseQuantity } from "../units/quantity.ts";
import { parseToleranced } from "../units/tolerance.ts";
import { assumed } from "./assumptions.ts";
import type { Ledger } from "./ledger.ts";
import type { ScenarioDocument } from "./schema.ts";
import type { Quantity } from "./schema-drawn.ts";
import type { PreloadLimits } from "./types.ts";
import { rangeWords, valueWords } from "./words.ts";

const OF_C = /^(.*?)\s*(?:of|[x×*·])?\s*\bC$/;

/**
 * Target window and bind limits in N. `% of C` means the smaller of the two dynamic ratings.
 *
 * @param dynamicRatingN the smaller C of the pair, N
 */
export function resolveLimits(
  ledger: Ledger,
  { window, bind, requirements }: Pick<ScenarioDocument, "window" | "bind" | "requirements">,
  dynamicRatingN: number,
): PreloadLimits {
  if (window === undefined && requirements !== undefined && requirements.length > 0) {
    return withoutWindow(ledger, bind, dynamicRatingN);
  }
  const { low: lowN, high: highN } = ledger.attempt(() => windowN(window, dynamicRatingN), {
    low: Number.NaN,
    high: Number.NaN,
  });
  const ofC = (valueN: number) => shareOfC(valueN, dynamicRatingN);
  ledger.note({
    path: "window",
    label: "target window of the preload",
    value: `${rangeWords(lowN, highN, "N")} (C = ${valueWords(dynamicRatingN, "N")})`,
    origin: window === undefined ? "assumption" : "given",
    source: window === undefined ? assumed.window.why : `${ofC(lowN)} to ${ofC(highN)}`,
  });
  const { bindN, bindPressureMPa } = bindLimits(ledger, bind, dynamicRatingN);
  if (bindN <= highN) {
    ledger.problem({
      code: "conflict",
      path: bind?.preload === undefined ? "window" : "bind.preload",
      expected: `a bind limit above the window, that is above ${valueWords(highN, "N")}`,
      got: valueWords(bindN, "N"),
      hint: bind?.preload === undefined ? "Give bind.preload" : undefined,
    });
  }
  return { lowN, highN, bindN, bindPressureMPa };
}

/** With requirements and no window, any preload that is above 0 and does not bind is on target. */
function withoutWindow(ledger: Ledger, bind: ScenarioDocument["bind"], dynamicRatingN: number): PreloadLimits {
  ledger.note({
    path: "window",
    label: "target window of the preload",
    value: "any preload above 0 and below bind",
    origin: "assumption",
    source: "not given, and there are requirements: those decide",
  });
  const { bindN, bindPressureMPa } = bindLimits(ledger, bind, dynamicRatingN);
  return { lowN: 0, highN: bindN, bindN, bindPressureMPa };
}

function shareOfC(valueN: number, dynamicRatingN: number): string {
  return `${Number(((100 * valueN) / dynamicRatingN).toPrecision(3))} % of C`;
}

function bindLimits(
  ledger: Ledger,
  bind: ScenarioDocument["bind"],
  dynamicRatingN: number,
): Pick<PreloadLimits, "bindN" | "bindPressureMPa"> {
  const bindN = ledger.attempt(
    () =>
      bind?.preload === undefined
        ? assumed.bindPreload.ratioOfC * dynamicRatingN
        : forceN(bind.preload, "bind.preload", dynamicRatingN),
    Number.NaN,
  );
  ledger.note({
    path: "bind.preload",
    label: "preload that counts as binding",
    value: `${valueWords(bindN, "N")}`,
    origin: bind?.preload === undefined ? "assumption" : "given",
    source: bind?.preload === undefined ? assumed.bindPreload.why : shareOfC(bindN, dynamicRatingN),
  });
  const bindPressureMPa = ledger.attempt(() => pressureMPa(bind?.pressure), Number.NaN);
  ledger.note({
    path: "bind.pressure",
    label: "peak Hertz pressure that counts as binding",
    value: bindPressureMPa === null ? "not limited" : valueWords(bindPressureMPa, "MPa"),
    origin: bind?.pressure === undefined ? "assumption" : "given",
    source: bind?.pressure === undefined ? assumed.bindPressure.why : "",
  });
  return { bindN, bindPressureMPa };
}

function windowN(window: ScenarioDocument["window"], dynamicRatingN: number): { low: number; high: number } {
  if (window === undefined) {
    return { low: assumed.window.lowOfCRatio * dynamicRatingN, high: assumed.window.highOfCRatio * dynamicRatingN };
  }
  const { low, high } =
    typeof window === "string"
      ? rangeN(window, dynamicRatingN)
      : {
          low: forceN(window.low, "window.low", dynamicRatingN),
          high: forceN(window.high, "window.high", dynamicRatingN),
        };
  const got = typeof window === "string" ? window : `${window.low} to ${window.high}`;
  if (low > high) {
    const hint = typeof window === "string" ? "The lower preload comes first" : "Swap low and high";
    throw new InputError({ code: "reversed-limits", path: "window", expected: "low below high", got, hint });
  }
  if (low === high) throw new InputError({ code: "reversed-limits", path: "window", expected: "low below high", got });
  return { low, high };
}

function rangeN(text: string, dynamicRatingN: number): { low: number; high: number } {
  const share = OF_C.exec(text.trim());
  const limits = { low: 0 };
  const range =
    share === null
      ? parseToleranced(text, "force", "window", limits)
      : parseToleranced(share[1], "ratio", "window", { low: 0, high: 1 });
  if (range.kind !== "range" && range.kind !== "limits") {
    throw new InputError({
      code: "wrong-type",
      path: "window",
      expected: 'two limits such as "50..150 N" or "0.5..1.5 % of C"',
      got: text,
    });
  }
  const unitN = share === null ? 1 : dynamicRatingN;
  return { low: range.low * unitN, high: range.high * unitN };
}

/** A force, or a share of C. */
function forceN(value: Quantity, path: string, dynamicRatingN: number): number {
  const share = typeof value === "string" ? OF_C.exec(value.trim()) : null;
  if (share !== null) return parseQuantity(share[1], "ratio", path, { low: 0, high: 1 }) * dynamicRatingN;
  return parseQuantity(value, "force", path, { low: 0 });
}

function pressureMPa(value: Quantity | undefined): number | null {
  if (value === undefined) return assumed.bindPressure.pressureMPa;
  if (typeof value === "string" && value.trim().toLowerCase() === "none") return null;
  return parseQuantity(value, "pressure", "bind.pressure", { low: 0, openLow: true });
}
