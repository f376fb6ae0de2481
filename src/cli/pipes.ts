import { errorCode } from "./disk.ts";

/** Sees to it that what happens to stdout and stderr ends the program in good order, or does not end it at all. */
export function guardPipes(): void {
  process.stdout.on("error", (error) => {
    // Whoever read our output has seen enough.
    if (errorCode(error) === "EPIPE") process.exit(0);
    process.stderr.write(`seatspread: stdout: expected room for what is printed, got ${errorCode(error)}\n`);
    process.exit(2);
  });
  // With nobody to tell, there is nothing to say; the work goes on.
  process.stderr.on("error", () => {});
}
