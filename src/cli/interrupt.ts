/** Exit code of a program stopped by Ctrl-C, by convention of shells: 128 + the number of the signal. */
const SIGNALS = { SIGINT: 130, SIGTERM: 143, SIGHUP: 129 } as const;

/**
 * Cleans up and leaves when the user interrupts or the terminal goes away.
 *
 * @param cleanUp must be quick and must not throw
 * @param outcome what the user is told of what is left
 * @returns takes the handlers off again
 */
export function onInterrupt(cleanUp: () => void, outcome = () => "nothing was written"): () => void {
  const handlers = Object.entries(SIGNALS).map(([signal, code]) => {
    const handler = () => {
      cleanUp();
      process.stderr.write(`seatspread: interrupted, ${outcome()}\n`);
      process.exit(code);
    };
    process.on(signal, handler);
    return { signal, handler };
  });
  return () => {
    for (const { signal, handler } of handlers) process.off(signal, handler);
  };
}
