import { readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, test } from "vitest";
import packageJson from "../package.json" with { type: "json" };
import { OUTCOMES } from "../src/model/outcome.ts";
import { STREAM_VERSION } from "../src/random/streams.ts";
import { seatspread, workFolder } from "./support/cli.ts";

/** What the documents promise is run, so that they cannot fall behind. */
const README = readFileSync("README.md", "utf8");
const DEVELOPERS = readFileSync("DEVELOPERS.md", "utf8");

function shellLines(text: string): string[] {
  return [...text.matchAll(/```sh\n([\s\S]*?)```/g)]
    .flatMap((match) => match[1].split("\n"))
    .map((line) => line.replace(/\s+#.*$/, "").trim())
    .filter((line) => line !== "");
}

const folder = workFolder();

describe("README", () => {
  const commands = shellLines(README).filter((line) => line.startsWith("npx . "));

  test("names commands to run", () => {
    expect(commands.length).toBeGreaterThan(4);
  });

  test.each(commands)("%s works as it stands", (line) => {
    const words = line
      .slice("npx . ".length)
      .match(/"[^"]*"|\S+/g)!
      .map((word) => word.replace(/^"|"$/g, ""));
    const { code, stderr } = seatspread(folder, words);
    // 1: the scenario requires a yield that it does not reach.
    expect([0, 1], stderr).toContain(code);
  });

  test("starts with one command that runs and one that tests, both npm scripts", () => {
    expect(shellLines(README).slice(0, 2)).toEqual(["npm ci && npm start", "npm ci && npm test"]);
    expect(packageJson.scripts.start).toContain("scenarios/laminating-roller.yaml");
  });

  test("lists every shipped scenario, and none that is not", () => {
    const shipped = readdirSync("scenarios").filter((name) => name.endsWith(".yaml"));
    const listed = [...README.matchAll(/`scenarios\/([a-z-]+\.yaml)`/g)].map((match) => match[1]);
    expect([...new Set(listed)].sort()).toEqual(shipped.sort());
  });

  test("states the stream version and the cautions", () => {
    expect(README).toContain(`Stream version: ${STREAM_VERSION}`);
    for (const word of ["Rotating machinery", "brakes", "hot", "standards", "local codes", "licensed"]) {
      expect(README).toContain(word);
    }
  });
});

describe("the contributor's guide", () => {
  test("maps every folder of src", () => {
    const folders = readdirSync("src", { withFileTypes: true })
      .filter((entry) => entry.isDirectory())
      .map((entry) => entry.name);
    for (const folder of folders) expect(DEVELOPERS).toContain(`\`${folder}/\``);
  });

  test("names files that exist and every outcome", () => {
    const named = [...DEVELOPERS.matchAll(/`((?:[a-z-]+\/)+[a-z-]+\.ts)`/g)].map((match) => match[1]);
    expect(named.length).toBeGreaterThan(10);
    const missing = named.filter((name) => {
      const path = name.startsWith("test/") ? name : join("src", name);
      try {
        readFileSync(path);
        return false;
      } catch {
        return true;
      }
    });
    expect(missing).toEqual([]);
    for (const outcome of OUTCOMES) expect(DEVELOPERS).toContain(`\`${outcome}\``);
  });
});
