import { classify, FLAGS, OUTCOMES, type Outcome, TARGET } from "../../src/model/outcome.ts";
import { type InternalUnit, type Origin, ZONES } from "../../src/scenario/types.ts";
import type {
  QuantitySummary,
  RunResult,
  SampleColumn,
  SampleTable,
  Share,
  StateResult,
} from "../../src/studies/result.ts";

/** Made-up but plausible results of three states, for everything that prints. No figure in it is a reference. */
export interface Fixture {
  readonly result: Omit<RunResult, "verdict">;
  readonly samples: SampleTable;
}

export interface FixtureOptions {
  readonly units?: number;
  readonly states?: readonly StateRecipe[];
  readonly machinedOffsetMm?: number;
  readonly requiredYieldRatio?: number | null;
  readonly batchSize?: number;
  /** Spread of the machined offset, mm. */
  readonly offsetSdMm?: number;
}

export interface StateRecipe {
  readonly name: string;
  readonly label: string;
  readonly housingC: number;
  readonly shaftC: number;
  /** How far the state moves the offset, mm. */
  readonly shiftMm: number;
  /** Clearance left by fits and temperature, mm less than free. */
  readonly lossMm: number;
}

export const THREE_STATES: readonly StateRecipe[] = [
  { name: "bench", label: "bench, 20 °C", housingC: 20, shaftC: 20, shiftMm: 0, lossMm: 0.004 },
  { name: "warm", label: "warm running", housingC: 45, shaftC: 38, shiftMm: 0.001, lossMm: 0.0042 },
  { name: "hot", label: "hot soak", housingC: 80, shaftC: 66, shiftMm: 0.006, lossMm: 0.0046 },
];

const LIMITS = { lowN: 40, highN: 260, bindN: 520, bindPressureMPa: 4200 };

