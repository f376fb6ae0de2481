import {
  between,
  groupOf,
  isFlag,
  isPresent,
  isText,
  listOf,
  oneOf,
  orMissing,
  orNull,
  type Shape,
  tableOf,
  wholeBetween,
} from "./shape.ts";

/** More of anything than a study takes: a result that says so was not written by the program. */
const MOST = 10_000;

const size = groupOf({
  points: (value) => wholeBetween(1, 65_536)(value) && ((value as number) & ((value as number) - 1)) === 0,
  samples: wholeBetween(1, 1e10),
});
const lengthMm = between(1e-9, 1e3);
const price = between(0, 1e12);
const member = orNull(isText);
const axis = groupOf({
  path: isText,
  unit: orNull(isText),
  values: listOf(groupOf({ text: isText, number: orNull(between(-1e300, 1e300)) }), MOST),
  kept: isText,
  dropsSpread: isFlag,
});
const variant = groupOf({ name: isText, changes: listOf(groupOf({ path: isText, value: isPresent }), MOST) });

/** What the results of each study say was asked for, beside the scenario. */
export const ASKED = {
  run: groupOf({ rare: isFlag }),
  // Everything stands in the scenario.
  audit: () => true,
  batch: () => true,
  fit: groupOf({
    table: isText,
    column: orMissing(isText),
    unit: orMissing(isText),
    limits: orMissing(isText),
    gaugeSd: orMissing(isText),
    gaugeStudy: orMissing(isText),
    lots: orMissing(isText),
    separator: orMissing(isText),
    decimal: orMissing(isText),
    skipBad: orMissing(isFlag),
  }),
  compare: groupOf({ variants: listOf(variant, MOST), size }),
  sweep: groupOf({ over: axis, and: orNull(axis), targetRatio: orNull(between(0, 1)), size }),
  ranges: groupOf({ parameters: listOf(axis, MOST), size }),
  centre: groupOf({
    resolutionMm: lengthMm,
    member,
    prices: orNull(groupOf({ scrap: price, warranty: price, currency: isText })),
    size,
  }),
  allocate: groupOf({
    targetRatio: between(0, 1),
    grid: (value) =>
      groupOf({ kind: oneOf("grades") })(value) || groupOf({ kind: oneOf("step"), stepMm: lengthMm })(value),
    resolutionMm: lengthMm,
    movesNominal: isFlag,
    member,
    size,
  }),
  contributors: groupOf({ size }),
  methods: groupOf({ groups: listOf(wholeBetween(2, 50), 6), prices: tableOf(price), size }),
  shims: groupOf({
    measure: orNull(oneOf("dimensions", "play")),
    stepsMm: listOf(lengthMm, 100),
    error: orNull(isText),
    batchSize: wholeBetween(1, 1e10),
    serviceRatio: between(0, 1),
    member,
    size,
  }),
} as const satisfies Readonly<Record<string, Shape>>;

export type StudyName = keyof typeof ASKED;
