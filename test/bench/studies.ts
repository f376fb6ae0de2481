import { execFileSync } from "node:child_process";
import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { table } from "./compare.ts";

const PROGRAM = fileURLToPath(new URL("./seatspread.js", import.meta.url));
const SCENARIOS = fileURLToPath(new URL("../scenarios/", import.meta.url));

/** Whole commands at their default sample counts, start-up, tables and pages included, with the time each is to stay under, s. */
const STUDIES: readonly (readonly [name: string, limitS: number, args: readonly string[]])[] = [
  ["run", 3, ["run", "laminating-roller.yaml"]],
  ["centre", 2, ["centre", "laminating-roller.yaml"]],
  ["allocate, out of reach", 2, ["allocate", "laminating-roller.yaml", "--yield", "95%"]],
  ["allocate, reachable", 2, ["allocate", "feed-roller-tolerances.yaml", "--yield", "97%"]],
  ["contributors", 2, ["contributors", "laminating-roller.yaml"]],
  ["methods", 2, ["methods", "laminating-roller.yaml"]],
  ["shims", 2, ["shims", "laminating-roller.yaml"]],
  ["compare, one change", 2, ["compare", "laminating-roller.yaml", "--with", "C4: bearings.both.clearanceGroup=C4"]],
  ["batch", 2, ["batch", "laminating-roller.yaml"]],
  ["audit", 2, ["audit", "winder-roll-audit.yaml"]],
  ["fit", 2, ["fit", "measured/spacers.csv", "--column", "length"]],
  [
    "sweep 20 x 5",
    5,
    [
      "sweep",
      "laminating-roller.yaml",
      "--over",
      "states.hot.housing=60..140 degC/20",
      "--and",
      "seats.housing.material=aluminium-6061,aluminium-7075,grey-iron,ductile-iron,carbon-steel",
    ],
  ],
];

/** Times every study as a user runs it, best of `rounds`. */
export function measureStudies(rounds: number): void {
  const folder = mkdtempSync(join(tmpdir(), "seatspread-studies-"));
  const rows = [["study", "wall s", "to stay under"]];
  try {
    for (const [name, limitS, [command, file, ...rest]] of STUDIES) {
      let best = Number.POSITIVE_INFINITY;
      for (let round = 0; round < rounds; round += 1) {
        const start = performance.now();
        try {
          execFileSync(process.execPath, [PROGRAM, command, join(SCENARIOS, file), "--out", folder, ...rest], {
            stdio: "ignore",
          });
        } catch (error) {
          // 1 says that a yield is not reached; anything else is a fault.
          if ((error as { status?: number }).status !== 1) throw error;
        }
        best = Math.min(best, (performance.now() - start) / 1000);
      }
      rows.push([name, best.toFixed(2), `${limitS} s`]);
    }
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
  console.log(table(rows));
}
