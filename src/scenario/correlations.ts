import { createCopula } from "../distributions/index.ts";
import { didYouMean } from "../units/nearest.ts";
import type { Ledger } from "./ledger.ts";
import type { ScenarioDocument } from "./schema.ts";
import type { ResolvedScenario, VariableIndex } from "./types.ts";

type Correlations = ResolvedScenario["correlations"];

interface Pair {
  readonly first: VariableIndex;
  readonly second: VariableIndex;
  readonly coefficient: number;
  readonly path: string;
}

/**
 * Correlated variables, gathered into groups that have nothing to do with one another, each with its matrix. Variables of
 * a group whose correlation is not given are taken as uncorrelated.
 */
export function resolveCorrelations(ledger: Ledger, written: ScenarioDocument["correlations"]): Correlations {
  const pairs = (written ?? []).flatMap((entry, index) => pairsOf(ledger, entry, `correlations.${index}`));
  checkRepeated(ledger, pairs);
  return groupsOf(pairs).map((variables) => {
    const matrix = matrixOf(variables, pairs);
    const path = pairs.find((pair) => variables.includes(pair.first))?.path ?? "correlations";
    ledger.attempt(() => createCopula(matrix, variables.length, path), null);
    return { variables, matrix };
  });
}

function pairsOf(
  ledger: Ledger,
  { between, coefficient }: { between: string[]; coefficient: number },
  path: string,
): Pair[] {
  if (between.length < 2) {
    ledger.problem({
      code: "missing",
      path: `${path}.between`,
      expected: "at least two variables",
      got: String(between.length),
    });
  }
  if (!(coefficient > -1 && coefficient < 1)) {
    ledger.problem({
      code: "out-of-range",
      path: `${path}.coefficient`,
      expected: "a coefficient between −1 and 1, both excluded",
      got: String(coefficient),
    });
    return [];
  }
  const indices = between.map((name) => variableNamed(ledger, name, `${path}.between`));
  ledger.note({
    path,
    label: `correlation between ${between.join(" and ")}`,
    value: String(coefficient),
    origin: "given",
    source: "of the normal scores (Gaussian copula)",
  });
  const pairs: Pair[] = [];
  for (const [i, first] of indices.entries()) {
    for (const second of indices.slice(i + 1)) {
      if (first === null || second === null) continue;
      if (first === second) {
        const got = ledger.variables[first].name;
        ledger.problem({ code: "conflict", path: `${path}.between`, expected: "variables that differ", got });
      } else pairs.push({ first, second, coefficient, path });
    }
  }
  return pairs;
}

function variableNamed(ledger: Ledger, name: string, path: string): VariableIndex | null {
  const index = ledger.indexOf(name);
  if (index === undefined) {
    const drawn = ledger.names.filter((known) => ledger.varies(ledger.indexOf(known) as number));
    ledger.problem({
      code: "unknown-name",
      path,
      expected: "the address of a drawn variable, as check lists them",
      got: name,
      hint: didYouMean(name, drawn) ?? `Drawn here: ${drawn.slice(0, 8).join(", ")}, …`,
    });
    return null;
  }
  if (!ledger.varies(index)) {
    ledger.problem({ code: "conflict", path, expected: "a variable that varies", got: `${name}, which is fixed` });
    return null;
  }
  return index;
}

function checkRepeated(ledger: Ledger, pairs: readonly Pair[]): void {
  const seen = new Set<string>();
  for (const { first, second, path } of pairs) {
    const key = first < second ? `${first} ${second}` : `${second} ${first}`;
    if (seen.has(key)) {
      const got = `${ledger.variables[first].name} and ${ledger.variables[second].name} again`;
      ledger.problem({ code: "conflict", path: `${path}.between`, expected: "each pair of variables once", got });
    }
    seen.add(key);
  }
}

/** Connected variables, each group in the order of the plan. */
function groupsOf(pairs: readonly Pair[]): VariableIndex[][] {
  const groups: Set<VariableIndex>[] = [];
  for (const { first, second } of pairs) {
    const touched = groups.filter((group) => group.has(first) || group.has(second));
    const merged = new Set([first, second, ...touched.flatMap((group) => [...group])]);
    for (const group of touched) groups.splice(groups.indexOf(group), 1);
    groups.push(merged);
  }
  return groups.map((group) => [...group].sort((a, b) => a - b)).sort((a, b) => a[0] - b[0]);
}

function matrixOf(variables: readonly VariableIndex[], pairs: readonly Pair[]): number[] {
  const size = variables.length;
  const matrix = new Array<number>(size * size).fill(0);
  for (let i = 0; i < size; i++) matrix[i * size + i] = 1;
  for (const { first, second, coefficient } of pairs) {
    const row = variables.indexOf(first);
    const column = variables.indexOf(second);
    if (row < 0 || column < 0) continue;
    matrix[row * size + column] = coefficient;
    matrix[column * size + row] = coefficient;
  }
  return matrix;
}
