import { addDevice } from "./device.ts";
import type { Ledger } from "./ledger.ts";

import type { SpringEntry } from "./schema-method.ts";
import type { Arrangement, ChainMember, Material, RingName, SeatSide, Side, SpringMethod } from "./types.ts";
import { rangeWords, usualRange, valueWords } from "./words.ts";

const MOST_SPRINGS = 100;

/** The spring with its variables; length, rate and travel of one spring, and how many act together. */
export function resolveSpring(ledger: Ledger, entry: SpringEntry, arrangement: Arrangement): SpringMethod {
  const form = entry.form ?? "wave";
  const slides = entry.slides ?? "outer-b";
  ledger.note({
    path: "preload.spring.slides",
    label: "ring that the spring pushes",
    value: `${ringWords(slides)}, from the ${seatSideOf(slides, arrangement)} side`,
    origin: entry.slides === undefined ? "assumption" : "given",
    source: entry.slides === undefined ? "not given" : "",
  });
  const parallelCount = springCount(ledger, "parallel", entry.parallel);
  const seriesCount = springCount(ledger, "series", entry.series);
  const positive = { bareUnit: "mm", low: 0, openLow: true, high: 500 };
  const freeLength = addDevice(ledger, "spring.freeLength", "free length of the spring", "mm", {
    written: entry.freeLength,
    dimension: "length",
    options: positive,
  });
  const rate = addDevice(ledger, "spring.rate", "rate of the spring", "N/mm", {
    written: entry.rate,
    dimension: "stiffness",
    options: { low: 0, openLow: true, high: 1e5 },
  });
  const given = [entry.solidHeight, entry.stop].filter((value) => value !== undefined);
  if (given.length > 1 || (given.length === 0 && form !== "diaphragm")) {
    ledger.problem({
      code: given.length > 1 ? "conflict" : "missing",
      path: `preload.spring.${given.length > 1 ? "stop" : "solidHeight"}`,
      expected: "either solidHeight, the length when pressed solid, or stop, the travel to a stop",
      got: given.length > 1 ? "both" : "none of them",
    });
  }
  const end: SpringMethod["end"] =
    entry.solidHeight !== undefined
      ? {
          kind: "solid",
          variable: addDevice(ledger, "spring.solidHeight", "solid height of the spring", "mm", {
            written: entry.solidHeight,
            dimension: "length",
            options: { ...positive, openLow: false },
          }),
        }
      : entry.stop !== undefined
        ? {
            kind: "stop",
            variable: addDevice(ledger, "spring.stop", "travel of the spring to its stop", "mm", {
              written: entry.stop,
              dimension: "length",
              options: positive,
            }),
          }
        : null;
  const spring: SpringMethod = { kind: "spring", form, slides, rate, freeLength, end, parallelCount, seriesCount };
  checkSolid(ledger, spring);
  return spring;
}

function springCount(ledger: Ledger, key: "parallel" | "series", written: number | undefined): number {
  const count = written ?? 1;
  if (!(Number.isInteger(count) && count >= 1 && count <= MOST_SPRINGS)) {
    ledger.problem({
      code: "out-of-range",
      path: `preload.spring.${key}`,
      expected: `a whole number of springs from 1 to ${MOST_SPRINGS}`,
      got: String(count),
    });
  }
  return count;
}

/** A spring that is solid before it is pressed has no travel at all. */
function checkSolid(ledger: Ledger, { end, freeLength }: SpringMethod): void {
  if (end?.kind !== "solid") return;
  const free = usualRange(ledger.distribution(freeLength));
  const solid = usualRange(ledger.distribution(end.variable));
  if (solid.high >= free.low) {
    ledger.problem({
      code: "impossible-geometry",
      path: "preload.spring.solidHeight",
      expected: `a solid height below the free length of ${rangeWords(free.low, free.high, "mm")}, over the whole spread of both`,
      got: rangeWords(solid.low, solid.high, "mm"),
      hint: "A spring that is solid at its free length has no travel",
    });
  }
}

/** Travel of the whole stack at the middle of its limits, mm; Infinity without an end. */
function nominalTravelMm(ledger: Ledger, { end, freeLength, seriesCount }: SpringMethod): number {
  if (end === null) return Number.POSITIVE_INFINITY;
  const middle = (index: number) => {
    const { low, high } = usualRange(ledger.distribution(index));
    return 0.5 * (low + high);
  };
  return seriesCount * (end.kind === "stop" ? middle(end.variable) : middle(freeLength) - middle(end.variable));
}

/** The side from which the preload pushes a ring onto what stands there: where its spring must be. */
export function seatSideOf(ring: RingName, arrangement: Arrangement): SeatSide {
  return (arrangement === "back-to-back") === ring.startsWith("outer") ? "inboard" : "outboard";
}

function sideOf(ring: RingName): Side {
  return ring.startsWith("outer") ? "housing" : "shaft";
}

function ringWords(ring: RingName): string {
  const [kind, key] = ring.split("-");
  return `the ${kind} ring of bearing ${key}`;
}

/**
 * The spring as a member of the chain, at its free length as if it were solid. A longer spring means more offset whatever
 * the arrangement, since it stands where it pushes the ring the way that loads the pair.
 */
export function springMember(
  spring: SpringMethod,
  arrangement: Arrangement,
  materials: Readonly<Record<Side, Material>>,
): ChainMember {
  const side = sideOf(spring.slides);
  const direction = (arrangement === "back-to-back" ? 1 : -1) * (side === "housing" ? 1 : -1);
  return {
    name: "spring at its free length",
    side,
    factor: direction * spring.seriesCount,
    length: spring.freeLength,
    material: materials[side],
    zone: side,
    areaMm2: null,
    inClampPath: false,
    carriesPreload: false,
  };
}

/** A spring must be pressed as assembled, and not solid. */
export function checkDeflection(ledger: Ledger, spring: SpringMethod, offsetMm: number): void {
  const travelMm = nominalTravelMm(ledger, spring);
  if (!(offsetMm > 0)) {
    if (Number.isNaN(offsetMm)) return;
    ledger.problem({
      code: "impossible-geometry",
      path: "preload.spring.freeLength",
      expected: "a spring longer than the room that the chain leaves for it",
      got: `${valueWords(-offsetMm, "mm")} shorter`,
      hint: "Without force on it the spring sets no preload",
    });
  } else if (offsetMm >= travelMm) {
    ledger.problem({
      code: "impossible-geometry",
      path: "preload.spring.freeLength",
      expected: `a spring pressed by less than its travel of ${valueWords(travelMm, "mm")} as assembled`,
      got: `pressed by ${valueWords(offsetMm, "mm")}, solid`,
      hint: "Check the room for the spring, its free length and its solid height",
    });
  }
}
