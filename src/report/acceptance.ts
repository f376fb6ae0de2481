/**
 * Share of units whose acceptance window holds an offset: what the yield would be were every unit machined exactly to it.
 * A unit without a window (NaN ends) accepts none.
 */
export function acceptanceCurve(
  lowMm: Float64Array,
  highMm: Float64Array,
  offsetsMm: readonly number[],
): { readonly offsetMm: number; readonly shareRatio: number }[] {
  const lows: number[] = [];
  const highs: number[] = [];
  for (let unit = 0; unit < lowMm.length; unit += 1) {
    if (!(lowMm[unit]! <= highMm[unit]!)) continue;
    lows.push(lowMm[unit]!);
    highs.push(highMm[unit]!);
  }
  const sortedLow = Float64Array.from(lows).sort();
  const sortedHigh = Float64Array.from(highs).sort();
  let opened = 0;
  let shut = 0;
  return offsetsMm.map((offsetMm) => {
    while (opened < sortedLow.length && sortedLow[opened]! <= offsetMm) opened += 1;
    while (shut < sortedHigh.length && sortedHigh[shut]! < offsetMm) shut += 1;
    return { offsetMm, shareRatio: lowMm.length === 0 ? 0 : (opened - shut) / lowMm.length };
  });
}
