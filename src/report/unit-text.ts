import { limitWords } from "../scenario/requirements.ts";
import type { ResolvedScenario } from "../scenario/types.ts";
import type { Unit, UnitState } from "../studies/unit.ts";
import { fitRows, plainText, wrapText } from "./plain-table.ts";
import {
  causeDeed,
  decimal,
  FLAG_SENTENCES,
  micrometres,
  newtons,
  OUTCOME_NAMES,
  quantity,
  significant,
} from "./words.ts";

const DEGREES_PER_RAD = 180 / Math.PI;

/** What `unit` prints: one sampled unit, every drawn input, both bearings in every state, and why it failed. */
export function unitText(scenario: ResolvedScenario, unit: Unit, { width }: { readonly width: number }): string {
  const inputs = fitRows(
    unit.inputs
      .filter((input) => input.drawn)
      .map((input) => [`  ${plainText(input.name)}`, exact(input.value, input.unit), plainText(input.label)]),
    [1],
    width,
  );
  const states = unit.states.map((state) => stateText(state, width)).join("\n");
  return `${wrapText(`${scenario.title}: unit ${unit.index}, seed "${unit.seed}"`, width)}
${fate(unit)
  .map((line) => wrapText(line, width))
  .join("\n")}

Drawn inputs
${inputs}

${wrapText(`Machined offset ${micrometres(unit.machinedOffsetMm)}; ${windowWords(unit.window)}`, width)}

${states}`;
}

function exact(value: number, unit: string): string {
  if (unit === "mm") return `${decimal(value, 5)} mm`;
  if (unit === "degC") return `${decimal(value, 2)} °C`;
  return `${significant(value, 4)}${unit === "1" ? "" : ` ${unit}`}`;
}

function windowWords(window: Unit["window"]): string {
  if (!(window.lowMm <= window.highMm)) return "no machined offset would be on target in every state";
  const high = Number.isFinite(window.highMm) ? `to ${micrometres(window.highMm)}` : "and more";
  return `on target in every state from ${micrometres(window.lowMm)} ${high}`;
}

function fate(unit: Unit): string[] {
  const failed = unit.states.filter((state) => !state.good);
  if (failed.length === 0) return ["On target in every state."];
  return failed.map((state) => `Fails in state ${state.state}: ${causeDeed(state.outcome)}. ${why(state)}`);
}

function why(state: UnitState): string {
  const missed = state.requirements.filter(({ met }) => !met);
  if (state.outcome === "target" && missed.length > 0) {
    const words = missed.map(
      ({ requirement: { quantity, low, high, unit } }) => `${quantity} must be ${limitWords(low, high, unit)}`,
    );
    return `${words.join("; ")}. ${gapWords(state)}`;
  }
  const onsetGap = state.bearings.a.axialPlayMm / 2 + state.bearings.b.axialPlayMm / 2 - state.offsetMm;
  if (state.outcome === "play") {
    return `The offset of ${micrometres(state.offsetMm)} stays ${micrometres(onsetGap)} short of the onset; ${micrometres(state.playMm)} of axial play are left.`;
  }
  return `The offset of ${micrometres(state.offsetMm)} lies ${micrometres(-onsetGap)} past the onset, which gives ${newtons(state.preloadN)}.`;
}

function gapWords({ gapMm, movementMm }: UnitState): string {
  return gapMm === null || movementMm === null
    ? ""
    : `The gap is ${micrometres(gapMm)}, ${micrometres(movementMm)} from that of the bench.`;
}

function stateText(state: UnitState, width: number): string {
  const { a, b } = state.bearings;
  const rows = fitRows(
    [
      ["  ", "bearing a", "bearing b"],
      ["  radial clearance mounted", micrometres(a.clearanceMm), micrometres(b.clearanceMm)],
      ["  axial play, end to end", micrometres(a.axialPlayMm), micrometres(b.axialPlayMm)],
      ["  axial displacement", micrometres(a.displacementMm), micrometres(b.displacementMm)],
      ["  contact angle", degrees(a.contactAngleRad), degrees(b.contactAngleRad)],
      ["  ball load", newtons(a.ballLoadN), newtons(b.ballLoadN)],
      ["  Hertz pressure, inner race", pressure(a.innerPressureMPa), pressure(b.innerPressureMPa)],
      ["  Hertz pressure, outer race", pressure(a.outerPressureMPa), pressure(b.outerPressureMPa)],
    ],
    [1, 2],
    width,
  );
  const flags = state.flags.map((flag) => `\n${wrapText(FLAG_SENTENCES[flag], width, "  ")}`).join("");
  const head = `State ${state.state}: ${OUTCOME_NAMES[state.outcome]}, preload ${newtons(state.preloadN)}, offset ${micrometres(state.offsetMm)}`;
  return `${wrapText(head, width)}${flags}
${rows}
${extendedText(state, width)}`;
}

/** What was asked beyond the preload, one line each. */
function extendedText({ extended }: UnitState, width: number): string {
  if (extended.length === 0) return "";
  const rows = extended.map(({ label, unit, value }) => [`  ${label}`, quantity(value, unit)]);
  return `${fitRows(rows, [1], width)}\n`;
}

function degrees(angleRad: number): string {
  return `${decimal(angleRad * DEGREES_PER_RAD, 1)}°`;
}

function pressure(pressureMPa: number): string {
  return `${decimal(pressureMPa, 0)} MPa`;
}
