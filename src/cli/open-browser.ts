import { spawn } from "node:child_process";

/** The desktop's own opener, as a command with its first arguments. */
const OPENERS: Readonly<Record<string, readonly [string, ...string[]]>> = {
  darwin: ["open"],
  win32: ["cmd", "/c", "start", ""],
};

/**
 * Hands an address to the desktop's browser. Nothing is said where there is none: the address stands on the terminal.
 *
 * @param url one that this program made itself: it goes to a command
 * @param opener for the tests; else what the platform has
 */
export function openBrowser(url: string, opener: readonly [string, ...string[]] = openerOf(process.platform)): void {
  const [command, ...args] = opener;
  try {
    const child = spawn(command, [...args, url], { stdio: "ignore", detached: true });
    child.on("error", () => {});
    child.unref();
  } catch {
    // Some platforms throw where others report.
  }
}

function openerOf(platform: string): readonly [string, ...string[]] {
  return OPENERS[platform] ?? ["xdg-open"];
}
