import type { StateWindowColumns } from "../model/window.ts";

/**
 * Edges of the classes in one state, in the order in which they lie along the offset: below the first the pair binds the wrong way
 * round, then it is reversed, has play, is light, on target, heavy, and past the last it binds. An edge never lies before the one
 * that stands before it.
 */
export const EDGES_PER_STATE = 6;

/** Place of the edges that bound the window among those of a state. */
export const LOW_EDGE = 3;
export const HIGH_EDGE = 4;

/** Further from an edge than this, mm, says nothing more; an edge that is nowhere counts as that far. */
const FAR_MM = 1;

/**
 * Fills how far each unit's own machined offset is past every edge of every state, mm.
 *
 * @param out one column an edge, state after state
 */
export function fillEdges(
  states: readonly StateWindowColumns[],
  machinedOffsetMm: Float64Array,
  count: number,
  out: readonly Float64Array[],
): void {
  states.forEach(({ onsetMm, lowMm, highMm, bindMm, shiftMm, limitMm }, s) => {
    const first = s * EDGES_PER_STATE;
    for (let i = 0; i < count; i += 1) {
      const machined = machinedOffsetMm[i];
      const bind = bindMm[i];
      // The other way round everything is mirrored about an offset of zero in the state.
      const mirror = -2 * shiftMm[i];
      // Rings that hold nothing, or slid too far before, leave the pair without preload however great the offset.
      const onset = limitMm[i] <= onsetMm[i] ? Number.POSITIVE_INFINITY : onsetMm[i];
      const hasWindow = lowMm[i] < Number.POSITIVE_INFINITY;
      const low = hasWindow ? lowMm[i] : bind;
      const high = hasWindow ? Math.max(highMm[i], low) : bind;
      out[first][i] = past(machined, mirror - bind);
      out[first + 1][i] = past(machined, mirror - onsetMm[i]);
      out[first + 2][i] = past(machined, onset);
      out[first + LOW_EDGE][i] = past(machined, low);
      out[first + HIGH_EDGE][i] = past(machined, high);
      out[first + 5][i] = past(machined, bind);
    }
  });
}

function past(machinedMm: number, edgeMm: number): number {
  return Math.min(FAR_MM, Math.max(-FAR_MM, machinedMm - edgeMm));
}
