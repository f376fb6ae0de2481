/** Steady temperatures of bodies that exchange heat: a linear network with ambient at a fixed temperature. */
import { InputError, InternalError } from "../errors.ts";
import { factorise, substitute } from "./small-cholesky.ts";

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

/** No pivot is too small: a network that was checked has a way to ambient from every node. */
const NO_FLOORS = new Float64Array(16);

/**
 * Factorises the conductances of a network: with it the temperatures of any heats are found by `settleRises`.
 *
 * At every node the heat put in equals what flows off, Q_k = Σ_j G_kj·(T_k − T_j), with T of ambient given: symmetric and positive definite.
 *
 * @param factor room for nodeCount × nodeCount numbers, at most 16 nodes; the factor stands in it afterwards
 * @throws InternalError for a network that does not reach ambient, as after a conductance was set to 0
 *
 * Source: Fourier's and Newton's laws; Cholesky as in `factorise`.
 * Accuracy: relative 1e-12 of the largest rise for conductances within six orders of one another.
 */
export function factoriseConductances(network: CompiledThermalNetwork, factor: Float64Array): void {
  const { nodeCount, fromIndex, toIndex, conductancesWPerK } = network;
  factor.fill(0);
  for (let link = 0; link < fromIndex.length; link++) {
    const from = fromIndex[link];
    const to = toIndex[link];
    const conductance = conductancesWPerK[link];
    factor[from * nodeCount + from] += conductance;
    if (to < 0) continue;
    factor[to * nodeCount + to] += conductance;
    factor[Math.max(from, to) * nodeCount + Math.min(from, to)] -= conductance;
  }
  if (!factorise(factor, nodeCount, nodeCount, NO_FLOORS)) {
    throw new InternalError("a thermal network without a path to ambient was not refused");
  }
}

/**
 * Turns heats into the steady rises over ambient that they make.
 *
 * @param factor of `factoriseConductances`
 * @param heatsW Q_k, W, one per node, negative where heat is drawn off; T_k − T of ambient, K, afterwards
 */
export function settleRises({ nodeCount }: CompiledThermalNetwork, factor: Float64Array, heatsW: Float64Array): void {
  substitute(factor, nodeCount, nodeCount, heatsW);
}
