import type { ModelPlan } from "../model/plan.ts";
import { normalPdf } from "../numeric/special.ts";
import { symmetricEigen } from "../numeric/symmetric-eigen.ts";
import { SOBOL_DIMENSIONS } from "../random/sobol.ts";
import { createColumns } from "../reliability/limit-function.ts";
import { rotateColumns, rotationTo } from "../reliability/rotation.ts";
import { goodPlace } from "./conditional.ts";
import type { ScoreFrame } from "./frame.ts";
import type { Slopes } from "./slopes.ts";

/** How much the yield counts beside each of the other shares. */
const YIELD_WEIGHT = 8;

/**
 * Directions of the scores beside the offset in which the chances integrated over its law change most: eigenvectors of the mean
 * of ∇f·∇fᵀ, added up over all chances f. Along these the first Sobol' dimensions, which fill the space best, do most of the work.
 *
 * @returns null where there is nothing to turn
 *
 * Source: S. Liu, A. B. Owen, "Preintegration via active subspace", SIAM J. Numer. Anal. 61 (2023) 495-514; P. G. Constantine,
 * Active Subspaces, SIAM 2015.
 */
export function besideOffset(plan: ModelPlan, { places, chances }: Slopes): ScoreFrame | null {
  if (places.length < 2 || places.length > SOBOL_DIMENSIONS) return null;
  const good = goodPlace(plan);
  const outer = createOuter(places.length);
  for (const point of chances) {
    point.forEach((slopes, q) => {
      addOuter(outer, slopes, q === good ? YIELD_WEIGHT : 1);
    });
  }
  return { axes: symmetricEigen(outer).vectors };
}

/**
 * Directions of all scores for lines to be integrated along: the first is the mean of the standardised slopes of both ends of the
 * window, the others, at right angles to it, are those in which the probability between the ends changes most, to the first order.
 *
 * @returns null where the ends have no slopes, or where there is nothing beside the line
 */
export function alongSlopes({ ends }: Slopes, dimensions: number): ScoreFrame | null {
  if (dimensions < 2 || dimensions > SOBOL_DIMENSIONS) return null;
  const direction = new Float64Array(dimensions);
  const usable = ends.map((pair) =>
    pair.filter(({ pastMm, slopes }) => Number.isFinite(pastMm) && slopes.every(Number.isFinite)),
  );
  for (const pair of usable) {
    for (const { slopes } of pair) {
      const length = Math.sqrt(dot(slopes, slopes));
      for (let d = 0; d < dimensions; d += 1) direction[d] += length > 0 ? slopes[d] / length : 0;
    }
  }
  if (!(dot(direction, direction) > 0)) return null;
  const rotation = rotationTo(direction);
  const outer = createOuter(dimensions - 1);
  for (const pair of usable) {
    const change = new Float64Array(dimensions);
    pair.forEach(({ pastMm, slopes }, end) => {
      const alongMm = dot(slopes, rotation.direction);
      const weight = ((end === 0 ? 1 : -1) * normalPdf(pastMm / alongMm)) / alongMm;
      if (!Number.isFinite(weight)) return;
      for (let d = 0; d < dimensions; d += 1) change[d] += weight * slopes[d];
    });
    const turned = Array.from(change, (x) => Float64Array.of(x));
    rotateColumns(rotation, turned, 1);
    addOuter(
      outer,
      Float64Array.from(turned.slice(1), ([x]) => x),
      1,
    );
  }
  const { vectors } = symmetricEigen(outer);
  const columns = createColumns(dimensions, dimensions);
  columns[0][0] = 1;
  vectors.forEach((vector, k) => {
    for (let d = 1; d < dimensions; d += 1) columns[d][k + 1] = vector[d - 1];
  });
  rotateColumns(rotation, columns, dimensions);
  return { axes: columns.map((_, k) => Float64Array.from(columns, (column) => column[k])) };
}

function dot(a: Float64Array, b: Float64Array): number {
  let sum = 0;
  for (let d = 0; d < a.length; d += 1) sum += a[d] * b[d];
  return sum;
}

function createOuter(dimensions: number): Float64Array[] {
  return Array.from({ length: dimensions }, () => new Float64Array(dimensions));
}

function addOuter(outer: readonly Float64Array[], x: Float64Array, weight: number): void {
  outer.forEach((row, k) => {
    for (let j = k; j < row.length; j += 1) row[j] += weight * x[k] * x[j];
  });
}
