/**
 * What may be wrong in a formula, put in on purpose: every operator, comparison, constant, sign, choice and statement of a
 * source file, changed one at a time.
 */
import { parse } from "@babel/parser";

/** One change of one place. */
export interface Mutant {
  /** Names it for a person and survives edits elsewhere in the file: function, what stood there, what stands there now. */
  readonly name: string;
  readonly line: number;
}

/** A place in the source with everything that may stand there instead. */
export interface Site {
  readonly start: number;
  readonly end: number;
  readonly isStatement: boolean;
  readonly alternatives: readonly { readonly mutant: Mutant; readonly text: string }[];
}

/** A node as far as it is needed here; the parser's own types list every kind of node there is. */
interface Node {
  readonly type: string;
  readonly start: number;
  readonly end: number;
  readonly loc: { readonly start: { readonly line: number } };
  readonly [key: string]: unknown;
}

const SWAPPED: Readonly<Record<string, readonly string[]>> = {
  "+": ["-"],
  "-": ["+"],
  "*": ["/"],
  "/": ["*"],
  "%": ["*"],
  "<": ["<=", ">="],
  "<=": ["<", ">"],
  ">": [">=", "<="],
  ">=": [">", "<"],
  "===": ["!=="],
  "!==": ["==="],
  "&&": ["||"],
  "||": ["&&"],
  "??": ["&&"],
  "+=": ["-="],
  "-=": ["+="],
  "*=": ["/="],
  "/=": ["*="],
};
const SWAPPED_CALLS: Readonly<Record<string, string>> = {
  "Math.min": "Math.max",
  "Math.max": "Math.min",
  "Math.abs": "",
  sin: "cos",
  cos: "sin",
};

/** Every place of a source at which something else may stand, outermost first. */
export function sitesOf(source: string): readonly Site[] {
  const sites: Site[] = [];
  const counts = new Map<string, number>();
  const textOf = (node: Node) => source.slice(node.start, node.end);

  const add = (node: Node, scope: string, changes: readonly (readonly [from: string, to: string, text: string])[]) => {
    if (changes.length === 0) return;
    const alternatives = changes.map(([from, to, text]) => {
      const name = `${scope}: ${short(from)} → ${short(to)}`;
      const count = (counts.get(name) ?? 0) + 1;
      counts.set(name, count);
      return { mutant: { name: count === 1 ? name : `${name} (${count})`, line: node.loc.start.line }, text };
    });
    sites.push({ start: node.start, end: node.end, isStatement: /Statement$/.test(node.type), alternatives });
  };

  const visit = (node: Node, scope: string, role: Role): void => {
    if (node.type.startsWith("TS") && !("expression" in node)) return;
    if (node.type === "ImportDeclaration" || node.type === "ThrowStatement") return;
    const inside = named(node) ?? scope;
    add(node, inside, changesOf(node, textOf, role));
    for (const [key, child] of childrenOf(node)) visit(child, inside, roleOf(node, key, role));
  };
  visit(parse(source, { sourceType: "module", plugins: ["typescript"] }).program as unknown as Node, "file", "value");
  return sites;
}

/** Whether a number is an amount, an index or size, or the limit of a loop: each is wrong in its own way. */
type Role = "value" | "index" | "limit";

function roleOf(parent: Node, key: string, role: Role): Role {
  if (parent.type === "MemberExpression") return key === "property" ? "index" : role;
  if (parent.type === "NewExpression" && key === "arguments") return "index";
  if (parent.type === "ForStatement") return key === "test" ? "limit" : "value";
  if (/Statement$|Function/.test(parent.type)) return "value";
  return role;
}

function changesOf(
  node: Node,
  textOf: (node: Node) => string,
  role: Role,
): readonly (readonly [from: string, to: string, text: string])[] {
  const part = (key: string) => node[key] as Node;
  const operator = node.operator as string;
  switch (node.type) {
    case "BinaryExpression":
    case "LogicalExpression":
    case "AssignmentExpression": {
      const [left, right] = [textOf(part("left")), textOf(part("right"))];
      if (/^["'`]/.test(left) || /^["'`]/.test(right)) return operator === "+" ? [] : swap();
      return swap();
      function swap() {
        return (SWAPPED[operator] ?? []).map(
          (other) => [`${tail(left)} ${operator} ${head(right)}`, other, `(${left}) ${other} (${right})`] as const,
        );
      }
    }
    case "UnaryExpression":
      if (operator !== "-" && operator !== "!") return [];
      return [[textOf(node), "its argument", textOf(part("argument"))]];
    case "NumericLiteral":
      return [[textOf(node), changedNumber(node.value as number, role), changedNumber(node.value as number, role)]];
    case "ConditionalExpression": {
      const branches = [textOf(part("consequent")), textOf(part("alternate"))];
      return branches.map((branch) => [textOf(node), branch, branch] as const);
    }
    case "IfStatement": {
      const test = textOf(part("test"));
      const rest = textOf(node).slice(part("test").end - node.start);
      return [
        [`if (${test})`, "never", `if (false && (${test})${rest}`],
        [`if (${test})`, "always", `if (true || (${test})${rest}`],
      ];
    }
    case "ExpressionStatement":
      return [[textOf(node), "nothing", ";"]];
    case "CallExpression": {
      const callee = textOf(part("callee"));
      const other = SWAPPED_CALLS[callee];
      if (other === undefined) return [];
      const rest = textOf(node).slice(callee.length);
      return [[`${callee}${rest}`, other === "" ? "its argument" : other, `${other}${rest}`]];
    }
    default:
      return [];
  }
}

/** 0 and 1 for one another, an index or size to the next, a loop's limit to one turn, a tolerance by far, all else by 0.1 %. */
function changedNumber(value: number, role: Role): string {
  if (value === 0) return "1";
  if (role === "limit") return value === 1 ? "0" : "1";
  if (value === 1) return "0";
  if (role === "index") return String(value + 1);
  return Math.abs(value) < 1e-8 ? `${value * 1e5}` : `${value * 1.001}`;
}

/** Name of a function, method or variable that holds a function. */
function named(node: Node): string | undefined {
  const isHolder = node.type === "VariableDeclarator" && /Function/.test((node.init as Node | null)?.type ?? "");
  if (node.type === "FunctionDeclaration" || isHolder) return (node.id as { name?: string }).name;
  if (!/^Class\w*Method$/.test(node.type)) return undefined;
  const key = node.key as { name?: string; id?: { name: string } };
  return key.name ?? key.id?.name;
}

function* childrenOf(node: Node): Generator<readonly [string, Node]> {
  for (const [key, value] of Object.entries(node)) {
    if (key === "loc" || key === "typeAnnotation" || key === "returnType" || key.endsWith("omments")) continue;
    if (key === "typeParameters" || ((key === "key" || key === "property") && node.computed !== true)) continue;
    for (const child of Array.isArray(value) ? value : [value]) {
      if (typeof (child as Node | null)?.type === "string") yield [key, child as Node];
    }
  }
}

const tail = (text: string) => (text.length > 40 ? `…${text.slice(-38)}` : text);
const head = (text: string) => (text.length > 40 ? `${text.slice(0, 38)}…` : text);
const short = (text: string) => {
  const line = text.replace(/\s+/g, " ").trim();
  return line.length > 100 ? `${line.slice(0, 60)} … ${line.slice(-36)}` : line;
};
