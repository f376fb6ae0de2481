/** A source in which every mutant is there at once and one of them is switched on, so that it is bundled once for all. */
import { createHash } from "node:crypto";
import { parse } from "@babel/parser";
import type { Site } from "./mutants.ts";

/** What the instrumented source reads: which mutant is on (none: −1), and where it leaves which places it came by. */
export interface Switchboard {
  on: number;
  reached: Uint8Array;
}

/** Name of the switchboard among the globals. */
export const SWITCHBOARD = "seatspreadMutation";

/** @param first number of the file's first mutant among all */
export function instrument(source: string, sites: readonly Site[], first: number): string {
  const numbers = new Map<Site, number>();
  let next = first;
  for (const site of sites) {
    numbers.set(site, next);
    next += site.alternatives.length;
  }

  const render = (start: number, end: number, inside: readonly Site[]): string => {
    let text = "";
    let at = start;
    for (let i = 0; i < inside.length; ) {
      const site = inside[i];
      let last = i + 1;
      while (last < inside.length && inside[last].start < site.end) last += 1;
      text += source.slice(at, site.start) + choice(site, inside.slice(i + 1, last));
      at = site.end;
      i = last;
    }
    return text + source.slice(at, end);
  };
  const choice = (site: Site, inside: readonly Site[]): string => {
    const number = numbers.get(site)!;
    const original = render(site.start, site.end, inside);
    const alternatives = site.alternatives.map(({ text }, index) => ({ text, on: `on_ === ${number + index}` }));
    if (site.isStatement) {
      const chain = alternatives.map(({ text, on }) => `if (${on}) { ${text} } else `).join("");
      return `{ reached_[${number}] = 1; ${chain}{ ${original} } }`;
    }
    const chain = alternatives.map(({ text, on }) => `${on} ? (${text}) : `).join("");
    return `(reached_[${number}] = 1, ${chain}(${original}))`;
  };

  const header = `const { on: on_, reached: reached_ } = globalThis.${SWITCHBOARD};\n`;
  return header + render(0, source.length, sites);
}

/** SHA-256 of a source's words and signs: comments and layout aside, the code that the record speaks of. */
export function codeHash(source: string): string {
  const { tokens } = parse(source, { sourceType: "module", plugins: ["typescript"], tokens: true });
  const words = tokens!.filter(({ type }) => !/^Comment/.test(type)).map(({ start, end }) => source.slice(start, end));
  return createHash("sha256").update(words.join("\n")).digest("hex");
}
