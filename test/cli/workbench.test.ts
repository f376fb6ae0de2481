import { spawnSync } from "node:child_process";
import { existsSync, mkdirSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { request } from "node:http";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { openBrowser } from "../../src/cli/open-browser.ts";
import { PROGRAM, seatspread, startSeatspread, workFolder } from "../support/cli.ts";

const folder = workFolder();

/** What the server answers to a request with headers of its own. */
function ask(url: string, headers: Record<string, string> = {}, method = "GET", path = "/") {
  return new Promise<{ status: number; headers: Record<string, unknown>; text: string }>((resolve, reject) => {
    const { hostname, port } = new URL(url);
    const asked = request({ hostname, port, path, method, headers }, (response) => {
      let text = "";
      response.setEncoding("utf8");
      response.on("data", (part) => {
        text += part;
      });
      response.on("end", () => resolve({ status: response.statusCode ?? 0, headers: response.headers, text }));
    });
    asked.on("error", reject);
    asked.end();
  });
}

async function urlOf(child: ReturnType<typeof startSeatspread>["child"]): Promise<string> {
  return new Promise((resolve, reject) => {
    child.stdout.on("data", (text) => {
      const url = /http:\/\/\S+/.exec(String(text))?.[0];
      if (url !== undefined) resolve(url);
    });
    child.on("close", () => reject(new Error("the server ended before it said where it is")));
  });
}

describe("seatspread workbench", { timeout: 60_000 }, () => {
  it("serves one page to this machine alone, refuses what comes from elsewhere, and ends with its terminal", async () => {
    const { child, ended } = startSeatspread(folder, ["workbench", "scenarios/laminating-roller.yaml"]);
    const url = await urlOf(child);
    expect(new URL(url).hostname).toBe("127.0.0.1");
    const page = await ask(url);
    expect(page.status).toBe(200);
    expect(page.text).toContain("Heated laminating roller");
    expect(page.headers["x-content-type-options"]).toBe("nosniff");
    expect(page.headers["content-security-policy"]).toContain("frame-ancestors 'none'");
    expect(page.text).toMatch(/http-equiv="Content-Security-Policy" content="default-src 'none'; script-src 'sha256-/);
    expect(page.text).not.toContain("'unsafe-eval'");

    const { port } = new URL(url);
    expect((await ask(url, { host: "elsewhere.example" })).status).toBe(421);
    expect((await ask(url, { host: `127.0.0.1.elsewhere.example:${port}` })).status).toBe(421);
    expect((await ask(url, { origin: "http://elsewhere.example" })).status).toBe(403);
    expect((await ask(url, { origin: "null" })).status).toBe(403);
    expect((await ask(url, { origin: `http://localhost:${port}`, host: `localhost:${port}` })).status).toBe(200);
    expect((await ask(url, { "sec-fetch-site": "cross-site", "sec-fetch-mode": "no-cors" })).status).toBe(403);
    expect((await ask(url, {}, "POST")).status).toBe(405);
    expect((await ask(url, {}, "GET", "/scenarios/laminating-roller.yaml")).status).toBe(404);
    expect((await ask(url, {}, "GET", "/../package.json")).status).toBe(404);
    for (const answer of [await ask(url, { host: "elsewhere.example" }), await ask(url, {}, "GET", "/x")]) {
      expect(answer.text).not.toContain("Heated laminating roller");
    }

    child.kill("SIGHUP");
    expect((await ended).code).toBe(0);
    await expect(ask(url)).rejects.toThrow();
  });

  it("opens the desktop's browser where it has a terminal, and is content without one", async () => {
    const told = join(folder, "told");
    const command = (options: string) =>
      `timeout -s INT 3 ${process.execPath} ${PROGRAM} workbench scenarios/laminating-roller.yaml ${options}`;
    const onTerminal = (options: string, path: string) =>
      spawnSync("script", ["-qec", command(options), "/dev/null"], {
        cwd: folder,
        encoding: "utf8",
        env: { ...process.env, PATH: path },
      });
    const openers = join(folder, "openers");
    mkdirSync(openers);
    writeFileSync(join(openers, "xdg-open"), `#!/bin/sh\nprintf %s "$1" > ${told}\n`, { mode: 0o755 });
    const { stdout } = onTerminal("", `${openers}:${process.env.PATH}`);
    const url = /http:\/\/127\.0\.0\.1:\d+\//.exec(stdout)?.[0];
    expect(url).toBeDefined();
    expect(readFileSync(told, "utf8")).toBe(url);
    rmSync(told);
    onTerminal("--no-open", `${openers}:${process.env.PATH}`);
    expect(existsSync(told)).toBe(false);
  });

  it("never fails for want of an opener", async () => {
    openBrowser("http://127.0.0.1:1/", ["/no/such/opener"]);
    await expect(new Promise((resolve) => setTimeout(() => resolve("still here"), 100))).resolves.toBe("still here");
  });

  it("says why a port cannot be had", async () => {
    const first = startSeatspread(folder, ["workbench", "scenarios/laminating-roller.yaml"]);
    const { port } = new URL(await urlOf(first.child));
    const second = seatspread(folder, ["workbench", "scenarios/laminating-roller.yaml", "--port", port]);
    expect(second.code).toBe(2);
    expect(second.stderr).toContain("expected a port that is free");
    first.child.kill("SIGTERM");
    expect((await first.ended).code).toBe(0);
  });

  it("refuses a bad scenario, a place that cannot be written and a port that is none", () => {
    expect(seatspread(folder, ["workbench", "scenarios/no-such.yaml"]).code).toBe(2);
    const unwritable = seatspread(folder, [
      "workbench",
      "scenarios/laminating-roller.yaml",
      "--save",
      "no/such/page.html",
    ]);
    expect(unwritable.code).toBe(2);
    expect(unwritable.stderr).toContain("--save: expected a file that can be written");
    expect(seatspread(folder, ["workbench", "scenarios/laminating-roller.yaml", "--port", "70000"]).code).toBe(2);
  });
});
