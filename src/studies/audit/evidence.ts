import { fromReadings } from "../../distributions/index.ts";
import { centre } from "../../distributions/moments.ts";
import type { Distribution } from "../../distributions/types.ts";
import type { DrawSource } from "../../engine/draw.ts";
import { InputError } from "../../errors.ts";
import type {
  ResolvedAudit,
  ResolvedReadings,
  ResolvedScenario,
  Variable,
  VariableIndex,
} from "../../scenario/types.ts";

/** What a term of the uncertainty is, so that a reader knows what would shrink it. */
export type TermKind = "readings" | "gauge" | "resolution" | "temperature" | "not measured";

/** Something drawn that is added to a dimension: value = factor·drawn + constant. */
export interface Adjustment {
  readonly target: VariableIndex;
  /** Place in the variables of the draw. */
  readonly source: VariableIndex;
  readonly factor: number;
  readonly constant: number;
}

/** One drawn quantity as a line of the budget: what it is and which dimensions it moves. */
export interface EvidenceTerm {
  readonly label: string;
  readonly kind: TermKind;
  readonly source: VariableIndex;
  readonly degreesOfFreedom: number;
  /** Dimensions of the scenario that it moves, each with mm per unit of the draw. */
  readonly moves: readonly Move[];
}

/** A measured axial play of one bearing: Σ factor·drawn. */
export interface PlayDraw {
  readonly bearing: 0 | 1;
  readonly terms: readonly { readonly source: VariableIndex; readonly factor: number }[];
}

/** What is drawn for one measured unit: the scenario's own variables first, with measured ones replaced, then the errors of measuring. */
export interface Evidence {
  readonly variables: readonly Variable[];
  /** The scenario's own variables with those known from readings at their estimate, for what a plan takes of a mean. */
  readonly planned: readonly Variable[];
  readonly draw: DrawSource;
  readonly adjustments: readonly Adjustment[];
  readonly terms: readonly EvidenceTerm[];
  readonly plays: readonly PlayDraw[];
  /** Measured play of the assembled shaft, as mean, standard uncertainty and degrees of freedom. */
  readonly pairPlay: { readonly meanMm: number; readonly standardMm: number; readonly degreesOfFreedom: number } | null;
  readonly measured: ReadonlySet<VariableIndex>;
}

/**
 * Turns an audit into what is to be drawn.
 *
 * The true length is the mean of the readings by Student's t (JCGM 101:2008, 6.4.9.4), plus an error of the instrument that is equally
 * likely anywhere between its limits and the same for all readings with it, plus half a step of the display either way, less the growth
 * from the reference temperature to that while measuring. The drawing's tolerance of a measured dimension no longer counts.
 *
 * @throws InputError where a play was measured of a bearing whose clearance is given as one value
 */
export function gatherEvidence(scenario: ResolvedScenario, audit: ResolvedAudit): Evidence {
  const draws = new MeasuringDraws(scenario.variables);
  const { variables, terms } = draws;
  const adjustments: Adjustment[] = [];
  const measured = new Set<VariableIndex>();
  const temperatureSource = addTemperature(scenario, audit, draws);
  const temperatureMoves: Move[] = [];
  for (const readings of audit.readings) {
    const { variable: target, valuesMm, expansionPerK, label } = readings;
    measured.add(target);
    const repeat = repeatability(valuesMm);
    const growth = -centre(repeat) * expansionPerK;
    const shift = temperatureSource === null ? growth * (centre(audit.temperature) - scenario.measuredAtC) : 0;
    variables[target] = { ...variables[target], distribution: shifted(repeat, shift), batchShare: 0, origin: "given" };
    if (repeat.kind === "student-t") {
      const { degreesOfFreedom } = repeat;
      const moves = [{ target, factor: 1 }];
      terms.push({ label: `readings, ${label}`, kind: "readings", source: target, degreesOfFreedom, moves });
    }
    for (const { source, factor } of draws.addGaugeErrors(readings, target)) {
      adjustments.push({ target, source, factor, constant: 0 });
    }
    if (temperatureSource !== null && expansionPerK !== 0) {
      adjustments.push({ target, source: temperatureSource, factor: growth, constant: -growth * scenario.measuredAtC });
      temperatureMoves.push({ target, factor: growth });
    }
  }
  if (temperatureSource !== null) {
    terms.push(knownTerm("temperature", TEMPERATURE_LABEL, temperatureSource, temperatureMoves));
  }
  const plays = (["a", "b"] as const).flatMap((key, bearing): PlayDraw[] => {
    const readings = audit.play[key];
    if (readings === null) return [];
    requireVarying(scenario, key, readings);
    const source = draws.add(readings.path, readings.label, "mm", repeatability(readings.valuesMm));
    return [{ bearing: bearing as 0 | 1, terms: [{ source, factor: 1 }, ...draws.addGaugeErrors(readings, null)] }];
  });
  for (const { bearing } of plays) measured.add(scenario.bearings[bearing === 0 ? "a" : "b"].clearance);
  const pairPlay = audit.play.pair === null ? null : pairReading(audit.play.pair);
  terms.push(...unmeasuredTerms(scenario, measured));
  return {
    variables,
    planned: variables.slice(0, scenario.variables.length).map(atEstimate),
    draw: { seed: scenario.seed, variables, correlations: withoutMeasured(scenario, measured) },
    adjustments,
    terms,
    plays,
    pairPlay,
    measured,
  };
}

