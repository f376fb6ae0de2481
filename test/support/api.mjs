// Writes .build/api.md: every name that the library exports, with its signature and its docstring, from the declarations.
import { readFileSync, writeFileSync } from "node:fs";
import { dirname, join } from "node:path";
import { pathToFileURL } from "node:url";

const LIB = ".build/lib";

/** What `src/index.ts` exports, in its order and under its headings. */
export function exportedNames(source) {
  const found = [];
  let heading = "";
  for (const match of source.matchAll(/^\/\/ ## (.+)$|^export (type )?\{([^}]*)\} from "([^"]+)";/gm)) {
    if (match[1] !== undefined) heading = match[1];
    else {
      for (const part of match[3].split(",")) {
        const name = part.trim().replace(/^type\s+/, "");
        if (name !== "") found.push({ heading, name, from: match[4].replace(/\.ts$/, ".d.ts") });
      }
    }
  }
  return found;
}

/** A declaration with the docstring before it. Null where the text declares no such name. */
export function declarationOf(text, name) {
  const start = new RegExp(
    `^export (?:declare )?(?:abstract )?(?:async )?(?:function|const|class|interface|type) ${name}\\b`,
    "m",
  ).exec(text);
  if (start === null) {
    // Several names of one file may be handed on from another.
    const passed = new RegExp(`export (?:type )?\\{[^}]*\\b${name}\\b[^}]*\\} from "([^"]+)"`).exec(text);
    return passed === null ? null : { from: passed[1] };
  }
  const before = text.slice(0, start.index);
  const comment = /\/\*\*(?:(?!\*\/)[\s\S])*\*\/\s*$/.exec(before)?.[0] ?? "";
  return { docstring: plain(comment), signature: text.slice(start.index, endOf(text, start.index)).trim() };
}

/** A declaration ends at the first semicolon outside brackets, or with the bracket that closes it. */
function endOf(text, from) {
  const isBlock = /^export (?:declare )?(?:abstract )?(?:class|interface)/.test(text.slice(from, from + 60));
  let depth = 0;
  for (let at = from; at < text.length; at += 1) {
    const letter = text[at];
    if (letter === "/" && text[at + 1] === "*") at = text.indexOf("*/", at) + 1;
    else if ("{([".includes(letter)) depth += 1;
    else if ("})]".includes(letter)) {
      depth -= 1;
      if (isBlock && depth === 0 && letter === "}") return at + 1;
    } else if (letter === ";" && depth === 0) return at + 1;
  }
  return text.length;
}

function plain(comment) {
  return comment
    .replace(/^\s*\/\*\*\s?|\s*\*\/\s*$/g, "")
    .replace(/^[ \t]*\* ?/gm, "")
    .replace(/\{@link (\w+)\}/g, "`$1`")
    .replace(/^@(param|returns|throws)\s+(\S+)?/gm, (_, tag, word = "") =>
      tag === "param" ? `- \`${word}\`:` : `- *${tag}* ${word}`,
    )
    .trim();
}

/** The reference as one text. Throws where an export cannot be found or has no docstring that says what it is. */
export function apiReference() {
  const index = readFileSync("src/index.ts", "utf8");
  const intro = plain(/^\/\*\*[\s\S]*?\*\//.exec(index)?.[0] ?? "");
  const parts = ["# The library", "", intro];
  let heading = "";
  for (const each of exportedNames(index)) {
    if (each.heading !== heading) {
      heading = each.heading;
      parts.push("", `## ${heading}`);
    }
    const found = find(join(LIB, each.from), each.name);
    parts.push("", `### \`${each.name}\``, "");
    if (found.docstring !== "") parts.push(found.docstring, "");
    const signature = found.signature.replace(/^export (?:declare )?/, "").replace(/\{@link (\w+)\}/g, "`$1`");
    parts.push("```ts", signature, "```");
  }
  return `${parts.join("\n")}\n`;
}

function find(path, name) {
  const found = declarationOf(readFileSync(path, "utf8"), name);
  if (found === null) throw new Error(`${path} declares no ${name}`);
  return found.from === undefined ? found : find(join(dirname(path), found.from.replace(/\.js$/, ".d.ts")), name);
}

if (import.meta.url === pathToFileURL(process.argv[1]).href) {
  writeFileSync(".build/api.md", apiReference());
  process.stdout.write("Reference: .build/api.md\n");
}
