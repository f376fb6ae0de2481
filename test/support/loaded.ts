import { freeContactAngleRad } from "../../src/physics/axial-contact.ts";
import { createBallRow, innerGrooveRadiusMm } from "../../src/physics/ball-row.ts";
import type { PairShaft } from "../../src/physics/pair-shaft.ts";
import type { PreloadPath } from "../../src/physics/preload-path.ts";
import type { ResolvedScenario } from "../../src/scenario/types.ts";
import type { Evaluated } from "./model.ts";

/** The pair of one evaluated unit as the solver in five degrees of freedom takes it, with a path of its own. */
export function shaftOf(
  scenario: ResolvedScenario,
  { workspace, state }: Evaluated,
  name: string,
  path: PreloadPath,
  spanMm = 40,
): PairShaft {
  const columns = state(name);
  const row = (key: "a" | "b", place: 0 | 1) => {
    const bearing = scenario.bearings[key];
    const constants = workspace.bearings[place];
    const clearanceMm = (place === 0 ? columns.clearanceAMm : columns.clearanceBMm)[0];
    const distance = constants.grooveDistanceMm[0];
    return createBallRow({
      ballCount: bearing.ballCount,
      ballStiffnessNPerMm15: constants.stiffness[0] / bearing.ballCount,
      grooveDistanceMm: distance,
      clearanceMm,
      grooveRadiusMm: innerGrooveRadiusMm(
        bearing.pitchDiameterMm,
        bearing.ballDiameterMm,
        bearing.nominalConformityInnerRatio,
        freeContactAngleRad(distance, Math.max(0, clearanceMm)),
      ),
    });
  };
  return {
    arrangementSign: scenario.arrangement === "back-to-back" ? 1 : -1,
    spanMm,
    a: row("a", 0),
    b: row("b", 1),
    path,
  };
}