interface Move {
  readonly target: VariableIndex;
  readonly factor: number;
}

const TEMPERATURE_LABEL = "temperature while measuring";

/** Equally likely anywhere between −1 and 1. */
const UNIT_WIDE: Distribution = { kind: "uniform", low: -1, high: 1 };

/** The scenario's variables with the errors of measuring behind them, and the terms of the budget that these make. */
class MeasuringDraws {
  readonly variables: Variable[];
  readonly terms: EvidenceTerm[] = [];
  /** All readings with one instrument share its error. */
  private readonly instruments = new Map<string, { source: VariableIndex; moves: Move[] }>();

  constructor(variables: readonly Variable[]) {
    this.variables = [...variables];
  }

  add(name: string, label: string, unit: Variable["unit"], distribution: Distribution): VariableIndex {
    this.variables.push({
      name,
      label,
      group: "chain dimensions",
      groupLabel: label,
      unit,
      distribution,
      batchShare: 0,
      origin: "given",
    });
    return this.variables.length - 1;
  }

  /**
   * Adds the errors that readings of one quantity have beside their scatter, each on a scale of ±1.
   *
   * @param target the dimension that was measured; null for what is no dimension
   */
  addGaugeErrors(
    readings: ResolvedReadings,
    target: VariableIndex | null,
  ): { source: VariableIndex; factor: number }[] {
    const { path, label, limitMm, resolutionMm, instrument } = readings;
    const found: { source: VariableIndex; factor: number }[] = [];
    const addOwn = (kind: TermKind, words: string, factor: number) => {
      const source = this.add(`${path}.${kind}`, words, "1", UNIT_WIDE);
      this.terms.push(knownTerm(kind, words, source, target === null ? [] : [{ target, factor }]));
      found.push({ source, factor });
    };
    if (limitMm > 0 && instrument !== null) {
      const { source, moves } = this.instrument(instrument);
      if (target !== null) moves.push({ target, factor: limitMm });
      found.push({ source, factor: limitMm });
    } else if (limitMm > 0) addOwn("gauge", `instrument error, ${label}`, limitMm);
    if (resolutionMm > 0) addOwn("resolution", `resolution, ${label}`, 0.5 * resolutionMm);
    return found;
  }

  private instrument(name: string): { source: VariableIndex; moves: Move[] } {
    const known = this.instruments.get(name);
    if (known !== undefined) return known;
    const words = `error of the ${name}`;
    const added = { source: this.add(`audit.instruments.${name}`, words, "1", UNIT_WIDE), moves: [] };
    this.instruments.set(name, added);
    this.terms.push(knownTerm("gauge", words, added.source, added.moves));
    return added;
  }
}

/** A term whose spread is as good as known. */
function knownTerm(kind: TermKind, label: string, source: VariableIndex, moves: readonly Move[]): EvidenceTerm {
  return { label, kind, source, degreesOfFreedom: Number.POSITIVE_INFINITY, moves };
}

