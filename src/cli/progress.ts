/** Progress on stderr: one line that is rewritten, only on a terminal. */
export interface ProgressLine {
  update(done: number, total: number): void;
  clear(): void;
}

/** Says nothing. */
export const SILENT: ProgressLine = { update() {}, clear() {} };

/**
 * @param quiet says nothing whatever stderr is
 * @param from done before the time began to run
 */
export function createProgress(
  quiet: boolean,
  what: "samples" | "variants" | "cells" = "samples",
  from = 0,
): ProgressLine {
  if (quiet || !process.stderr.isTTY) return SILENT;
  const startMs = performance.now();
  let shownMs = Number.NEGATIVE_INFINITY;
  return {
    update(done, total) {
      const nowMs = performance.now();
      if (nowMs - shownMs < 100) return;
      shownMs = nowMs;
      const seconds = (nowMs - startMs) / 1000;
      const rate = Math.max(0, done - from) / seconds;
      const left = (total - done) / rate;
      const share = Math.floor((100 * done) / total);
      const speed = what === "samples" ? ` · ${(rate / 1e6).toFixed(2)} million a second` : "";
      const line = `${share} % of ${total} ${what}${speed} · ${duration(left)} left`;
      process.stderr.write(`\r\x1b[2K${line.slice(0, (process.stderr.columns ?? 80) - 1)}`);
    },
    clear() {
      process.stderr.write("\r\x1b[2K");
    },
  };
}

function duration(seconds: number): string {
  if (seconds < 60) return `${Math.ceil(seconds)} s`;
  if (seconds < 3600) return `${Math.floor(seconds / 60)} min ${Math.round(seconds % 60)} s`;
  return `${Math.floor(seconds / 3600)} h ${Math.round((seconds % 3600) / 60)} min`;
}
