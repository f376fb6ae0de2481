import { html, type Markup } from "../../report/html.ts";
import { lineSwatch } from "../../report/palette.ts";
import { capital, decimal, micrometres, newtons } from "../../report/words.ts";
import type { DrawnBearing, Pair } from "../pair.ts";
import { n, picture } from "./svg.ts";
import { panel, type Shown } from "./view.ts";

/** Shares of the ball diameter: how far the displaced rings are drawn apart at most, and the play around a ball. */
const DRAWN_DISPLACEMENT = 0.16;

/**
 * The pair in section, to scale; only the displacement of the rings, a tenth of a millimetre at most, is drawn many times
 * larger, by a factor that is said below.
 *
 * @param state place of the state that is drawn
 */
export function sectionPanel(shown: readonly Shown[], state: number, width: number): Markup {
  const factor = exaggeration(shown, state);
  const pictures = shown.map((each) =>
    draw(each, Math.min(state, each.picture.nominal.states.length - 1), factor, width),
  );
  const words = html`<ul class="legend"><li>${lineSwatch("var(--accent)", "8 3 2 3")} contact lines</li><li>${lineSwatch("var(--bind)", "none")} path of the preload</li></ul>
<p class="soft">Dimensions to scale, at mean values; displacements of the inner rings against the outer rings drawn ${decimal(factor, 0)} times as large.</p>`;
  return panel("section", "The pair in section", shown, pictures, words);
}

/** A round factor that makes the largest displacement visible, the same for all variants. */
function exaggeration(shown: readonly Shown[], state: number): number {
  const wanted = Math.min(
    ...shown.map(({ picture: { nominal, pair } }) => {
      const offsetMm = Math.abs(nominal.states[Math.min(state, nominal.states.length - 1)]!.offsetMm) / 2;
      return (DRAWN_DISPLACEMENT * Math.min(pair.a.ballDiameterMm, pair.b.ballDiameterMm)) / Math.max(offsetMm, 1e-4);
    }),
  );
  const power = 10 ** Math.floor(Math.log10(wanted));
  return Math.max(1, power * ([5, 2, 1].find((step) => step * power <= wanted) ?? 1));
}

interface Placed {
  readonly bearing: DrawnBearing;
  /** −1 left, 1 right. */
  readonly side: -1 | 1;
  readonly outerMm: number;
  readonly innerMm: number;
  readonly angleRad: number;
}