export function makeFixture(options: FixtureOptions = {}): Fixture {
  const count = options.units ?? 4000;
  const recipes = options.states ?? THREE_STATES;
  const machined = options.machinedOffsetMm ?? 0.105;
  const draw = generator();
  const column = (make: () => number) => Float64Array.from({ length: count }, make);
  const freeA = column(() => 0.0125 + 0.0011 * draw());
  const freeB = column(() => 0.0125 + 0.0011 * draw());
  const offset = column(() => machined + (options.offsetSdMm ?? 0.0042) * draw());
  const standOut = column(() => 0.0016 * draw());

  const low = new Float64Array(count).fill(Number.NEGATIVE_INFINITY);
  const high = new Float64Array(count).fill(Number.POSITIVE_INFINITY);
  const states = recipes.map((recipe) => {
    const clearanceA = freeA.map((value) => value - recipe.lossMm + 0.0003 * draw());
    const clearanceB = freeB.map((value) => value - recipe.lossMm + 0.0003 * draw());
    const onset = clearanceA.map((a, unit) => halfPlay(a) + halfPlay(clearanceB[unit] ?? 0));
    const shift = column(() => recipe.shiftMm + Math.abs(recipe.shiftMm) * 0.15 * draw());
    const stateOffset = offset.map((value, unit) => value + (standOut[unit] ?? 0) + (shift[unit] ?? 0));
    const preload = stateOffset.map((value, unit) => preloadAt(value, onset[unit] ?? 0));
    const outcome = Uint8Array.from(preload, (force) => classify(force, false, LIMITS));
    const flags = Uint16Array.from(preload, () => (recipe.name === "hot" && draw() > 1.4 ? 8 : 0));
    const play = preload.map((force, unit) =>
      force === 0 ? 2 * ((onset[unit] ?? 0) - (stateOffset[unit] ?? 0)) : Number.NaN,
    );
    const endAt = (force: number) =>
      onset.map((value, unit) => value + (force / 5.2e4) ** (2 / 3) - (shift[unit] ?? 0) - (standOut[unit] ?? 0));
    const ends = { onset: endAt(0), low: endAt(LIMITS.lowN), high: endAt(LIMITS.highN), bind: endAt(LIMITS.bindN) };
    for (let unit = 0; unit < count; unit += 1) {
      low[unit] = Math.max(low[unit] ?? 0, ends.low[unit] ?? 0);
      high[unit] = Math.min(high[unit] ?? 0, ends.high[unit] ?? 0);
    }
    return { recipe, clearanceA, clearanceB, stateOffset, preload, outcome, flags, play, ends };
  });
  const empty = low.map((value, unit) => (value > (high[unit] ?? 0) ? 1 : 0));
  const lowKept = low.map((value, unit) => (empty[unit] === 1 ? Number.NaN : value));
  const highKept = high.map((value, unit) => (empty[unit] === 1 ? Number.NaN : value));
  const isGood = (state: (typeof states)[number], unit: number) => state.outcome[unit] === TARGET;
  const counted = (test: (unit: number) => boolean) => {
    let total = 0;
    for (let unit = 0; unit < count; unit += 1) if (test(unit)) total += 1;
    return share(total, count);
  };
  const bench = states[0];
  const good = counted((unit) => states.every((state) => isGood(state, unit)));
  const atBench = counted((unit) => bench !== undefined && !isGood(bench, unit));
  const inService = counted(
    (unit) => bench !== undefined && isGood(bench, unit) && !states.every((state) => isGood(state, unit)),
  );
  const causes = states.slice(1).flatMap((state, index) =>
    OUTCOMES.map((outcome, code) => ({
      state: state.recipe.name,
      outcome,
      share: counted(
        (unit) => states.slice(0, index + 1).every((earlier) => isGood(earlier, unit)) && state.outcome[unit] === code,
      ),
    })).filter((cause) => cause.outcome !== "target" && cause.share.count > 0),
  );
  const batchSize = options.batchSize ?? 400;
  const range = (part: Share) => {
    const expected = part.shareRatio * batchSize;
    const half = 1.645 * Math.sqrt(Math.max(expected * (1 - part.shareRatio), 0));
    return {
      expected,
      low: Math.max(0, Math.floor(expected - half)),
      high: Math.min(batchSize, Math.ceil(expected + half)),
    };
  };

  const result: Omit<RunResult, "verdict"> = {
    study: "run",
    asked: { rare: true },
    provenance: {
      program: "seatspread",
      version: "0.1.0",
      streamVersion: 1,
      catalogueVersion: "1",
      schemaVersion: 1,
      resultVersion: 1,
      scenario: "test-roller",
      scenarioHash: "5f0c".repeat(16),
      seed: "roller-1",
      samples: count,
      platform: "test",
    },
    title: "Test roller on a steel axle",
    description: "Aluminium hub, two deep-groove bearings of 17 mm bore, preload set by two spacers.",
    arrangement: "back-to-back",
    method: "position",
    unheldRings: [],
    requirements: [],
    runaway: [],
    extended: null,
    limits: LIMITS,
    requiredYieldRatio: options.requiredYieldRatio === undefined ? 0.9 : options.requiredYieldRatio,
    nominal: {
      machinedOffsetMm: machined,
      worstCaseMm: { low: machined - 0.03, high: machined + 0.03 },
      rootSumSquareMm: { low: machined - 0.021, high: machined + 0.021 },
      states: states.map(({ recipe }) => {
        const clearance = 0.0125 - recipe.lossMm;
        const onsetMm = 2 * halfPlay(clearance);
        const offsetMm = machined + recipe.shiftMm;
        const preloadN = preloadAt(offsetMm, onsetMm);
        return {
          state: recipe.name,
          offsetMm,
          clearanceMm: { a: clearance, b: clearance },
          axialPlayMm: { a: onsetMm, b: onsetMm },
          contactAngleRad: { a: 0.17, b: 0.17 },
          onsetMm,
          sumOfPlaysMm: 2 * onsetMm,
          lowMm: onsetMm + 0.0084,
          highMm: onsetMm + 0.0292,
          bindMm: onsetMm + 0.069,
          preloadN,
          outcome: OUTCOMES[classify(preloadN, false, LIMITS)] as Outcome,
        };
      }),
    },
    states: states.map((state, index): StateResult => {
      const temperature = (zone: string) => (/shaft|inner/.test(zone) ? state.recipe.shaftC : state.recipe.housingC);
      const codes = OUTCOMES.map((name, code) => [name, counted((unit) => state.outcome[unit] === code)] as const);
      const bits = FLAGS.map(
        (name, bit) => [name, counted((unit) => ((state.flags[unit] ?? 0) & (1 << bit)) !== 0)] as const,
      );
      return {
        name: state.recipe.name,
        label: state.recipe.label,
        isBench: index === 0,
        isAfterService: false,
        weightRatio: 1 / recipes.length,
        temperatureC: Object.fromEntries(
          ZONES.map((zone) => [zone, { mean: temperature(zone), sd: index === 0 ? 0.5 : 3 }]),
        ) as StateResult["temperatureC"],
        outcomes: Object.fromEntries(codes) as StateResult["outcomes"],
        flags: Object.fromEntries(bits) as StateResult["flags"],
        good: counted((unit) => isGood(state, unit)),
        gapMm: null,
        movementMm: null,
        frictionHeatW: null,
        preloadN: summarise(state.preload, "N"),
        playMm: summarise(state.play, "mm"),
        offsetMm: summarise(state.stateOffset, "mm"),
        clearanceMm: { a: summarise(state.clearanceA, "mm"), b: summarise(state.clearanceB, "mm") },
      };
    }),
    overall: {
      goodInEveryState: good,
      averagedOverStates: { shareRatio: 0.83, lowRatio: 0.82, highRatio: 0.84 },
      failsAtBench: atBench,
      failsInService: inService,
      serviceCauses: causes.sort((a, b) => b.share.count - a.share.count),
    },
    batch: {
      size: batchSize,
      method: "binomial",
      good: range(good),
      benchFailures: range(atBench),
      serviceFailures: range(inService),
    },
    contributors: {
      samples: count,
      preloadVariance: states.map(({ recipe }, index) => ({
        state: recipe.name,
        rows: CAUSES.map((cause, place) => ({
          ...cause,
          firstOrderRatio: [0.41, 0.22, 0.14, 0.09, 0.04, 0.01][(place + (index === 2 ? 1 : 0)) % 6] ?? 0,
        })).sort((a, b) => b.firstOrderRatio - a.firstOrderRatio),
      })),
      yieldGain: CAUSES.map((cause, place) => {
        const gainRatio = [0.183, 0.094, 0.041, 0.018, 0.002, -0.004][place] ?? 0;
        return { ...cause, gainRatio, lowRatio: gainRatio - 0.012, highRatio: gainRatio + 0.012 };
      }),
      assumptions: [
        {
          label: "groove conformity, inner ring",
          source: "not standardised; the sum fits printed axial clearances",
          lowEnd: { value: "0.512", yieldRatio: 0.61 },
          highEnd: { value: "0.518", yieldRatio: 0.74 },
        },
        {
          label: "seat friction",
          source: "printed press-on value 0.12",
          lowEnd: { value: "0.08", yieldRatio: good.shareRatio - 0.004 },
          highEnd: { value: "0.16", yieldRatio: good.shareRatio + 0.004 },
        },
      ],
    },
    window: {
      samples: count,
      machinedOffsetMm: summarise(offset, "mm"),
      lowMm: summarise(lowKept, "mm"),
      highMm: summarise(highKept, "mm"),
      widthMm: summarise(
        highKept.map((value, unit) => value - (lowKept[unit] ?? 0)),
        "mm",
      ),
      empty: counted((unit) => empty[unit] === 1),
      collisions:
        recipes.length > 1
          ? [{ states: ["bench", recipes.at(-1)?.name ?? "bench"], share: counted((unit) => empty[unit] === 1) }]
          : [],
      states: states.map(({ recipe, ends }) => ({
        state: recipe.name,
        onsetMm: summarise(ends.onset, "mm"),
        lowMm: summarise(ends.low, "mm"),
        highMm: summarise(ends.high, "mm"),
        bindMm: summarise(ends.bind, "mm"),
      })),
    },
    integration: null,
    rare: [],
    inputs: [
      {
        path: "bearings.a.clearance",
        label: "radial clearance of bearing a",
        value: "5–20 µm, truncated normal",
        origin: "standard",
        source: "ISO 5753-1:2009, group CN",
      },
      {
        path: "chain.housing spacer",
        label: "housing spacer",
        value: "60.108 ±0.010 mm, truncated normal",
        origin: "given",
        source: "",
      },
      {
        path: "bearings.standOut",
        label: "stand-out of the bearings",
        value: "0 ±15 µm at 3 sigma",
        origin: "assumption",
        source: "not controlled by ISO 492",
      },
    ],
    target: null,
    scenario: {},
    warnings: [
      {
        code: "material-range",
        path: "states.hot.housing",
        message: "80 °C is near the end of the range that the aluminium's figures are stated for.",
      },
    ],
  };

  const float = (name: string, unit: InternalUnit, description: string, values: Float64Array): SampleColumn => ({
    name,
    unit,
    description,
    values,
  });
  const columns: SampleColumn[] = [
    { name: "unit", unit: "index", description: "index of the unit", values: Float64Array.from(offset.keys()) },
    float("bearings.a.clearanceMm", "mm", "radial clearance of bearing a, free", freeA),
    float("bearings.b.clearanceMm", "mm", "radial clearance of bearing b, free", freeB),
    float("machinedOffsetMm", "mm", "offset as machined, at 20 °C (δ = H − S)", offset),
    float("window.lowMm", "mm", "lower end of the acceptance window", lowKept),
    float("window.highMm", "mm", "upper end of the acceptance window", highKept),
    ...states.flatMap((state) => [
      float(`${state.recipe.name}.preloadN`, "N", "preload", state.preload),
      float(`${state.recipe.name}.playMm`, "mm", "axial play left", state.play),
      float(`${state.recipe.name}.offsetMm`, "mm", "offset in this state", state.stateOffset),
      float(`${state.recipe.name}.clearanceAMm`, "mm", "clearance of bearing a, mounted", state.clearanceA),
      float(`${state.recipe.name}.clearanceBMm`, "mm", "clearance of bearing b, mounted", state.clearanceB),
      { name: `${state.recipe.name}.outcome`, unit: "class", description: "outcome", values: state.outcome } as const,
      { name: `${state.recipe.name}.flags`, unit: "bits", description: "flags", values: state.flags } as const,
    ]),
  ];
  return { result, samples: { count, columns } };
}

