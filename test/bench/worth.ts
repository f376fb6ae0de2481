import { readdirSync, readFileSync } from "node:fs";
import { fileURLToPath } from "node:url";
import { measuredFileReader } from "../../src/cli/measured.ts";
import { alongSlopes } from "../../src/engine/directions.ts";
import { compileDraw } from "../../src/engine/draw.ts";
import { createLocalExecutor } from "../../src/engine/local.ts";
import { takeSlopes } from "../../src/engine/slopes.ts";
import { parseScenario } from "../../src/scenario/parse.ts";
import { type Integration, integrate } from "../../src/studies/conditional.ts";
import { extendedDecides, type YieldSetup, yieldSetup } from "../../src/studies/yield.ts";
import { table } from "./compare.ts";

const SCENARIOS = fileURLToPath(new URL("../scenarios/", import.meta.url));

const PACE = { onProgress: () => {}, isOver: () => false };

/** Ways of integrating that are compared; the engine itself takes the second or the third. */
const WAYS: readonly { readonly name: string; readonly of: (setup: YieldSetup) => YieldSetup }[] = [
  { name: "offset, own axes", of: (setup) => ({ ...setup, offset: { ...bare(setup), frame: null }, lines: null }) },
  { name: "offset, turned axes", of: (setup) => ({ ...setup, offset: bare(setup), lines: null }) },
  { name: "lines along the slope", of: (setup) => ({ ...setup, offset: null, lines: linesOf(setup) }) },
];

/** The yield alone: no curves over other nominals and tolerances. */
function bare({ offset }: YieldSetup): NonNullable<YieldSetup["offset"]> {
  return { ...offset!, law: { ...offset!.law, spreads: [], spreadLaws: [] }, shiftsMm: new Float64Array(0) };
}

function linesOf({ scenario, plan, offset }: YieldSetup): YieldSetup["lines"] {
  const draw = compileDraw(scenario);
  return alongSlopes(takeSlopes(scenario, plan, offset!.law, draw), draw.drawn.length);
}

/**
 * What a point is worth for the yield in plain samples, and per microsecond of processor time, by every way on every shipped
 * scenario that the offset can be integrated on. The spread of 16 replicates knows a worth to a third.
 */
export async function measureWorth(rounds: number): Promise<void> {
  const rows = [["scenario", "way", "yield", "worth a point", "evaluations", "µs a point", "worth a µs", "chosen"]];
  for (const file of readdirSync(SCENARIOS).filter((name) => name.endsWith(".yaml"))) {
    const path = `${SCENARIOS}${file}`;
    const setup = yieldSetup(parseScenario(readFileSync(path, "utf8"), path, [], measuredFileReader(path)));
    if (setup.offset === null || setup.pilot.length === 0 || extendedDecides(setup.scenario)) continue;
    for (const way of WAYS) {
      const { found, microseconds } = await timed(way.of(setup), rounds);
      const { good, worthRatio, evaluationsPerPoint } = found;
      const isChosen = way !== WAYS[0] && (setup.lines === null) === (way === WAYS[1]);
      rows.push([
        file.replace(".yaml", ""),
        way.name,
        `${(100 * good.ratio).toFixed(3)} %`,
        worthRatio.toPrecision(2).replace(/e\+(\d)/, "e$1"),
        evaluationsPerPoint.toFixed(1),
        microseconds.toFixed(1),
        (worthRatio / microseconds).toFixed(1),
        isChosen ? "yes" : "",
      ]);
    }
  }
  console.log(table(rows));
}

/** The first points or lines of all replicates; the quickest of several rounds after one to warm up. */
async function timed(setup: YieldSetup, rounds: number): Promise<{ found: Integration; microseconds: number }> {
  const executor = createLocalExecutor(setup);
  let found = await integrate(executor, setup, setup.plan, null, PACE);
  let microseconds = Number.POSITIVE_INFINITY;
  for (let round = 0; round < rounds; round += 1) {
    const cpu = process.cpuUsage();
    found = await integrate(executor, setup, setup.plan, null, PACE);
    const { user, system } = process.cpuUsage(cpu);
    microseconds = Math.min(microseconds, (user + system) / (found.replicates * found.pointsPerReplicate));
  }
  return { found, microseconds };
}