function draw(
  { name: variant, picture: { nominal, pair, states, arrangement } }: Shown,
  state: number,
  factor: number,
  width: number,
): Markup {
  const found = nominal.states[state]!;
  const place = (bearing: DrawnBearing, side: -1 | 1, angleRad: number): Placed => {
    const outerMm = side * (pair.housingSpacingMm / 2 + ((bearing.outerSeatInboard ? 1 : -1) * bearing.widthMm) / 2);
    // Back-to-back the offset pushes the inner rings towards each other.
    const inboard = pair.isBackToBack ? -side : side;
    return { bearing, side, outerMm, innerMm: outerMm + inboard * (found.offsetMm / 2) * factor, angleRad };
  };
  const placed = [place(pair.a, -1, found.contactAngleRad.a), place(pair.b, 1, found.contactAngleRad.b)] as const;
  const reachMm = Math.max(...placed.map((each) => Math.abs(each.outerMm) + each.bearing.widthMm)) + 4;
  const radiusMm = Math.max(pair.a.outsideDiameterMm, pair.b.outsideDiameterMm) / 2;
  const housingMm = Math.min(Math.max(pair.housingOutsideMm / 2, radiusMm + 3), radiusMm * 1.35);
  const most = Math.min(width - 8, 560);
  const scale = Math.min(most / (2 * reachMm), 300 / (2 * housingMm));
  const height = 2 * housingMm * scale + 34;
  const middleX = width / 2;
  const middleY = housingMm * scale + 6;
  const half = html`${housing(placed, reachMm, housingMm)}${shaft(pair, placed, reachMm)}${placed.map(rings)}`;
  // Loaded the wrong way round, the pair carries like the other arrangement.
  const isWrongWay = found.preloadN < 0;
  const diverges = pair.isBackToBack !== isWrongWay;
  const lines = html`${placed.map((each) => contactLine(each, diverges))}${loadPath(placed, diverges, found.preloadN)}`;
  const barMm = [50, 20, 10, 5, 2].find((length) => length * scale <= width / 3) ?? 1;
  const label = states[state]!.label;
  const preload =
    found.preloadN === 0
      ? "no preload"
      : `preload ${newtons(Math.abs(found.preloadN))}${isWrongWay ? ", the wrong way round" : ""}`;
  const name = `${variant}. Section through two bearings ${pair.a.name} and ${pair.b.name}, ${arrangement}: contact lines ${
    diverges ? "diverge towards the shaft (O)" : "meet towards the shaft (X)"
  }. ${capital(label)}, at mean values: offset ${micrometres(found.offsetMm)}, ${preload}.`;
  const body = html`<g class="section" transform="translate(${n(middleX)},${n(middleY)}) scale(${n(scale)})">
<g>${half}</g><g transform="scale(1,-1)">${half}</g><path d="M${n(-reachMm)},0H${n(reachMm)}" class="centre"/><g>${lines}</g><g transform="scale(1,-1)">${lines}</g></g>
<path d="M12,${n(height - 10)}h${n(barMm * scale)}" stroke="var(--ink)" stroke-width="2"/><text x="${n(18 + barMm * scale)}" y="${n(height - 6)}">${barMm} mm</text>`;
  return html`${picture(name, width, height, body)}<p class="soft">${capital(label)}, at mean values: offset ${micrometres(found.offsetMm)}, the pair carries from ${micrometres(found.onsetMm)}; ${preload}.</p>`;
}

/** Between the seats of the outer rings a shoulder, or outside of them; the far ends are cut off. */
function housing(placed: readonly Placed[], reachMm: number, outsideMm: number): Markup {
  const top = -outsideMm;
  const [a, b] = placed as readonly [Placed, Placed];
  const bore = (each: Placed) => -each.bearing.outsideDiameterMm / 2;
  const lip = (each: Placed) => bore(each) + (each.bearing.outsideDiameterMm - each.bearing.pitchDiameterMm) * 0.18;
  const faces = placed.map(
    (each) => each.outerMm + (each.side * (each.bearing.outerSeatInboard ? -1 : 1) * each.bearing.widthMm) / 2,
  );
  const shape = (each: Placed, face: number) => {
    const inboardIsShoulder = each.bearing.outerSeatInboard;
    const inner = inboardIsShoulder ? lip(each) : bore(each);
    const outer = inboardIsShoulder ? bore(each) : lip(each);
    return { face, inner, outer };
  };
  const left = shape(a, faces[0]!);
  const right = shape(b, faces[1]!);
  const path = `M${n(-reachMm)},${n(top)}H${n(reachMm)}V${n(right.outer)}H${n(right.face)}V${n(right.inner)}H${n((left.face + right.face) / 2)}V${n(left.inner)}H${n(left.face)}V${n(left.outer)}H${n(-reachMm)}Z`;
  return html`<path d="${path}" class="housing"/>`;
}

/** Like the housing, turned inside out: shoulders rise between the inner rings or outside of them. */
function shaft(pair: Pair, placed: readonly Placed[], reachMm: number): Markup {
  const [a, b] = placed as readonly [Placed, Placed];
  const shape = (each: Placed) => {
    const seat = -each.bearing.boreMm / 2;
    const shoulder = seat - (each.bearing.pitchDiameterMm - each.bearing.boreMm) * 0.2;
    const inboard = each.bearing.innerSeatInboard;
    const face = each.innerMm + (each.side * (inboard ? -1 : 1) * each.bearing.widthMm) / 2;
    return { face, inner: inboard ? shoulder : seat, outer: inboard ? seat : shoulder };
  };
  const left = shape(a);
  const right = shape(b);
  const floor = -pair.shaftBoreMm / 2;
  const path = `M${n(-reachMm)},${n(floor)}V${n(left.outer)}H${n(left.face)}V${n(left.inner)}H${n((left.face + right.face) / 2)}V${n(right.inner)}H${n(right.face)}V${n(right.outer)}H${n(reachMm)}V${n(floor)}Z`;
  return html`<path d="${path}" class="shaft"/>`;
}