/** A variable that readings tell of, held at its estimate. */
function atEstimate(variable: Variable): Variable {
  const { distribution } = variable;
  return distribution.kind === "student-t"
    ? { ...variable, distribution: { kind: "constant", value: distribution.mean } }
    : variable;
}

function addTemperature(
  scenario: ResolvedScenario,
  { temperature }: ResolvedAudit,
  draws: MeasuringDraws,
): VariableIndex | null {
  if (temperature.kind === "constant" || scenario.measuredAtC === undefined) return null;
  return draws.add("audit.temperature", TEMPERATURE_LABEL, "degC", temperature);
}

/** What repeated readings say: Student's t, or one value where there is no scatter to judge by. */
function repeatability(valuesMm: readonly number[]): Distribution {
  return valuesMm.length < 2 ? { kind: "constant", value: valuesMm[0] } : fromReadings(valuesMm);
}

function shifted(distribution: Distribution, shift: number): Distribution {
  if (distribution.kind === "student-t") return { ...distribution, mean: distribution.mean + shift };
  return distribution.kind === "constant" ? { kind: "constant", value: distribution.value + shift } : distribution;
}

/** Readings of the assembled shaft's play as one figure with its uncertainty (JCGM 100:2008, 5.1.2 and G.4). */
function pairReading(readings: ResolvedReadings): NonNullable<Evidence["pairPlay"]> {
  const { valuesMm, limitMm, resolutionMm } = readings;
  const repeat = repeatability(valuesMm);
  const scale = repeat.kind === "student-t" ? repeat.scale : 0;
  const variance = scale * scale + (limitMm * limitMm) / 3 + (resolutionMm * resolutionMm) / 12;
  if (!(variance > 0)) {
    throw new InputError({
      code: "missing",
      path: `${readings.path}.limits`,
      expected: "limits of error, a resolution, or readings that differ",
      got: "readings without any uncertainty",
    });
  }
  const share = (scale * scale) / variance;
  const degreesOfFreedom = share > 0 ? (valuesMm.length - 1) / (share * share) : Number.POSITIVE_INFINITY;
  return { meanMm: centre(repeat), standardMm: Math.sqrt(variance), degreesOfFreedom };
}

function requireVarying(scenario: ResolvedScenario, key: "a" | "b", { path }: ResolvedReadings): void {
  const { clearance, kind } = scenario.bearings[key];
  if (kind === "angular-contact") {
    throw new InputError({
      code: "not-supported",
      path,
      expected: "the play of a deep-groove bearing",
      got: "an angular-contact bearing, which has no play of its own",
    });
  }
  if (scenario.variables[clearance].distribution.kind !== "constant") return;
  throw new InputError({
    code: "conflict",
    path,
    expected: "a bearing whose clearance is not known: a clearance group or limits",
    got: "a clearance of one value",
    hint: "Give the clearance as a group or as limits, or leave the play out",
  });
}

/** Everything of the unit that was not measured, as its drawing or its assumption leaves it. Temperatures in service are not the unit's. */
function unmeasuredTerms(scenario: ResolvedScenario, measured: ReadonlySet<VariableIndex>): EvidenceTerm[] {
  return scenario.variables.flatMap(({ label, distribution }, index): EvidenceTerm[] => {
    if (measured.has(index) || distribution.kind === "constant") return [];
    // Parts of the same kind were measured, this one was not: their number limits what is known of the spread.
    const degreesOfFreedom =
      distribution.kind === "empirical"
        ? distribution.values.length - 1
        : distribution.kind === "student-t"
          ? distribution.degreesOfFreedom
          : Number.POSITIVE_INFINITY;
    return [{ label, kind: "not measured", source: index, degreesOfFreedom, moves: [{ target: index, factor: 1 }] }];
  });
}

/** Correlations among what is still drawn as the scenario says. */
function withoutMeasured(
  { correlations }: ResolvedScenario,
  measured: ReadonlySet<VariableIndex>,
): DrawSource["correlations"] {
  return correlations.flatMap(({ variables, matrix }) => {
    const kept = variables.map((_, place) => place).filter((place) => !measured.has(variables[place]));
    if (kept.length < 2) return [];
    const size = variables.length;
    return [
      {
        variables: kept.map((place) => variables[place]),
        matrix: kept.flatMap((row) => kept.map((column) => matrix[row * size + column])),
      },
    ];
  });
}
