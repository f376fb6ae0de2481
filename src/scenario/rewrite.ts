import { isAlias, isMap, isSeq, parseDocument, Scalar } from "yaml";
import { applyOverrides, type Override } from "./overrides.ts";
import { readScenarioText } from "./read.ts";

/**
 * Scenario text with changes written into it. Comments and order stay; what is read back from it is the same as the old
 * text with the changes applied.
 *
 * @throws InputError as reading and changing do
 */
export function rewriteScenario(text: string, fileName: string, overrides: readonly Override[]): string {
  const { content } = readScenarioText(text, fileName);
  const wanted = applyOverrides(content, overrides);
  if (overrides.length === 0) return text;
  const changed = changedInPlace(text, overrides);
  // A node that several places share changes in all of them or in none: such a text is written anew from its content.
  const isAsWanted =
    changed !== null && JSON.stringify(readScenarioText(changed, fileName).content) === JSON.stringify(wanted);
  return isAsWanted ? changed : writtenAnew(wanted);
}

/** Null where an address leads through a reference to something that stands elsewhere. */
function changedInPlace(text: string, overrides: readonly Override[]): string | null {
  const document = parseDocument(text, { version: "1.2" });
  for (const { path, value } of overrides) {
    const keys = keysOf(document.contents, path);
    if (keys.some((_, depth) => depth > 0 && isAlias(document.getIn(keys.slice(0, depth), true)))) return null;
    const node: unknown = document.getIn(keys, true);
    const isPlain = typeof value === "string" || typeof value === "number";
    // A plain value is changed where it stands, so that the comment beside it stays.
    if (isPlain && node instanceof Scalar && node.anchor === undefined) {
      node.value = value;
      if (typeof value === "string") node.type = undefined;
    } else document.setIn(keys, value);
  }
  return document.toString({ lineWidth: 0 });
}

function writtenAnew(content: unknown): string {
  const document = parseDocument("{}", { version: "1.2" });
  document.contents = document.createNode(content) as typeof document.contents;
  return document.toString({ lineWidth: 0 });
}

/** List elements go by number or name in an address; in a document by number only. */
function keysOf(root: unknown, path: string): (string | number)[] {
  let node: unknown = root;
  return path.split(".").map((part) => {
    if (isSeq(node)) {
      const items: readonly unknown[] = node.items;
      const named = items.findIndex((item) => isMap(item) && String(item.get("name")) === part);
      const index = /^\d+$/.test(part) && Number(part) < items.length ? Number(part) : named;
      node = items[index];
      return index;
    }
    if (isMap(node)) node = node.get(part, true);
    return part;
  });
}
