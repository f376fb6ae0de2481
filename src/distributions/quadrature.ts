/** Fixed quadrature for moments at plan time. */

/** Abscissae above the middle and weights of the 20-point Gauss–Legendre rule (Abramowitz & Stegun, Table 25.4). */
const NODES = [
  0.0765265211334973, 0.2277858511416451, 0.37370608871541955, 0.5108670019508271, 0.636053680726515,
  0.7463319064601508, 0.8391169718222188, 0.912234428251326, 0.9639719272779138, 0.9931285991850949,
];
const WEIGHTS = [
  0.15275338713072584, 0.14917298647260374, 0.14209610931838204, 0.13168863844917664, 0.11819453196151841,
  0.10193011981724044, 0.08327674157670475, 0.06267204833410907, 0.04060142980038694, 0.017614007139152118,
];

/** ∫ f from `from` to `to` over equal panels of 20 points each. */
export function gaussLegendre(f: (x: number) => number, from: number, to: number, panels: number): number {
  const half = (to - from) / (2 * panels);
  let sum = 0;
  for (let panel = 0; panel < panels; panel++) {
    const middle = from + half * (2 * panel + 1);
    for (let k = 0; k < NODES.length; k++) {
      sum += WEIGHTS[k] * (f(middle - half * NODES[k]) + f(middle + half * NODES[k]));
    }
  }
  return sum * half;
}
