/** Steady temperatures of bodies that exchange heat: a linear network with ambient at a fixed temperature. */
import { InputError, InternalError } from "../errors.ts";
import { requireFinite } from "./guards.ts";

/** Heat flows from one node to another, or to ambient, in proportion to their temperature difference. */
export interface ThermalLink {
  readonly from: string;
  /** Another node, or null for ambient. */
  readonly to: string | null;
  /** G, W/K, above 0. */
  readonly conductanceWPerK: number;
}

export interface ThermalNetwork {
  readonly nodes: readonly string[];
  readonly links: readonly ThermalLink[];
}

/** A checked network with indices in place of names; conductances may be changed from sample to sample. */
export interface CompiledThermalNetwork {
  readonly nodeCount: number;
  readonly fromIndex: Int32Array;
  /** −1 for ambient. */
  readonly toIndex: Int32Array;
  readonly conductancesWPerK: Float64Array;
}

/**
 * Check a network and number its nodes.
 *
 * @throws InputError for a node named twice, a link to an unknown node or to itself, a conductance of 0 or less, and a node
 *   from which no path of links leads to ambient: its temperature would be anything
 */
export function compileThermalNetwork(network: ThermalNetwork): CompiledThermalNetwork {
  const index = new Map(network.nodes.map((name, place) => [name, place]));
  if (index.size !== network.nodes.length || index.size === 0) {
    throw new InputError({
      code: "conflict",
      path: "network.nodes",
      expected: "at least one node, each named once",
      got: network.nodes.join(", "),
    });
  }
  const place = (name: string | null, path: string): number => {
    if (name === null) return -1;
    const found = index.get(name);
    if (found !== undefined) return found;
    throw new InputError({
      code: "unknown-name",
      path,
      expected: `a node of the network (${network.nodes.join(", ")})`,
      got: name,
    });
  };
  const compiled: CompiledThermalNetwork = {
    nodeCount: network.nodes.length,
    fromIndex: Int32Array.from(network.links, (link, i) => place(link.from, `network.links.${i}.from`)),
    toIndex: Int32Array.from(network.links, (link, i) => place(link.to, `network.links.${i}.to`)),
    conductancesWPerK: Float64Array.from(network.links, (link) => link.conductanceWPerK),
  };
  network.links.forEach((link, i) => {
    if (!(link.conductanceWPerK > 0 && link.conductanceWPerK < Number.POSITIVE_INFINITY) || link.from === link.to) {
      throw new InputError({
        code: "out-of-range",
        path: `network.links.${i}`,
        expected: "two different ends and a conductance above 0 W/K",
        got: `${link.from} to ${link.to ?? "ambient"}, ${link.conductanceWPerK} W/K`,
      });
    }
  });
  refuseIsolated(network, compiled);
  return compiled;
}

function refuseIsolated(network: ThermalNetwork, compiled: CompiledThermalNetwork): void {
  const { fromIndex, toIndex, nodeCount } = compiled;
  const reached = new Uint8Array(nodeCount);
  for (let round = 0; round < nodeCount; round++) {
    for (let link = 0; link < fromIndex.length; link++) {
      const from = fromIndex[link];
      const to = toIndex[link];
      if (to < 0 || reached[to] === 1) reached[from] = 1;
      else if (reached[from] === 1) reached[to] = 1;
    }
  }
  const lost = network.nodes.filter((_, node) => reached[node] === 0);
  if (lost.length > 0) {
    throw new InputError({
      code: "conflict",
      path: "network.links",
      expected: "a path of links from every node to ambient",
      got: `none from ${lost.join(", ")}`,
      hint: "Link it to a node that has one, or to ambient",
    });
  }
}

/**
 * Steady temperatures: at every node the heat put in equals what flows off, Q_k = Σ_j G_kj·(T_k − T_j), with T of ambient given.
 *
 * Solved for the rises over ambient by Gaussian elimination.
 *
 * @param heatsW Q_k, W, one per node; negative where heat is drawn off
 * @param ambientC temperature of ambient, °C
 * @returns T_k, °C
 *
 * Source: Fourier's and Newton's laws; elimination as in G. H. Golub and C. F. Van Loan, Matrix Computations, 3.4.
 * Accuracy: relative 1e-12 of the largest rise for conductances within six orders of one another.
 */
export function steadyTemperaturesC(
  network: CompiledThermalNetwork,
  heatsW: ArrayLike<number>,
  ambientC: number,
): Float64Array {
  const n = network.nodeCount;
  requireFinite(ambientC, "ambientC", "°C");
  if (heatsW.length !== n) throw new InternalError(`${heatsW.length} heats for ${n} nodes`);
  const matrix = new Float64Array(n * n);
  const rises = Float64Array.from(heatsW);
  for (let link = 0; link < network.fromIndex.length; link++) {
    const from = network.fromIndex[link];
    const to = network.toIndex[link];
    const conductance = network.conductancesWPerK[link];
    matrix[from * n + from] += conductance;
    if (to < 0) continue;
    matrix[to * n + to] += conductance;
    matrix[from * n + to] -= conductance;
    matrix[to * n + from] -= conductance;
  }
  eliminate(matrix, rises, n);
  for (let node = 0; node < n; node++) rises[node] += ambientC;
  return rises;
}

/**
 * No pivoting: every node's own entry is the sum of the others in its column and its way to ambient, which elimination keeps
 * so; the largest entry of a column stands on the diagonal already.
 */
function eliminate(matrix: Float64Array, vector: Float64Array, n: number): void {
  for (let column = 0; column < n; column++) {
    const pivot = matrix[column * n + column];
    if (!(pivot > 0)) throw new InternalError("a thermal network without a path to ambient was not refused");
    for (let row = column + 1; row < n; row++) {
      const factor = matrix[row * n + column] / pivot;
      for (let k = column; k < n; k++) matrix[row * n + k] -= factor * matrix[column * n + k];
      vector[row] -= factor * vector[column];
    }
  }
  for (let row = n - 1; row >= 0; row--) {
    let sum = vector[row];
    for (let k = row + 1; k < n; k++) sum -= matrix[row * n + k] * vector[k];
    vector[row] = sum / matrix[row * n + row];
  }
}
