import type { DrawnMember } from "./moved.ts";
import { priceAt, type TolerancePart } from "./tolerance-parts.ts";

/** What the tolerances of a chain come to: the parts whose tolerance may change, and the members that stay as drawn. */
export class ChainSpread {
  /** Standard deviation of the offset by the whole chain as drawn, mm. */
  readonly drawnSdMm: number;
  private readonly fixedSdMm: number;

  constructor(
    members: readonly DrawnMember[],
    readonly free: readonly TolerancePart[],
    readonly fixed: readonly DrawnMember[],
  ) {
    this.drawnSdMm = rootSumSquare(members.map(({ offsetSdMm }) => offsetSdMm));
    this.fixedSdMm = rootSumSquare(fixed.map(({ offsetSdMm }) => offsetSdMm));
  }

  /** Standard deviation that is left for the free parts where that of the whole chain is multiplied, mm. */
  budgetMm(spreadRatio: number): number {
    const total = spreadRatio * this.drawnSdMm;
    return Math.sqrt(Math.max(0, total * total - this.fixedSdMm * this.fixedSdMm));
  }

  /** Standard deviation of the offset with these tolerances of the free parts, mm. */
  sdMm(tolerancesMm: ArrayLike<number>): number {
    const variance = this.free.reduce((sum, { weight }, i) => {
      const own = weight * tolerancesMm[i];
      return sum + own * own;
    }, this.fixedSdMm * this.fixedSdMm);
    return Math.sqrt(variance);
  }

  /** Price of these tolerances of the free parts. */
  price(tolerancesMm: ArrayLike<number>): number {
    return this.free.reduce((sum, part, i) => sum + priceAt(part, tolerancesMm[i]), 0);
  }

  /** Worst case and root sum square of the whole chain, half-widths. */
  stack(tolerancesMm: readonly number[]): { worstCaseMm: number; rootSumSquareMm: number } {
    const widths = [
      ...this.free.map(({ member }, i) => Math.abs(member.slopeRatio) * tolerancesMm[i]),
      ...this.fixed.map(({ slopeRatio, toleranceMm }) => Math.abs(slopeRatio) * toleranceMm),
    ];
    return { worstCaseMm: widths.reduce((sum, width) => sum + width, 0), rootSumSquareMm: rootSumSquare(widths) };
  }
}

function rootSumSquare(values: readonly number[]): number {
  return Math.sqrt(values.reduce((sum, value) => sum + value * value, 0));
}