const CAUSES = [
  { group: "stand-out", groupLabel: "the stand-out of the bearings", origin: "assumption" },
  { group: "clearance", groupLabel: "the radial clearance of the bearings", origin: "standard" },
  { group: "chain dimensions", groupLabel: "the housing spacer", origin: "given" },
  { group: "temperature", groupLabel: "the housing temperature at hot", origin: "given" },
  { group: "housing bores", groupLabel: "the housing bores", origin: "standard" },
  { group: "conformity", groupLabel: "the groove conformities", origin: "assumption" },
] as const satisfies readonly { group: string; groupLabel: string; origin: Origin }[];

function halfPlay(clearanceMm: number): number {
  return clearanceMm <= 0 ? 0 : Math.sqrt(0.254 * clearanceMm);
}

function preloadAt(offsetMm: number, onsetMm: number): number {
  if (Math.abs(offsetMm) <= onsetMm) return 0;
  return Math.sign(offsetMm) * 5.2e4 * (Math.abs(offsetMm) - onsetMm) ** 1.5;
}

/** Roughly normal scores from a linear congruential generator: the fixture must not depend on the program's own streams. */
function generator(): () => number {
  let state = 20240229;
  const uniform = () => {
    state = (Math.imul(state, 1664525) + 1013904223) >>> 0;
    return state / 2 ** 32;
  };
  return () => uniform() + uniform() + uniform() + uniform() + uniform() + uniform() - 3 + 0.7 * (uniform() - 0.5);
}

