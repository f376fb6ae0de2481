/** Minimum of a function of a few variables without derivatives. */

export interface SimplexResult {
  readonly point: readonly number[];
  readonly value: number;
  readonly steps: number;
}

/**
 * The downhill simplex of Nelder and Mead with the usual factors (reflection 1, expansion 2, contraction and shrinkage ½).
 *
 * @param f may return Infinity outside its domain; it must be finite at `start`
 * @param start first corner
 * @param sizes the other corners lie this far along each axis
 * @param tolerance stops when the values at the corners differ by less
 *
 * Source: J. A. Nelder, R. Mead, The Computer Journal 7 (1965) 308-313 (from memory).
 */
export function minimise(
  f: (point: readonly number[]) => number,
  start: readonly number[],
  sizes: readonly number[],
  tolerance = 1e-10,
  maxSteps = 2000,
): SimplexResult {
  const dimensions = start.length;
  const corners = [start, ...start.map((_, axis) => start.map((x, i) => (i === axis ? x + sizes[axis] : x)))].map(
    (point) => ({ point, value: f(point) }),
  );
  const between = (a: readonly number[], b: readonly number[], t: number) => a.map((x, i) => x + t * (b[i] - x));
  let steps = 0;
  for (; steps < maxSteps; steps += 1) {
    corners.sort((a, b) => a.value - b.value);
    const worst = corners[dimensions];
    if (worst.value - corners[0].value <= tolerance) break;
    const centre = start.map(
      (_, i) => corners.slice(0, dimensions).reduce((sum, c) => sum + c.point[i], 0) / dimensions,
    );
    const at = (t: number) => {
      const point = between(centre, worst.point, t);
      return { point, value: f(point) };
    };
    const reflected = at(-1);
    if (reflected.value < corners[0].value) {
      const expanded = at(-2);
      corners[dimensions] = expanded.value < reflected.value ? expanded : reflected;
    } else if (reflected.value < corners[dimensions - 1].value) {
      corners[dimensions] = reflected;
    } else {
      const contracted = reflected.value < worst.value ? at(-0.5) : at(0.5);
      if (contracted.value < Math.min(reflected.value, worst.value)) corners[dimensions] = contracted;
      else {
        for (let i = 1; i <= dimensions; i += 1) {
          const point = between(corners[0].point, corners[i].point, 0.5);
          corners[i] = { point, value: f(point) };
        }
      }
    }
  }
  return { ...corners[0], steps };
}
