import { normalScoreTable } from "../distributions/normal-score.ts";
import { centred, emptyMoments } from "../stats/moments.ts";
import { Arena } from "./arena.ts";
import type { BearingCurves } from "./columns.ts";
import type { Kernel } from "./kernel.ts";

/** Where the small things stand: stream states and coefficients, the solver's, then the table of normal scores. */
const SCRATCH = 4096;
const SOLVER = 16_384;
const TABLE = 65_536;

/** Functions of the compiled module; all arguments are addresses, counts and numbers. */
type Loops = Readonly<Record<string, (...args: number[]) => number>>;

/**
 * The kernel in WebAssembly with two lanes of doubles: the same operations in the same order as the plain one, to the bit.
 *
 * @param module compiled from `src/kernel/assembly` by the build
 */
export function createFastKernel(module: WebAssembly.Module): Kernel {
  const table = normalScoreTable();
  const arena = new Arena(TABLE + table.byteLength);
  const { memory } = arena;
  const loops = new WebAssembly.Instance(module, { env: { memory } }).exports as unknown as Loops;
  new Float64Array(memory.buffer, TABLE, table.length).set(table);
  const laneStates = new Uint32Array(memory.buffer, SCRATCH, 16);
  const numbers = new Float64Array(memory.buffer, SCRATCH, 128);
  const unused = arena.column(4096);
  const at = (column: Float64Array | Uint8Array | Uint16Array) => arena.at(column);

  /** Puts the curves of both races where the module finds them: address and degree of the inner, then of the outer one. */
  const placeCurves = (curves: BearingCurves, of: "compliance" | "limitLoad") => {
    let next = 0;
    return [curves.innerCurve, curves.outerCurve].flatMap((curve) => {
      const address = SCRATCH + 8 * next;
      numbers.set([curve.centreRatio, curve.halfWidthRatio, ...curve[of]], next);
      next += 2 + curve[of].length;
      return [address, curve[of].length - 1];
    });
  };

  return {
    name: "fast",
    column: (size) => arena.column(size),
    bytes: (size) => arena.bytes(size),
    words: (size) => arena.words(size),
    scoped: (work) => arena.scoped(work),
    mark: () => arena.mark(),

    fillUniforms(states, columns, count) {
      for (let first = 0; first < columns.length; first += 4) {
        const lane = (k: number) => (first + k < columns.length ? at(columns[first + k]) : unused.byteOffset);
        for (let k = 0; k < 4; k += 1) {
          // A lane without a column runs along with the first stream.
          const stream = first + k < columns.length ? first + k : first;
          for (let word = 0; word < 4; word += 1) laneStates[4 * word + k] = states[4 * stream + word];
        }
        loops.fillUniforms(SCRATCH, lane(0), lane(1), lane(2), lane(3), count);
      }
    },
    transform(law, column, count) {
      if (law.kind === "uniform") loops.transformUniform(at(column), count, law.low, law.width, law.high);
      else {
        const { mean, sd, low, high, below, above, mass } = law;
        loops.transformNormal(at(column), count, TABLE, mean, sd, low, high, below, above, mass);
      }
    },

    addColumns: (out, a, b, count) => loops.addColumns(at(out), at(a), at(b), count),
    addScaled: (out, column, factor, count) => loops.addScaled(at(out), at(column), factor, count),
    addMember: (out, length, factor, expansionPerK, rise, count) =>
      loops.addMember(at(out), at(length), factor, expansionPerK, at(rise), count),
    addClampedMember: (out, length, factor, expansionPerK, rise, clampPerN, clamp, count) =>
      loops.addClampedMember(at(out), at(length), factor, expansionPerK, at(rise), clampPerN, at(clamp), count),
    bearingConstants(curves, innerRatio, outerRatio, distanceMm, stiffness, limitMm, count) {
      const { ballCount, ballDiameterMm } = curves;
      const ratios = [at(innerRatio), at(outerRatio)];
      arena.scoped(() => {
        const compliance = at(arena.column(count));
        loops.bearingConstants(
          ...[...ratios, ...placeCurves(curves, "compliance"), ballCount, ballDiameterMm],
          ...[at(distanceMm), at(stiffness), compliance, count],
        );
        if (limitMm === null) return;
        loops.limitDeflection(...ratios, ...placeCurves(curves, "limitLoad"), compliance, at(limitMm), count);
      });
    },
    startClearance: (out, free, outerGrowth, outerRise, innerGrowth, innerRise, ballGrowth, ballRise, count) =>
      loops.startClearance(
        ...[at(out), at(free), outerGrowth, at(outerRise), innerGrowth, at(innerRise)],
        ...[ballGrowth, at(ballRise), count],
      ),
    takeFit: (fit, ring, ringRise, mate, mateRise, smoothing, clearance, flags, count) =>
      loops.takeFit(
        ...[at(clearance), at(flags), fit.lostFlag, fit.sense, at(ring), fit.ringExpansionPerK],
        ...[at(ringRise), at(mate), fit.measuredFactor, fit.mateExpansionPerK, at(mateRise)],
        ...[at(smoothing), fit.racewayRatio, count],
      ),

    preparePairs(offset, slip, clearanceA, clearanceB, signed, pairs, count) {
      const { distanceA, distanceB, offsetMm, wA, wB } = pairs;
      loops.preparePairs(
        ...[offset, slip, clearanceA, clearanceB, distanceA, distanceB, signed, offsetMm, wA, wB].map(at),
        count,
      );
    },
    solvePairs(pairs, count, commonMmPerN) {
      const { extraMmPerN, distanceA, wA, stiffnessA, distanceB, wB, stiffnessB, forceN, xA, xB } = pairs;
      loops.solvePairs(
        ...[at(pairs.offsetMm), commonMmPerN, extraMmPerN === undefined ? 0 : at(extraMmPerN)],
        ...[distanceA, wA, stiffnessA, distanceB, wB, stiffnessB, forceN, xA, xB].map(at),
        SOLVER,
        count,
      );
    },
    fillPairOffsets(forceN, pairs, commonMmPerN, out, count) {
      const { distanceA, wA, stiffnessA, distanceB, wB, stiffnessB } = pairs;
      loops.fillPairOffsets(
        ...[forceN, distanceA, wA, stiffnessA, distanceB, wB, stiffnessB, out].map(at),
        ...[commonMmPerN, SOLVER, count],
      );
    },
    anyAbove: (force, limit, count) => loops.anyAbove(at(force), at(limit), count) !== 0,
    settlePairs(offset, pairs, limits, limitA, limitB, out, count) {
      const { forceN, wA, wB, xA, xB, distanceA, distanceB } = pairs;
      loops.settlePairs(
        ...[offset, forceN, wA, wB, xA, xB, distanceA, distanceB, limitA, limitB].map(at),
        ...[limits.lowN, limits.highN, limits.bindN, limits.pressureLimited ? 1 : 0, limits.pressureFlag],
        ...[out.preloadN, out.playMm, out.outcome, out.flags].map(at),
        count,
      );
    },

    moments(values, count) {
      if (count === 0) return emptyMoments();
      loops.moments(at(values), count, SCRATCH);
      const [rough, s1, s2, s3, s4, min, max] = numbers;
      return centred({ rough, s1, s2, s3, s4, min, max }, count);
    },
    countEqualBins(values, count, low, perUnit, counts) {
      loops.countEqualBins(at(values), count, low, perUnit, at(counts), counts.length);
    },
    countLogBins: (values, count, lowKey, counts, strays) =>
      loops.countLogBins(at(values), count, lowKey, at(counts), counts.length, at(strays)),
    pick: (values, bytes, code, out, count) => loops.pick(at(values), at(bytes), code, at(out), count),
    countBytes: (bytes, code, count) => loops.countBytes(at(bytes), code, count),
    orWords: (words, count) => loops.orWords(at(words), count),
    countBit: (words, bit, count) => loops.countBit(at(words), bit, count),
    equalBytes: (out, bytes, code, count) => loops.equalBytes(at(out), at(bytes), code, count),
    raiseWhere: (pattern, bytes, flag, count) => loops.raiseWhere(at(pattern), at(bytes), flag, count),
  };
}
