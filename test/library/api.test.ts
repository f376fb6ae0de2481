import { describe, expect, it } from "vitest";
import * as library from "../../src/index.ts";
// @ts-expect-error a script of the workshop, without types
import { apiReference, declarationOf } from "../support/api.mjs";

describe("the reference of the library", () => {
  const reference: string = apiReference();

  it("has every exported value, each with a docstring and its signature", () => {
    const sections = new Map(
      reference
        .split("\n### ")
        .slice(1)
        .map((section) => [/^`(\w+)`/.exec(section)?.[1] ?? "", section]),
    );
    for (const name of Object.keys(library)) {
      const section = sections.get(name);
      expect(section, name).toBeDefined();
      expect(section, `${name} has a docstring`).toMatch(/^`\w+`\n\n(?!```)\S/);
      expect(section, name).toMatch(/```ts\n(?:function|const|class) /);
    }
  });

  it("leaves no mark of a comment behind, and ends every signature where it ends", () => {
    expect(reference).not.toMatch(/\{@link|^@(?:param|returns|throws)/m);
    for (const [, code] of reference.matchAll(/```ts\n((?:function|interface|class|const|type)[\s\S]*?)```/g)) {
      for (const [open, close] of ["()", "{}", "[]"]) {
        const plain = code!.replace(/\/\*[\s\S]*?\*\//g, "").replace(/"[^"]*"/g, "");
        expect(plain.split(open!).length, code).toBe(plain.split(close!).length);
      }
    }
  });

  it("reads a declaration with brackets inside its types, and tells one that is not there", () => {
    const text =
      "/** Adds. */\nexport declare function add(a: { x: number; y: number }, b?: [number]): number;\nexport {};";
    expect(declarationOf(text, "add")).toEqual({
      docstring: "Adds.",
      signature: "export declare function add(a: { x: number; y: number }, b?: [number]): number;",
    });
    expect(declarationOf(text, "subtract")).toBeNull();
  });
});