function share(count: number, total: number): Share {
  const shareRatio = total === 0 ? 0 : count / total;
  const half = 1.96 * Math.sqrt((shareRatio * (1 - shareRatio) + 1 / Math.max(total, 1)) / Math.max(total, 1));
  return {
    count,
    shareRatio,
    lowRatio: Math.max(0, shareRatio - half),
    highRatio: Math.min(1, shareRatio + half),
    method: "wilson",
  };
}

export function summarise(values: Float64Array, unit: InternalUnit): QuantitySummary {
  const kept = values.filter((value) => Number.isFinite(value)).sort();
  const count = kept.length;
  const mean = kept.reduce((sum, value) => sum + value, 0) / count;
  const sd = Math.sqrt(kept.reduce((sum, value) => sum + (value - mean) ** 2, 0) / Math.max(count - 1, 1));
  return {
    unit,
    count,
    mean,
    sd: count > 1 ? sd : Number.NaN,
    min: kept[0] ?? Number.NaN,
    max: kept.at(-1) ?? Number.NaN,
    quantiles: [0.001, 0.01, 0.05, 0.25, 0.5, 0.75, 0.95, 0.99, 0.999].map((probabilityRatio) => ({
      probabilityRatio,
      value: kept[Math.min(count - 1, Math.floor(probabilityRatio * count))] ?? Number.NaN,
    })),
  };
}
