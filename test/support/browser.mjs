import { existsSync } from "node:fs";
import { chromium } from "playwright-core";

/**
 * The Chromium that pages are looked at in, with nothing that asks for a network by itself.
 *
 * @returns {Promise<import("playwright-core").Browser>}
 */
export async function launchBrowser() {
  const executablePath = process.env.SEATSPREAD_CHROMIUM ?? "/usr/bin/chromium";
  if (!existsSync(executablePath)) {
    throw new Error(`no Chromium at ${executablePath}: install one, or name it in SEATSPREAD_CHROMIUM`);
  }
  return chromium.launch({
    executablePath,
    args: ["--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run", "--disable-background-networking"],
  });
}