function rings({ bearing, outerMm, innerMm }: Placed): Markup {
  const { widthMm, ballDiameterMm: ball, pitchDiameterMm: pitch, boreMm, outsideDiameterMm } = bearing;
  const half = widthMm / 2;
  const ballRadius = ball / 2;
  const middle = -pitch / 2;
  const groove = ballRadius * 1.04;
  const shoulder = ballRadius * 0.62;
  const chord = Math.sqrt(groove * groove - shoulder * shoulder);
  const outer = `M${n(outerMm - half)},${n(-outsideDiameterMm / 2)}H${n(outerMm + half)}V${n(middle - shoulder)}H${n(outerMm + chord)}A${n(groove)},${n(groove)} 0 0 0 ${n(outerMm - chord)},${n(middle - shoulder)}H${n(outerMm - half)}Z`;
  const inner = `M${n(innerMm - half)},${n(-boreMm / 2)}H${n(innerMm + half)}V${n(middle + shoulder)}H${n(innerMm + chord)}A${n(groove)},${n(groove)} 0 0 1 ${n(innerMm - chord)},${n(middle + shoulder)}H${n(innerMm - half)}Z`;
  return html`<path d="${outer}" class="ring"/><path d="${inner}" class="ring"/><circle cx="${n((outerMm + innerMm) / 2)}" cy="${n(middle)}" r="${n(ballRadius)}" class="ball"/>`;
}

/** Axial distance per radial distance from the ball's middle towards the shaft: outboard where they diverge, inboard where they meet. */
function lean({ side, angleRad }: Placed, diverges: boolean): number {
  return (diverges ? side : -side) * Math.tan(angleRad);
}

function contactLine(each: Placed, diverges: boolean): Markup {
  const middleX = (each.outerMm + each.innerMm) / 2;
  const middleY = -each.bearing.pitchDiameterMm / 2;
  const slope = lean(each, diverges);
  const beyond = each.bearing.ballDiameterMm * 0.75;
  return html`<path d="M${n(middleX - slope * beyond)},${n(middleY - beyond)}L${n(middleX - slope * middleY)},0" class="contact"/>`;
}

/** The closed line that the preload runs along: ball, inner ring, shaft, inner ring, ball, outer ring, housing. */
function loadPath(placed: readonly Placed[], diverges: boolean, preloadN: number): Markup | null {
  if (preloadN === 0) return null;
  const points = placed.map((each) => {
    const middleX = (each.outerMm + each.innerMm) / 2;
    const slope = lean(each, diverges);
    const reach = each.bearing.ballDiameterMm / 2;
    const innerY = -(each.bearing.boreMm / 2 + (each.bearing.pitchDiameterMm - each.bearing.ballDiameterMm) / 2) / 2;
    const outerY =
      -(each.bearing.outsideDiameterMm / 2 + (each.bearing.pitchDiameterMm + each.bearing.ballDiameterMm) / 2) / 2;
    return {
      inner: `${n(middleX + slope * reach)},${n(innerY)}`,
      outer: `${n(middleX - slope * reach)},${n(outerY)}`,
      shaft: `${n(each.innerMm)},${n(-each.bearing.boreMm / 2 + 0.12 * each.bearing.boreMm)}`,
      housing: `${n(each.outerMm)},${n(-each.bearing.outsideDiameterMm / 2 - 0.03 * each.bearing.outsideDiameterMm)}`,
    };
  });
  const [a, b] = points as unknown as readonly [(typeof points)[number], (typeof points)[number]];
  return html`<path d="M${a.outer}L${a.inner}L${a.shaft}L${b.shaft}L${b.inner}L${b.outer}L${b.housing}L${a.housing}Z" class="load"/>`;
}
