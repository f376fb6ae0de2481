import { InputError } from "../errors.ts";
import { compileThermalNetwork } from "../physics/thermal-network.ts";
import { didYouMean } from "../units/nearest.ts";
import { readDrawn } from "./drawn.ts";
import { networkOf } from "./heat-network.ts";
import type { Ledger } from "./ledger.ts";
import type { Running } from "./running.ts";
import type { StateEntry } from "./schema.ts";
import type { ThermalEntry } from "./schema-requests.ts";
import { type HeatPath, type NetworkState, ZONES, type Zone } from "./types.ts";
import { addVariable, unknownValue } from "./variables.ts";

const GROUPS: Readonly<Record<string, readonly Zone[]>> = {
  outer: ["outer-a", "outer-b"],
  inner: ["inner-a", "inner-b"],
  balls: ["balls-a", "balls-b"],
};

const NAMES = [...ZONES, ...Object.keys(GROUPS)];

/** The paths of heat, those of both bearings written once; a body that no path joins to ambient is refused. */
export function resolveHeatPaths(ledger: Ledger, thermal: ThermalEntry | undefined): HeatPath[] {
  if (thermal === undefined) return [];
  const problemsBefore = ledger.problems.length;
  const paths = thermal.paths.flatMap((entry, index) => {
    const path = `thermal.paths.${index}`;
    const from = bodies(ledger, entry.from, `${path}.from`);
    const to = entry.to === "ambient" ? (["ambient"] as const) : bodies(ledger, entry.to, `${path}.to`);
    const request = {
      dimension: "thermal conductance",
      path: `${path}.conductance`,
      options: { low: 0, openLow: true },
    } as const;
    const value = ledger.attempt(() => readDrawn(entry.conductance, request), unknownValue());
    const conductance = addVariable(ledger, {
      name: `thermal.${entry.from} to ${entry.to}`,
      label: `conductance from ${entry.from} to ${entry.to}`,
      group: "heat",
      groupLabel: `the heat path from ${entry.from} to ${entry.to}`,
      unit: "W/K",
      value,
      origin: "given",
      source: value.how,
    });
    return pairs(from, to).map((ends): HeatPath => ({ from: ends[0] as Zone, to: ends[1], conductance }));
  });
  if (ledger.problems.length === problemsBefore) refuseIsolated(ledger, paths);
  return paths;
}

function bodies(ledger: Ledger, name: string, path: string): readonly Zone[] {
  const zone = ZONES.find((known) => known === name);
  if (zone !== undefined) return [zone];
  if (Object.hasOwn(GROUPS, name)) return GROUPS[name];
  ledger.problem({
    code: "unknown-name",
    path,
    expected: `a body: ${NAMES.join(", ")}${path.endsWith(".to") ? " or ambient" : ""}`,
    got: name,
    hint: didYouMean(name, NAMES),
  });
  return [];
}

/** Parts of the same bearing go together; one body goes with every other. */
function pairs<T extends string>(from: readonly Zone[], to: readonly T[]): [Zone, T][] {
  if (from.length === 2 && to.length === 2) return from.map((zone, place) => [zone, to[place]]);
  return from.flatMap((zone) => to.map((other): [Zone, T] => [zone, other]));
}

function refuseIsolated(ledger: Ledger, paths: readonly HeatPath[]): void {
  try {
    compileThermalNetwork(networkOf(paths));
  } catch (error) {
    if (!(error instanceof InputError)) throw error;
    for (const problem of error.problems) ledger.problem({ ...problem, path: "thermal.paths" });
  }
}

/** What drives the heat balance of one state; null for a state with given temperatures. */
export function resolveNetwork(
  ledger: Ledger,
  entry: StateEntry,
  running: Running | null,
  hasPaths: boolean,
): NetworkState | null {
  const { network, name } = entry;
  if (network === undefined || running === null) return null;
  const path = `states.${name}.network`;
  if (!hasPaths) {
    ledger.problem({
      code: "missing",
      path: "thermal.paths",
      expected: "the paths of heat, for a state with a network",
      got: "nothing",
    });
  }
  const state = entry.label ?? name;
  const request = { dimension: "temperature", path: `${path}.ambient` } as const;
  const value = ledger.attempt(() => readDrawn(network.ambient, request), unknownValue());
  const ambient = addVariable(ledger, {
    name: `${path}.ambient`,
    label: `temperature of the surroundings, ${state}`,
    group: "temperature",
    groupLabel: `the temperature of the surroundings, ${state}`,
    unit: "degC",
    value,
    origin: "given",
    source: value.how,
  });
  const heats = Object.entries(network.heat ?? {}).flatMap(([body, written]) => {
    const heatPath = `${path}.heat.${body}`;
    const zones = bodies(ledger, body, heatPath);
    const drawn = ledger.attempt(() => readDrawn(written, { dimension: "power", path: heatPath }), unknownValue());
    const heat = addVariable(ledger, {
      name: heatPath,
      label: `heat put into ${body}, ${state}`,
      group: "heat",
      groupLabel: `the heat put into ${body}, ${state}`,
      unit: "W",
      value: drawn,
      origin: "given",
      source: drawn.how,
    });
    return zones.map((zone) => ({ zone, heat }));
  });
  return { ambient, heats, ...running };
}
