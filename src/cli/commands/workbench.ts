import { type Command, InvalidArgumentError } from "commander";
import { InputError } from "../../errors.ts";
import { errorCode, writeWhole } from "../disk.ts";
import { openBrowser } from "../open-browser.ts";
import { servePage } from "../serve.ts";
import { CAUTIONS } from "../texts.ts";
import { workbenchPage } from "../workbench-page.ts";

interface WorkbenchOptions {
  readonly save?: string;
  readonly port: number;
  readonly open: boolean;
}

/** `seatspread workbench`: the scenario on a page with controls, served to this machine alone or saved as a file. */
export function workbenchCommand(program: Command): void {
  program
    .command("workbench")
    .description("play with a scenario on a page: spacing, tolerances, clearance, fits, materials, temperatures")
    .argument("<scenario>", "scenario file (YAML or JSON)")
    .option("--save <page.html>", "write the page to a file, which opens without a server and without a network")
    .option("--port <number>", "port on the loopback; 0 takes any that is free", parsePort, 0)
    .option("--no-open", "only say where the page is; do not open a browser")
    .addHelpText(
      "after",
      `
The page runs the same engine in the browser: a whole run gives the same numbers as "seatspread run".
It is served on 127.0.0.1 only, until Ctrl-C or the end of the terminal, and asks the network for nothing.
On a terminal the desktop's browser is opened with it, where there is one.

Examples:
  seatspread workbench scenarios/laminating-roller.yaml
  seatspread workbench scenarios/laminating-roller.yaml --no-open --port 8080
  seatspread workbench scenarios/router-spindle.yaml --save spindle.html

${CAUTIONS}`,
    )
    .action(async (path: string, { save, port, open }: WorkbenchOptions) => {
      const page = workbenchPage(path);
      if (save !== undefined) savePage(save, page);
      else await serve(page, port, open && process.stdout.isTTY === true);
    });
}

function savePage(path: string, page: string): void {
  try {
    writeWhole(path, page);
  } catch (error) {
    throw new InputError({
      code: "file",
      path: "--save",
      expected: "a file that can be written",
      got: `${path} (${errorCode(error)})`,
    });
  }
  process.stdout.write(`Workbench: ${path}\n`);
}

/** Serves until the terminal says stop. */
async function serve(page: string, port: number, opens: boolean): Promise<void> {
  const server = await servePage(page, port).catch((error: unknown) => {
    throw new InputError({
      code: "usage",
      path: "--port",
      expected: "a port that is free",
      got: `${port} (${errorCode(error)})`,
    });
  });
  process.stdout.write(`Workbench: ${server.url}\n`);
  process.stderr.write("Open it in a browser on this machine; Ctrl-C ends it.\n");
  if (opens) openBrowser(server.url);
  const signals = ["SIGINT", "SIGTERM", "SIGHUP"] as const;
  await new Promise<void>((resolve) => {
    for (const signal of signals) process.once(signal, () => resolve());
  });
  await server.close();
}

function parsePort(text: string): number {
  const value = Number(text);
  if (!Number.isInteger(value) || value < 0 || value > 65_535) {
    throw new InvalidArgumentError("Expected a port from 0 to 65535.");
  }
  return value;
}
